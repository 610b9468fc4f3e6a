#pragma once
// The sounds of the machine, computed: a contactor's clack, its chatter, the hum of a coil or of a
// motor that does not start, fans and compressors by their speed and load, a relief that blows, an
// alarm. Plain functions from a Sound to samples; who plays them is the bridge's business, and
// which of them are heard is decided by what was observed (screens/on_site_sounds.cpp).
//
//   state.sounds.push_back({{Voice::contactor_in}, 0});                  // once
//   state.hums = {{.voice = Voice::compressor, .turns = 29, .load = 70}};  // while it stands there
//
// A coil and a motor pull with the square of the flux, so they hum at twice the frequency of the
// mains: 120 Hz at 60 Hz, 100 Hz at 50 Hz (electrical machines, any textbook). The level of a fan
// grows with 50 log10 of its speed (fan laws; from memory). The rest is common practice, no source.

#include <compare>
#include <cstdint>
#include <vector>

namespace legwork::gui {

inline constexpr int kSampleRate = 22050;  // a second

enum class Voice {
  contactor_in,
  contactor_out,
  chatter,   // a contactor that comes and goes several times a second
  trip,      // of an overload, a breaker
  reset,     // a button, a dial, a handle
  relief,    // gas under pressure blows off
  arc,       // current through air, or through somebody
  alarm,     // the buzzer of a control
  run_up,    // of a motor, from standing to `turns`
  run_down,  // and back
  hum,       // these three last: a second that joins end to end
  fan,
  compressor,
  count
};

struct Sound {
  Voice voice = Voice::contactor_in;
  int mains_hz = 60;
  int turns = 0;  // of the shaft, a second; whole, so that a second joins
  int load = 50;  // of a motor, percent of its rated load
  auto operator<=>(const Sound&) const = default;
};

// A sound that begins some time after the frame that asks for it.
struct Cue {
  Sound sound;
  int after_ms = 0;
  auto operator<=>(const Cue&) const = default;
};

constexpr bool lasts(Voice voice) {
  return voice == Voice::hum || voice == Voice::fan || voice == Voice::compressor;
}

// One channel, kSampleRate a second. The same bits for the same sound.
std::vector<std::int16_t> samples_of(const Sound& sound);

}  // namespace legwork::gui
