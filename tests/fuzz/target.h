#pragma once
// What every fuzz target shares: bytes as text, and what must hold of whatever is said about them.

#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <memory>
#include <string>
#include <string_view>

#include "engine/base/diagnostics.h"
#include "engine/base/plain_text.h"
#include "engine/fault/scenario.h"
#include "engine/session/attempt.h"
#include "engine/unit/unit.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace legwork::fuzz {

inline const std::string kHome = LEGWORK_SOURCE_DIR;

inline std::string_view text_of(const std::uint8_t* data, std::size_t size) {
  return {reinterpret_cast<const char*>(data), size};
}

inline void must(bool holds, const char* what) {
  if (holds) return;
  std::fprintf(stderr, "broken promise: %s\n", what);
  std::abort();
}

// Refused with something to read, bounded, that steers no terminal.
inline void must_be_said(const Diagnostics& found, bool good) {
  const std::string text = found.text();
  must(good || found.has_errors(), "what is refused is refused with an error");
  must(good || !text.empty(), "an error is said");
  must(first_control(text) == text.npos, "no control characters in what is said");
  must(text.size() < 1000000, "what is said is bounded");
}

inline unit::UnitPtr shipped(const char* id) {
  Diagnostics found;
  auto unit = unit::load_file(kHome + "/circuits/" + id + ".yaml", kHome + "/assets", found);
  must(unit.has_value(), "the shipped unit loads");
  return std::make_shared<const unit::Unit>(std::move(*unit));
}

// A machine as it stands new, somebody in front of it: copied for every input.
inline session::Attempt somebody_at(const unit::UnitPtr& unit) {
  auto scenario = std::make_shared<fault::Scenario>();
  scenario->id = "bench";
  scenario->unit = unit->id;
  return *session::begin_in(sim::World(unit, {}, {}), scenario, 1);
}

}  // namespace legwork::fuzz
