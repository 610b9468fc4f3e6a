#pragma once
// Instruments that stay where they were put: the meter's leads, the clamp, the gauges, a
// thermometer. One of each at a time, all of them at once if need be. While somebody stands there,
// they read again at the end of each step and at what is heard: free, and an observation when the
// number has moved. Whoever walks away or puts the cover on takes leads, clamp and thermometer off;
// the gauges stay on their ports. An ohmmeter is taken off before anything is switched on. Taking a
// lead, the clamp or the thermometer off is a free step, and can be taken back until the clock has
// moved: nothing that could be seen has changed by then.
//
//   hook(site, act, seen);                 // after a step: its reading stays on
//   read_hooked(site, act.eyes, seen);     // end of a step: what has moved since
//   read_hooked_again(site, {"volts"}, seen);   // a suspect: the same, whatever it shows

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/session/site.h"

namespace legwork::session {

// Which instrument a step of that verb takes in hand.
enum class Instrument { meter, clamp, gauges, thermometer };
std::optional<Instrument> instrument_of(const Step& step);

// Which instrument that verb takes off: "red lead off" the meter.
std::optional<Instrument> taken_off_by(std::string_view verb);
// Does it hang?
bool is_hooked(const Site& site, Instrument instrument);

// Takes the reading of a step at this instant, with its own random number.
std::vector<Observation> read_now(Site& site, const Step& step);
// The same with random numbers of its own, so that what reads by itself moves nobody else's digit.
std::vector<Observation> read_apart(Site& site, const Step& step);
// The same value alone, quick; a reading of two gauges: suction, or discharge.
double value_now(const Site& site, const Step& step, bool discharge = false);
// Has the number moved so far that somebody would say so?
bool has_moved(const Observation& before, const Observation& now);
// By so much a reading of that key has to move, SI.
double moves_by(const Observation& reading);

void hook(Site& site, const Act& act, const Seen& seen);
void unhook(Site& site, Instrument instrument);
void read_hooked(Site& site, const Act& act, Seen& seen);
// At a tick on the way, at which something was heard.
void read_hooked_on_the_way(Site& site, const Act& act, Seen& seen);
void read_hooked_again(Site& site, const std::vector<std::string>& lines, Seen& seen);
// Lines of the hooked steps that were told at the end.
std::vector<std::string> hooked_told(const Site& site, const Seen& seen);

}  // namespace legwork::session
