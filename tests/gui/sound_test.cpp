// Test sound.cpp: sounds as data, by level, length and spectrum.

#include "gui/sound.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace legwork::gui {
namespace {

using Samples = std::vector<std::int16_t>;

std::vector<Sound> all_sounds() {
  std::vector<Sound> list;
  for (int voice = 0; voice < static_cast<int>(Voice::count); ++voice) {
    for (const int mains : {50, 60}) {
      for (const int turns : {5, 18, 29, 58}) {
        for (const int load : {0, 50, 100, 150})
          list.push_back({static_cast<Voice>(voice), mains, turns, load});
      }
    }
  }
  return list;
}

std::string name_of(const Sound& sound) {
  return "voice " + std::to_string(static_cast<int>(sound.voice)) + ", " +
         std::to_string(sound.mains_hz) + " Hz, " + std::to_string(sound.turns) + " turns, load " +
         std::to_string(sound.load);
}

int loudest(const Samples& samples) {
  int most = 0;
  for (const std::int16_t s : samples) most = std::max(most, std::abs(static_cast<int>(s)));
  return most;
}

double level(const Samples& samples, double from = 0, double to = 1) {
  const auto count = static_cast<double>(samples.size());
  double sum = 0, n = 0;
  for (auto i = static_cast<std::size_t>(from * count); i < static_cast<std::size_t>(to * count);
       ++i, ++n)
    sum += static_cast<double>(samples[i]) * samples[i];
  return std::sqrt(sum / std::max(1.0, n));
}

// How much of a frequency is in it: the amplitude of that line.
double line(const Samples& samples, double hz) {
  double a = 0, b = 0;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const double angle = 6.283185307179586 * hz * static_cast<double>(i) / kSampleRate;
    a += samples[i] * std::cos(angle);
    b += samples[i] * std::sin(angle);
  }
  return 2 * std::hypot(a, b) / static_cast<double>(samples.size());
}

TEST(Sounds, AreHeardDoNotClipAndAreTheSameEveryTime) {
  for (const Sound& sound : all_sounds()) {
    const Samples samples = samples_of(sound);
    if (!(sound.voice == Voice::fan && sound.turns < 10)) {
      EXPECT_GT(loudest(samples), 1500) << name_of(sound);
    }
    EXPECT_LT(loudest(samples), 30000) << name_of(sound) << " clips";
    EXPECT_EQ(samples, samples_of(sound)) << name_of(sound);
    const double seconds = static_cast<double>(samples.size()) / kSampleRate;
    EXPECT_GT(seconds, 0.05) << name_of(sound);
    EXPECT_LT(seconds, 2) << name_of(sound);
  }
}

TEST(Sounds, WhatIsHeardOnceDiesAway) {
  for (const Sound& sound : all_sounds()) {
    if (lasts(sound.voice)) continue;
    const Samples samples = samples_of(sound);
    EXPECT_LT(level(samples, 0.98, 1) * 5, loudest(samples)) << name_of(sound);
  }
}

// What lasts must not click where its second joins the next: the step over the seam is no larger
// than those within.
TEST(Sounds, WhatLastsHasNoSeam) {
  for (const Sound& sound : all_sounds()) {
    if (!lasts(sound.voice)) continue;
    const Samples samples = samples_of(sound);
    EXPECT_EQ(samples.size(), static_cast<std::size_t>(kSampleRate)) << name_of(sound);
    int largest = 0;
    for (std::size_t i = 1; i < samples.size(); ++i)
      largest = std::max(largest, std::abs(samples[i] - samples[i - 1]));
    EXPECT_LE(std::abs(samples.front() - samples.back()), largest) << name_of(sound);
  }
}

TEST(Sounds, AHumIsAtTwiceTheMains) {
  for (const int mains : {50, 60}) {
    const Samples hum = samples_of({Voice::hum, mains});
    EXPECT_GT(line(hum, 2 * mains), 3000);
    EXPECT_LT(line(hum, mains) * 100, line(hum, 2 * mains));
    EXPECT_GT(line(hum, 2 * mains), line(hum, 4 * mains));
    EXPECT_GT(line(hum, 4 * mains), line(hum, 6 * mains));
    const int other = 110 - mains;  // of the other mains
    EXPECT_LT(line(hum, 2 * other) * 100, line(hum, 2 * mains));
  }
}

TEST(Sounds, AFanSoundsByItsSpeed) {
  double before = 0;
  for (const int turns : {5, 9, 14, 18, 25}) {
    const Samples fan = samples_of({Voice::fan, 60, turns});
    EXPECT_GT(level(fan), before) << turns;
    before = level(fan);
    // Its blades pass three times a turn.
    if (turns > 8) {
      EXPECT_GT(line(fan, 3 * turns), 4 * line(fan, 3 * turns + 7)) << turns;
    }
  }
  // 50 log10 of the speed: twice as fast is 15 dB more, a factor of 5.66 in the line of the blades.
  const double slow = line(samples_of({Voice::fan, 60, 9}), 27),
               fast = line(samples_of({Voice::fan, 60, 18}), 54);
  EXPECT_NEAR(fast / slow, 5.66, 0.6);
}

TEST(Sounds, ACompressorSoundsByItsSpeedAndLoad) {
  for (const int turns : {24, 29, 58}) {
    double before = 0;
    for (const int load : {0, 50, 100, 150}) {
      const Samples it = samples_of({Voice::compressor, 60, turns, load});
      EXPECT_GT(level(it), before) << turns << ' ' << load;
      before = level(it);
      EXPECT_GT(line(it, 2 * turns), line(it, 2 * turns + 9) * 50) << turns << ' ' << load;
      EXPECT_GT(line(it, 120), 200) << "its motor hums";
    }
  }
}

TEST(Sounds, AMotorRunsUpAndDown) {
  const Samples up = samples_of({Voice::run_up, 60, 29, 50}),
                down = samples_of({Voice::run_down, 60, 29, 50});
  EXPECT_GT(level(up, 0.55, 0.75), level(up, 0.1, 0.3));
  EXPECT_LT(level(down, 0.6, 0.9) * 2, level(down, 0.1, 0.3));
}

// Sixteen blows in a second, each louder than what is left of the one before.
TEST(Sounds, ChatterIsBlowAfterBlow) {
  const Samples it = samples_of({Voice::chatter});
  int blows = 0;
  constexpr int kStep = kSampleRate / 64;
  double before = 0;
  for (std::size_t at = 0; at + kStep < it.size(); at += kStep) {
    const double now = level(Samples(it.begin() + static_cast<std::ptrdiff_t>(at),
                                     it.begin() + static_cast<std::ptrdiff_t>(at + kStep)));
    if (now > 2 * before && now > 400) ++blows;
    before = now;
  }
  EXPECT_NEAR(blows, 16, 1);
}

TEST(Sounds, ReliefHissesAndAnAlarmBeeps) {
  const Samples hiss = samples_of({Voice::relief});
  double low = 0, high = 0;
  for (int hz = 50; hz < 500; hz += 50) low += line(hiss, hz);
  for (int hz = 6050; hz < 6500; hz += 50) high += line(hiss, hz);
  EXPECT_GT(high, 2 * low) << "gas hisses, it does not rumble";
  const Samples beep = samples_of({Voice::alarm});
  EXPECT_GT(line(beep, 2700), 20 * line(beep, 2000));
}

// No two sounds are the same.
TEST(Sounds, AreToldApart) {
  std::vector<Samples> seen;
  for (int voice = 0; voice < static_cast<int>(Voice::count); ++voice) {
    Samples samples = samples_of({static_cast<Voice>(voice), 60, 29, 50});
    EXPECT_EQ(std::find(seen.begin(), seen.end(), samples), seen.end()) << voice;
    seen.push_back(std::move(samples));
  }
}

}  // namespace
}  // namespace legwork::gui
