#include "gui/sound.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <span>

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
    if (t > dies * 12) break;
    double sum = noise.next() * std::exp(-t / (dies / 6));
    for (const double tone : tones) sum += std::sin(kTurn * tone * t) * std::exp(-t / dies) / 2;
    samples[i] += loud * sum;
  }
}

constexpr std::array kIn = {410.0, 1130.0, 2270.0};
constexpr std::array kOut = {330.0, 890.0};
constexpr std::array kLight = {1900.0, 3300.0};

Samples contactor_in() {
  Samples samples = silence(0.25);
  strike(samples, 0, 0.45, 0.03, kIn);
  strike(samples, 0.012, 0.25, 0.03, kIn);  // the armature bounces once
  return samples;
}

Samples contactor_out() {
  Samples samples = silence(0.2);
  strike(samples, 0, 0.3, 0.025, kOut);
  return samples;
}

// Eight times in and out in a second.
Samples chatter() {
  Samples samples = silence(1.2);
  for (int i = 0; i < 16; ++i)
    strike(samples, i / 16.0, i % 2 == 0 ? 0.35 : 0.22, 0.02,
           i % 2 == 0 ? std::span<const double>(kIn) : std::span<const double>(kOut));
  return samples;
}

Samples trip() {
  Samples samples = silence(0.12);
  strike(samples, 0, 0.35, 0.01, kLight);
  strike(samples, 0.02, 0.2, 0.01, kOut);
  return samples;
}

Samples reset() {
  Samples samples = silence(0.08);
  strike(samples, 0, 0.25, 0.008, kLight);
  return samples;
}

// Gas through a small opening: noise without its lows, and its pressure falls.
Samples relief() {
  Samples samples = silence(1.6);
  Noise noise;
  double low = 0;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const double t = time_of(i), hiss = noise.next();
    low += 0.25 * (hiss - low);
    samples[i] = 0.5 * (hiss - low) * std::min(1.0, t / 0.02) * std::exp(-t / 0.35);
  }
  return samples;
}

// A crack, and the mains in the air after it.
Samples arc(const Sound& sound) {
  Samples samples = silence(0.5);
  Noise noise;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const double t = time_of(i);
    const double mains = std::abs(std::sin(kTurn * sound.mains_hz * t));
    samples[i] = noise.next() * (0.7 * std::exp(-t / 0.015) + 0.4 * mains * std::exp(-t / 0.05));
  }
  return samples;
}

// Three beeps.
Samples alarm() {
  Samples samples = silence(1.0);
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const double t = time_of(i), in = std::fmod(t, 0.3);
    const double gate = t < 0.9 && in < 0.16 ? std::min({1.0, in / 0.005, (0.16 - in) / 0.005}) : 0;
    samples[i] = 0.25 * gate * (std::sin(kTurn * 2700 * t) + 0.3 * std::sin(kTurn * 5400 * t));
  }
  return samples;
}

double hum_at(const Sound& sound, double t, double loud) {
  const double f = 2.0 * sound.mains_hz;
  return loud * (std::sin(kTurn * f * t) + 0.35 * std::sin(kTurn * 2 * f * t) +
                 0.15 * std::sin(kTurn * 3 * f * t));
}

// A fan of an ordinary condensing unit or cooler: its level at its usual 18 turns a second.
constexpr double kUsualTurns = 18;
double fan_level(double turns) { return std::min(2.0, std::pow(turns / kUsualTurns, 2.5)); }
constexpr int kBlades = 3;

// Air that sounds the same from one second to the next: the second round starts where the first
// one ends.
Samples air_of_a_second() {
  Samples air = silence(1);
  Noise noise;
  double soft = 0;
  for (int round = 0; round < 2; ++round) {
    for (double& s : air) s = soft += 0.08 * (noise.next() - soft);
    noise = Noise();
  }
  return air;
}

Samples fan(const Sound& sound) {
  Samples samples = air_of_a_second();
  const double level = fan_level(sound.turns);
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const double t = time_of(i);
    samples[i] = level * (0.42 * samples[i] + 0.10 * std::sin(kTurn * kBlades * sound.turns * t)) +
                 hum_at(sound, t, 0.025);
  }
  return samples;
}

// A reciprocating compressor of two cylinders: two strokes a turn, deeper under load; its motor
// hums along with it.
double compressor_at(const Sound& sound, double turned, double t, double strength) {
  const double load = std::clamp(sound.load, 0, 150) / 100.0;
  const double growl = strength * (0.05 + 0.16 * load);
  return growl * (std::sin(kTurn * 2 * turned) + 0.5 * std::sin(kTurn * 4 * turned) +
                  0.25 * std::sin(kTurn * 6 * turned) + 0.3 * std::sin(kTurn * turned)) +
         hum_at(sound, t, strength * (0.02 + 0.04 * load));
}

Samples compressor(const Sound& sound) {
  Samples samples = silence(1);
  for (std::size_t i = 0; i < samples.size(); ++i)
    samples[i] = compressor_at(sound, sound.turns * time_of(i), time_of(i), 1);
  return samples;
}

// From standing to full speed, or back: speed and loudness grow together.
Samples running(const Sound& sound, bool up) {
  Samples samples = silence(1.2);
  const double whole = time_of(samples.size());
  Noise noise;
  double soft = 0, turned = 0;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const double t = time_of(i), gone = t / whole;
    const double speed = up ? gone : (1 - gone) * (1 - gone);
    turned += speed * sound.turns / kSampleRate;
    soft += 0.08 * (noise.next() - soft);
    const double edge = std::min({1.0, t / 0.01, (whole - t) / 0.25});
    const double pull = up ? 0.06 * (1 - gone) : 0;  // a start draws several times the current
    samples[i] = edge * (speed * speed * 0.4 * soft + compressor_at(sound, turned, t, 0.6 * speed) +
                         hum_at(sound, t, pull));
  }
  return samples;
}

Samples made(const Sound& sound) {
  switch (sound.voice) {
    case Voice::contactor_in:
      return contactor_in();
    case Voice::contactor_out:
      return contactor_out();
    case Voice::chatter:
      return chatter();
    case Voice::trip:
      return trip();
    case Voice::reset:
      return reset();
    case Voice::relief:
      return relief();
    case Voice::arc:
      return arc(sound);
    case Voice::alarm:
      return alarm();
    case Voice::run_up:
      return running(sound, true);
    case Voice::run_down:
      return running(sound, false);
    case Voice::fan:
      return fan(sound);
    case Voice::compressor:
      return compressor(sound);
    case Voice::hum:
    case Voice::count:
      break;
  }
  Samples samples = silence(1);
  for (std::size_t i = 0; i < samples.size(); ++i) samples[i] = hum_at(sound, time_of(i), 0.2);
  return samples;
}

}  // namespace

std::vector<std::int16_t> samples_of(const Sound& sound) {
  const Samples samples = made(sound);
  std::vector<std::int16_t> whole(samples.size());
  std::transform(samples.begin(), samples.end(), whole.begin(), [](double s) {
    return static_cast<std::int16_t>(std::lround(std::clamp(s, -1.0, 1.0) * 30000));
  });
  return whole;
}

}  // namespace legwork::gui
