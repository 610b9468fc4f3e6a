// Test sound.cpp.

#include "gui/sound.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>

namespace legwork::gui {
namespace {

int loudest(const std::vector<std::int16_t>& samples) {
  int most = 0;
  for (const std::int16_t s : samples) most = std::max(most, std::abs(static_cast<int>(s)));
  return most;
}

TEST(Sounds, AreHeardAndDoNotClip) {
  for (const SoundKind& kind : sound_kinds()) {
    const auto samples = kind.make();
    EXPECT_GT(loudest(samples), 1500) << kind.name;
    EXPECT_LT(loudest(samples), 30000) << kind.name << " clips";
    EXPECT_EQ(samples, kind.make()) << kind.name;
    EXPECT_EQ(find_sound(kind.name), &kind);
  }
  EXPECT_EQ(find_sound("applause"), nullptr);
}

TEST(Sounds, ABlowDiesAway) {
  for (const SoundKind& kind : sound_kinds()) {
    if (kind.hum) continue;
    auto samples = kind.make();
    const std::vector<std::int16_t> tail(samples.end() - static_cast<int>(samples.size() / 10),
                                         samples.end());
    EXPECT_LT(loudest(tail) * 20, loudest(samples)) << kind.name;
  }
}

// A hum played end to end must not click: the step over the seam is no larger than those within.
TEST(Sounds, AHumHasNoSeam) {
  for (const SoundKind& kind : sound_kinds()) {
    if (!kind.hum) continue;
    const auto samples = kind.make();
    EXPECT_EQ(samples.size(), static_cast<std::size_t>(kSampleRate)) << kind.name;
    int largest = 0;
    for (std::size_t i = 1; i < samples.size(); ++i) {
      largest = std::max(largest, std::abs(samples[i] - samples[i - 1]));
    }
    EXPECT_LE(std::abs(samples.front() - samples.back()), largest) << kind.name;
  }
}

}  // namespace
}  // namespace legwork::gui
