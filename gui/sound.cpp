#include "gui/sound.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace legwork::gui {
namespace {

using Samples = std::vector<double>;
constexpr double kTurn = 6.283185307179586;

Samples silence(double seconds) {
  return Samples(static_cast<std::size_t>(seconds * kSampleRate), 0.0);
}

double time_of(std::size_t i) { return static_cast<double>(i) / kSampleRate; }

// Noise that is the same every time: a linear congruential step, -1 to 1.
class Noise {
 public:
  double next() {
    state_ = state_ * 1664525U + 1013904223U;
    return static_cast<double>(state_ >> 8) / 8388608.0 - 1.0;
  }

 private:
  std::uint32_t state_ = 12345;
};

// A struck piece of metal: a few tones that die away, and a burst of noise at the blow.
void strike(Samples& samples, double at, double loud, double dies, std::span<const double> tones) {
  Noise noise;
  for (std::size_t i = static_cast<std::size_t>(at * kSampleRate); i < samples.size(); ++i) {
    const double t = time_of(i) - at;
    double sum = noise.next() * std::exp(-t / (dies / 6));
    for (const double tone : tones) sum += std::sin(kTurn * tone * t) * std::exp(-t / dies) / 2;
    samples[i] += loud * sum;
  }
}

std::vector<std::int16_t> finished(const Samples& samples) {
  std::vector<std::int16_t> whole(samples.size());
  std::transform(samples.begin(), samples.end(), whole.begin(), [](double s) {
    return static_cast<std::int16_t>(std::lround(std::clamp(s, -1.0, 1.0) * 30000));
  });
  return whole;
}

std::vector<std::int16_t> contactor_in() {
  static constexpr std::array kTones = {410.0, 1130.0, 2270.0};
  Samples samples = silence(0.25);
  strike(samples, 0, 0.45, 0.03, kTones);
  strike(samples, 0.012, 0.25, 0.03, kTones);  // the armature bounces once
  return finished(samples);
}

std::vector<std::int16_t> contactor_out() {
  static constexpr std::array kTones = {330.0, 890.0};
  Samples samples = silence(0.2);
  strike(samples, 0, 0.3, 0.025, kTones);
  return finished(samples);
}

std::vector<std::int16_t> solenoid() {
  static constexpr std::array kTones = {1900.0, 3300.0};
  Samples samples = silence(0.08);
  strike(samples, 0, 0.25, 0.008, kTones);
  return finished(samples);
}

// Hums last a whole second and hold whole numbers of turns, so that they join end to end.
std::vector<std::int16_t> fans() {
  Samples samples = silence(1);
  Samples air = silence(1);
  Noise noise;
  double soft = 0;
  for (int round = 0; round < 2; ++round) {  // the second round starts where the first one ends
    for (double& s : air) s = soft += 0.08 * (noise.next() - soft);
    noise = Noise();
  }
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const double t = time_of(i);
    samples[i] = 0.5 * air[i] + 0.05 * std::sin(kTurn * 120 * t) + 0.03 * std::sin(kTurn * 72 * t);
  }
  return finished(samples);
}

std::vector<std::int16_t> compressor() {
  Samples samples = silence(1);
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const double t = time_of(i);
    const double beat = 0.7 + 0.3 * std::sin(kTurn * 29 * t);  // 1,740 turns a minute
    samples[i] = beat * (0.12 * std::sin(kTurn * 58 * t) + 0.08 * std::sin(kTurn * 120 * t) +
                         0.05 * std::sin(kTurn * 174 * t));
  }
  return finished(samples);
}

constexpr std::array<SoundKind, 5> kKinds = {{{"contactor in", false, contactor_in},
                                              {"contactor out", false, contactor_out},
                                              {"solenoid", false, solenoid},
                                              {"fans", true, fans},
                                              {"compressor", true, compressor}}};

}  // namespace

std::span<const SoundKind> sound_kinds() { return kKinds; }

const SoundKind* find_sound(std::string_view name) {
  const auto found = std::find_if(kKinds.begin(), kKinds.end(),
                                  [&](const SoundKind& kind) { return kind.name == name; });
  return found == kKinds.end() ? nullptr : &*found;
}

}  // namespace legwork::gui
