#pragma once
// Everything a front end may show of one attempt, and nothing of the truth: no type reached from
// here knows which fault is present. A View is a copy; ask the Door for a new one after each step.

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "engine/session/seen.h"
#include "engine/session/step.h"
#include "engine/session/write_up.h"

namespace legwork::unit {
struct Unit;
}

namespace legwork::session {

struct TicketView {
  std::string id;                   // "mb-004"
  std::string hat;                  // drawn by this number: "wf-208-17"; "" if somebody wrote it
  std::string site;                 // "bakery"
  Message title;                    // "Marrow Bay bakery"
  Message said;                     // the caller's words
  Message found;                    // what the site shows on arrival, in words
  Message difficulty;               // "works alone"
  std::vector<std::string> skills;  // ids: "power path"
  Message teaches;                  // the same in words
  double outdoor_c = 0;
  double par_minutes = 0;
  int starts_at_minute = 0;  // minute of the day
};

struct PlaceView {
  std::string id;
  Message name;
  double minutes = 0;  // to walk there now; 0 where you stand
  bool here = false;
  bool outdoors = false;
  std::vector<Message> cautions;  // words, to be shown on arrival
};

// Which list an action belongs to, in the order a front end shows them.
enum class Group {
  walk,
  look,
  ask,
  measure,
  instruments,
  safety,
  hands,
  settings,
  repair,
  refrigerant,
  wait,
  write
};

// A step that makes sense where you stand, whole: submit it as it is. `open` ones need more
// (terminals for a reading, words for a remark) and are offered as the beginning of a line.
struct Action {
  Step step;
  std::string line;  // text(step): "look condenser"
  Message label;     // "Look at: condenser"
  Group group = Group::look;
  std::string place;    // where it belongs
  std::string subject;  // device or thing: "condenser"; "" if none
  double minutes = 0;
  bool open_ended = false;  // line is a beginning: "volts "
  bool allowed = true;
  Message why_not;
};

struct TerminalView {
  std::string name;   // "CC.A1"
  std::string place;  // "roof"
  bool reachable = false;
  Message why_not;  // "It is at the evaporator; you stand on the roof."
};

// A paper tag, tied where a reading was taken. Looks have tags too.
struct Tag {
  int number = 0;               // from 1, in order
  std::string function;         // the verb: "volts"
  std::vector<std::string> at;  // terminals, wires, probe or target
  Message shown;
  std::string look;  // of a look: its id in the unit, and the state seen
  int state = -1;
  std::string remark;
  double at_minute = 0;  // since the ticket began
  std::string place;
};

enum class TrailKind { step, happening, hazard, refused, note };
struct TrailEntry {
  TrailKind kind = TrailKind::step;
  double at_minute = 0;  // when it ended
  double minutes = 0;
  Message text;
  Harm harm = Harm::slip;  // hazards only
  Happening happening;     // happenings only
  Step step;               // steps only
};

struct InstrumentsView {
  bool gloves_on = false;  // gloves and glasses
  bool meter_proven = false;
  bool gauges_on = false;
  double low_pa = 0, high_pa = 0;    // gauge pressures that they show now
  std::vector<std::string> jumpers;  // "HPC.1 HPC.2"
  std::vector<std::string> lifted;   // wires lifted
  std::vector<std::string> covers_off;
  std::vector<std::string> locked;  // disconnects under your lock
  std::vector<std::string> proven_dead;
  std::vector<std::string> guards_off;
};

struct View {
  TicketView ticket;
  std::shared_ptr<const unit::Unit> unit;  // as its file says: what the diagram on the door shows
  std::string place;                       // where you stand
  std::vector<PlaceView> places;
  std::vector<Action> actions;
  std::vector<TerminalView> terminals;  // index = circuit's terminal index
  double minutes = 0;                   // since the ticket began
  int clock_minute = 0;                 // minute of the day
  double clock_second = 0;
  std::vector<Tag> tags;
  std::vector<TrailEntry> trail;
  InstrumentsView instruments;
  WriteUpWords words;
  WriteUp write_up;         // draft
  double shop_minutes = 3;  // what ringing the shop costs, said before
  double shop_points = 3;
  bool closed = false;
  std::string closed_why;  // "signed off", or the hazard that ended it
  std::string log_path;
};

}  // namespace legwork::session
