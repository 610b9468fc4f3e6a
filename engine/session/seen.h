#pragma once
// What a step brings back: readings, looks and what was heard on the way. It is all that the
// trainee learns, so it is also all that the suspects are judged by: the same Step given to another
// world answers with the same keys and other values.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/message.h"

namespace legwork::session {

// What a meter shows where it can show no number.
enum class NotRead { read, live, charged, not_isolated };

// Who made an observation: the step itself, or one that costs nothing beside it. A glance sees what
// stands open to the eye; a lead left on reads again.
enum class Source { step, glance, live_lead };

// One value, read at the last tick of its step.
struct Observation {
  std::string key;  // function and where: "volts CC.A1 CC.A2", "gauges suction", "look condenser"
  double value =
      0;  // SI, before the instrument rounds it: V, A, ohm, F, Pa gauge, K; a look: its state
  int state = -1;     // a look: index of its state as seen; -1 for a measurement
  int states = 0;     // a look: how many states it has
  Message words;      // a look: its state in words
  double number = 0;  // as the display shows it, in its unit; 0 for a look
  int decimals = 0;   // of that number
  std::string unit;   // of the display: "V", "kΩ", "psig", "°F"; "" for a look
  NotRead not_read = NotRead::read;
  bool over_range = false;
  double resolution = 0;  // SI, one digit of the display on the range used; 0 for a look
  double accuracy = 0;    // SI, the instrument's limit of error at this value
  double error_rate = 0;  // a look: chance that the senses mistake a neighbouring state
  Source source = Source::step;
  std::int64_t tick = 0;  // since the arrival, of one made on the way; 0: at the end of its step
};
// "204.6 V", "OVER", "LIVE", "386 psig" or "26.6 bar"; a look: its words.
Message shown(const Observation& observation);

// What happens by itself and can be heard or seen from where the trainee stands.
enum class Happens {
  pulls_in,
  drops_out,
  trips,
  goes_to_defrost,
  goes_to_cooling,
  starts,
  stops,
  hums,
  stops_humming,
};
std::string_view name_of(Happens what);  // as the log spells it: "pulls in"
std::optional<Happens> happens_of(std::string_view name);

struct Happening {
  std::int64_t tick = 0;  // of the world
  Happens what = Happens::pulls_in;
  std::string device;  // "CC"
};
Message sentence(const Happening& happening);  // "CC pulls in"

struct Seen {
  std::vector<Observation> observations;  // order of the step's own row
  std::vector<Happening> happenings;      // by tick
  std::vector<Message> said;              // answers of people, remarks on the work done
  // Did the step itself show anything?
  bool reads() const {
    for (const Observation& o : observations) {
      if (o.source == Source::step) return true;
    }
    return false;
  }
};

// A wrong or dangerous way of working, found from the state of the machine at that moment.
enum class Harm { slip, caution, serious, ends_the_call };

struct Hazard {
  std::string id;  // row of the table of hazards (hazards.h): "ohms live"
  Harm harm = Harm::caution;
  Message why;  // a plain sentence, with what was there: "CC.A1–CC.A2 stood at 204.6 V."
  std::string reference;  // "29 CFR 1910.333(a)(1)"; cited, never quoted
  std::string step;       // its line
  std::int64_t tick = 0;
};

// What proving one part dead came to.
struct DeadProof {
  std::string part;        // "CC"; several terminals: "FU4.2, HPC.1"
  bool dead = false;       // every pair and each to earth
  bool certified = false;  // dead, discharged, and held off by the trainee's own locks
  double highest = 0;      // V
  Message where;           // "CC.L1 to earth"
};

// What submit() answers to one step.
struct Outcome {
  bool accepted = false;
  Message why;  // refused: a sentence that says why, and what would make it possible
  double minutes = 0;
  Seen seen;
  std::vector<Hazard> hazards;
  std::vector<DeadProof> proofs;  // of "prove dead": one a part
  bool closed = false;            // the call has ended: signed off, or by a hazard
};

}  // namespace legwork::session
