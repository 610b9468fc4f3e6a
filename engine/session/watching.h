#pragma once
// Watching an instrument: it is put on, and then read at every tick while one stands there. Lowest,
// highest, first and last are observations of the step; each time the number moves is one on the
// way, with what was heard then beside it. What lasts for six seconds is caught.
//
//   watch volts CM.C CM.R 5 min
//   watch gauges until change
//   watch temp suction line for 10 min
//
// Any function that stays on (hooked.h). "Until change" ends two seconds after the number moved or
// something was heard, ten minutes at most; without a span or "until change" it is that.

#include <optional>
#include <string>

#include "engine/base/result.h"
#include "engine/session/site.h"

namespace legwork::session {

class Hearing;

struct Watch {
  Step reading;  // "volts CM.C CM.R"
  bool until_change = true;
  double minutes = 0;  // of watching; until change: at most
};

inline constexpr double kLongestWatchMinutes = 60;

// Of a step's only argument.
Result<Watch> watch_of(const std::string& words);
std::string text(const Watch& watch);  // the argument: "volts CM.C CM.R 5 min"
// The reading that a step takes: its own, or the watched one.
Step reading_of(const Step& step);
std::int64_t landing_ticks(const Step& reading);  // until the instrument is on

// `hearing` may be null.
Seen watch(Site& site, const Act& act, Hearing* hearing);
// How long "until change" is, landing and all.
std::int64_t ticks_until_moved(const Site& site, const std::string& place, const Watch& watch);

}  // namespace legwork::session
