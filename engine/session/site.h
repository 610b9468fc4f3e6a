#pragma once
// The site: the physical side of a call. A World, the instruments hooked to it, and what hands have
// changed. It holds no bookkeeping about the trainee (where they stand, whose lock, what it cost),
// so a suspect is just another Site given the same Acts.
//
//   Site site{sim::World(...)};                                            // on arrival
//   Seen seen = act(site, {{"volts", {"CC.A1", "CC.A2"}}, 480, "roof"});   // two minutes on: a
//   reading
//
// Time: an act lasts whole ticks. A reading or a look is the one at its last tick. What changes the
// machine does so kActsBeforeEnd ticks before the end, so that what it sets off at once is seen.

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "engine/meter/gauges.h"
#include "engine/meter/meter.h"
#include "engine/session/seen.h"
#include "engine/session/step.h"
#include "engine/sim/world.h"

namespace legwork::session {

class Hearing;

inline constexpr std::int64_t kActsBeforeEnd = 8;  // 2 s
// Between two points that a lead or a hand meets (common practice: below it nobody speaks of live).
inline constexpr double kLiveVolts = 30.0;
// How often the senses err, of the rate that is believed of them: who judges has to allow for more
// than there is, or a call with many looks strikes the truth.
inline constexpr double kSensesErr = 1.0 / 3;

// From where one sees. An empty place sees nothing.
struct Eyes {
  std::string place;
  bool cover_off = false;  // of that place
};

// A step that was allowed, with what it cost. The sequence of these is all that a suspect is given.
struct Act {
  Step step;
  std::int64_t ticks = 0;
  std::string place;  // where the trainee stood: what can be heard
  Eyes eyes{};        // where they stand at its end: what can be seen at a glance
  // What was told besides: glances (of unit.glances), and instruments that hang there, by the line
  // of their step. A suspect shows the same.
  std::vector<int> glanced{};
  std::vector<std::string> read_again{};
};

// An instrument that stays where a step put it (hooked.h).
struct Hooked {
  Step step;  // "volts CC.A1 CC.A2", "gauges"
  std::string place;
  std::vector<Observation> last;          // at the end of a step, since it last moved
  std::vector<Observation> on_the_way{};  // within a step
};

struct Site {
  sim::World world;
  meter::Gauges gauges;
  std::string pushed;  // contactor held in by hand; "" = none
  // Of the instruments' last digits. 0 with `senses_err` false: a suspect, whose readings are
  // exact.
  std::uint64_t seed = 0;
  std::uint64_t readings = 0;
  bool senses_err = false;  // looks are mistaken, see kSensesErr
  struct Glanced {
    int state = -1;         // -1: not yet
    double display_k = -1;  // what a display showed
  };
  std::vector<Glanced> glanced{};   // by unit.glances
  std::vector<Hooked> hooked{};     // instruments that stay on
  std::vector<Hooked> taken_off{};  // by the last "leads off" or such, until something else is done
  std::int64_t taken_off_tick = -1;
  std::string peak_on{};  // wire round which the clamp holds the highest amps; "" = none
  // Parts that were replaced: the old one lies in the hand, as it was. Copies share it.
  struct Removed {
    std::string part;
    std::shared_ptr<const sim::World> world;  // the machine it came from, its wires off
  };
  std::vector<Removed> removed{};
};

// Advances the world by the act's ticks and returns what is seen. The step's names must be those of
// the unit (submit() sees to it); a name that is not there is our own bug.
Seen act(Site& site, const Act& act);
// The same without listening, where nobody stands by: faster, and nothing happened that is told.
Seen act_unheard(Site& site, const Act& act);

// Moves the site on; `hearing` may be null.
void run_site(Site& site, std::int64_t ticks, Hearing* hearing);

// Ticks until the first happening that can be heard or seen from `place`, at most `limit`. Works on
// a copy; the site stands still.
std::int64_t ticks_until_change(const Site& site, const std::string& place, std::int64_t limit);

// Integers of all that could be seen, for the shift log.
std::uint64_t fingerprint(const Site& site);

// --- one look or reading at this instant (used by the verbs) ---
Observation take_reading(Site& site, std::string_view verb, meter::Function function,
                         const std::string& red, const std::string& black);
Observation take_clamp(Site& site, std::string_view verb, meter::Function function,
                       const std::string& wires);
void take_gauges(Site& site, Seen& seen);
Observation take_temperature(Site& site, const std::string& probe, bool infrared);
// A fuse that was pulled is measured in the hand: both leads on its ends, nothing beside it.
bool is_in_hand(const Site& site, circuit::TerminalId a, circuit::TerminalId b);
// A part is replaced: before the new one is in, the old one goes into the hand, if it has
// terminals.
void keep_old_part(Site& site, const std::string& part);
// The old part of that terminal, if it is in the hand; null: it is not.
const Site::Removed* old_part(const Site& site, circuit::TerminalId terminal);
// Of the old part, by ohms or microfarads: nothing lies parallel to it. Key: "in hand ohms HPC.1
// HPC.2".
Observation take_old_reading(Site& site, std::string_view verb, meter::Function function,
                             const std::string& red, const std::string& black);
// Every look of that sense, target and need.
void take_looks(Site& site, unit::Sense sense, const std::string& target, const std::string& needs,
                Seen& seen);

// --- the state, for the hazards; not for a trainee's eyes ---
double volts_between(const Site& site, circuit::TerminalId a, circuit::TerminalId b);
double volts_to_earth(const Site& site, circuit::TerminalId terminal);
double charge_on(const Site& site, circuit::DeviceId device);  // largest DC volts on its capacitors
double charge_between(const Site& site, circuit::TerminalId a, circuit::TerminalId b);
double head_psig(const Site& site);
bool handle_is_open(const Site& site, circuit::DeviceId device);  // or a fuse pulled
bool fuse_is_blown(const Site& site, circuit::DeviceId device);   // false: it is no fuse
bool wire_is_lifted(const Site& site, circuit::WireId wire);

}  // namespace legwork::session
