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
enum class Sense;
}  // namespace legwork::unit

namespace legwork::session {

struct TicketView {
  std::string id;                   // "mb-004"
  std::string hat;                  // drawn by this number: "wf-208-17"; "" if somebody wrote it
  std::string site;                 // "bakery"
  Message title;                    // "Marrow Bay bakery"
  Message said;                     // the caller's words
  Message found;                    // what the site shows on arrival, in words
  Message difficulty;               // "works alone"
  int level = 1;                    // the same, from 1 (easiest) to 5
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
  std::string name;          // "CC.A1"
  std::string place;         // "roof"
  bool proven_dead = false;  // proven dead and held off still
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
  Message stale;  // why it may not be so any more: "DISC open since 05:21"; "" = nothing changed
};

// What a look showed, at a glance or by a step of its own, in order of time: the latest counts.
// Nothing was observed of what is not here.
struct SightView {
  std::string id;        // of the look: "CC position", "condenser face"; "spin CF1"
  std::string target;    // "CC", "condenser"
  std::string quantity;  // "position", "condenser.dirt"; "" if of no look
  unit::Sense sense{};
  int state = 0;   // index, as seen
  int states = 0;  // how many there are
  Message words;   // of the state
  Message text;    // what a display says: "−3 °F"; "" = nothing
  Source source = Source::step;
  double at_minute = 0;
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
  bool changes = false;    // a hand on the machine, or something that happened by itself
};

// An instrument, and what it shows.
struct InstrumentView {
  enum class State {
    live,   // on, and somebody stands there: it reads again at the end of each step
    held,   // taken off, or left hanging elsewhere: the number it showed last
    stale,  // the same, and something has changed since
  };
  std::string function;         // "volts", "clamp", "gauges", "temp"
  std::vector<std::string> at;  // terminals, wires, probe
  std::string place;
  Message shown;  // "204.6 V", "24 psig, 286 psig"
  State state = State::live;
  double at_minute = 0;  // of the number
  Message why;           // held: "held at 05:19"; stale: "DISC open since 05:21"
};

struct LiftedEnd {
  std::string wire;
  std::string terminal;  // that it was taken off
};

struct InstrumentsView {
  bool gloves_on = false;  // gloves and glasses
  bool meter_proven = false;
  bool gauges_on = false;
  double low_pa = 0, high_pa = 0;    // gauge pressures that they show now
  std::vector<std::string> jumpers;  // "HPC.1 HPC.2"
  std::vector<std::string> lifted;   // wires lifted
  std::vector<LiftedEnd> lifted_ends;
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
  std::vector<SightView> sights;
  std::vector<InstrumentView> hooked;  // and those that were taken off: one of each kind
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
