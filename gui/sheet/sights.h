#pragma once
// What was observed of the machine, thing by thing: the one source of every drawn state. Made from
// a View, so from looks, happenings and the trainee's own acts, never from the machine itself. What
// was not observed is not there and is drawn neutral.
//
//   Sights sights = sights_of(view);
//   if (const Sight* cc = sights.of("CC")) cc->how;      // How::pulled_in, seen at cc->at_minute

#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "engine/session/view.h"
#include "engine/unit/unit.h"

namespace legwork::gui {

// How a part was found. Its words are "seen.NAME" in scene_words.cpp.
enum class How {
  out,
  pulled_in,
  held_in,
  down,
  up,
  tripped,
  button_in,
  button_out,
  stands,
  creeps,
  turns,
  backwards,
  hums,
  cooling,
  defrost,
  dark,
  lit,
  faulty,
  unplugged,
  plugged,
  lamp_red,
  lamp_green,
  pulled,
  cold,
  warm,
  quiet,
  runs,
  clatters,
  right_time,
  wrong_time,
  pointer_short,
  pointer_right,
  pointer_long,
  coil_faulty,
  waits,
  timed_out,
  lugs_tight,
  lug_loose,
  lug_burnt,
  clips_tight,
  clips_slack,
  clip_open,
  pellet_cold,
  pellet_hot,
  sheath_whole,
  sheath_burnt,
  count
};
const char* name_of(How how);  // "pulled in": after "seen." in the words

struct Sight {
  std::string id;  // device
  How how = How::out;
  double at_minute = 0;
  bool heard = false;  // told by the ear
};

// One of the unit's looks, when it was taken: state -1 is not looked at.
struct LookSight {
  int state = -1;
  double at_minute = 0;
};

// A contactor that came and went, or another part that changed by itself.
struct Change {
  double at_minute = 0;
  How how = How::out;
};

struct Sights {
  std::map<std::string, Sight> parts;             // by device: what shows of it, the latest
  std::map<std::string, Sight> sounds;            // by device: what was heard of it
  std::map<std::string, std::vector<How>> marks;  // by device: what else was seen of it
  std::vector<LookSight> looks;                   // index = unit's look
  std::map<std::string, Message> told;            // by device: what a hand felt of it
  std::string site;                               // whose goods stand there: "bakery"
  std::map<std::string, std::vector<Change>> changes;
  std::set<std::string> covers_off;           // places
  std::set<std::string> guards_off;           // targets of looks
  std::set<std::string> locked;               // devices under a lock of one's own
  std::set<std::string> proven_dead;          // terminals
  std::map<std::string, std::string> lifted;  // wires, and the terminal that an end was taken off
  std::set<std::string> pulled;               // fuses in the hand
  std::vector<std::pair<std::string, std::string>> jumpers;
  bool gauges = false;
  std::map<std::string, Message> displays;  // by device: what its display says
  std::set<std::string> probes;             // points where a thermometer was put

  const Sight* of(const std::string& device) const;
};

Sights sights_of(const session::View& view);
// As they stood at a minute of the call: from what was seen and done until then, glances too.
Sights sights_at(const session::View& view, double minute);

// How a part stands by a look at it: none if what it shows has no drawing of its own, so that its
// sentence stands there as caption.
std::optional<How> how_of_look(const unit::Unit& unit, const unit::Look& look, int state);

// The state of the look of that quantity at that target ("condenser", "condenser.dirt"), as seen.
// Null: the unit has none, or it was not taken.
const LookSight* look_at(const unit::Unit& unit, const Sights& sights, std::string_view quantity);

}  // namespace legwork::gui
