#pragma once
// The sounds of the machine, computed: a contactor's clack, a solenoid's tick, fans and a
// compressor running. Plain functions from a name to samples; who plays them is the bridge's
// business.
//
//   state.sounds.push_back("contactor in");     // once
//   state.hums = {"fans", "compressor"};        // for as long as they stand there

#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

namespace legwork::gui {

inline constexpr int kSampleRate = 22050;

struct SoundKind {
  std::string_view name;
  bool hum;  // repeats without a seam
  std::vector<std::int16_t> (*make)();
};

std::span<const SoundKind> sound_kinds();
const SoundKind* find_sound(std::string_view name);  // nullptr if there is none

}  // namespace legwork::gui
