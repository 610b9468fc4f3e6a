#pragma once
// An attempt: one trainee at one site. The true Site, and the book: where they stand, what they
// hold, locked, proved, wrote and did wrong. submit() is the one door for every step, whoever gives
// it: window, terminal, replay, simulated trainees.
//
//   Attempt attempt = begin(unit, scenario, seed);
//   Outcome o = submit(attempt, *parse_step("go roof").step);
//   if (!o.accepted) say(o.why);
//
// submit(): names put right -> refused? -> minutes -> hazards, from the state before -> the site
// acts
// -> hazards, from what came of it -> the book. It is a function of attempt and step alone: the
// same steps give the same outcomes, bit for bit.

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "engine/fault/scenario.h"
#include "engine/session/seen.h"
#include "engine/session/site.h"
#include "engine/session/step.h"
#include "engine/session/view.h"

namespace legwork::session {

// What a step's hands or leads are on: for the hazards.
struct Touched {
  std::vector<circuit::TerminalId> terminals;
  std::vector<circuit::DeviceId> devices;
  std::vector<circuit::DeviceId> blades;  // motors whose fans or shafts turn where one works
  bool works = true;                      // false: no power has to be off for it
  bool opens_refrigerant = false;         // the system is opened: torch, recovery
};

struct Replaced {
  std::string repair;  // "replace HPC"
  std::int64_t tick = 0;
};

// A reading of an instrument that hangs there no longer, or of one that does.
struct HeldReading {
  Step step;
  std::string place;
  std::vector<Observation> last;
  double taken_minute = 0;  // when it was read
  double off_minute = -1;   // when it was taken off; below 0: it hangs
};

// The book: everything about the trainee and nothing about the machine.
// A clock of the day that the trainee's hands have put off (clocks.h).
struct StillClock {
  std::string clock;
  std::int64_t since = -1;  // tick; -1: it has supply again
  std::int64_t ticks = 0;   // that it stood still before
};

struct Book {
  std::string place;
  std::vector<std::string> been;         // places to which the tools were carried
  std::vector<std::string> measured_at;  // places where a first reading was taken
  bool gloves_on = false;
  bool meter_proven = false;
  std::vector<std::string> covers_off;   // places whose panel stands open
  std::vector<std::string> my_locks;     // disconnects
  std::vector<std::string> other_locks;  // of somebody else, on arrival
  // Terminals that were proven dead and are held off still (proving.h), and the parts whose
  // terminals all are.
  std::vector<circuit::TerminalId> dead_marks;
  std::vector<std::string> proven_dead;
  std::vector<std::string> fetched;  // parts brought from the supply house
  std::vector<std::string> notes;
  std::vector<std::string> asked;   // questions
  std::vector<std::string> resets;  // devices
  std::vector<Replaced> repairs;    // all repairs made
  std::string pushed;               // contactor held in by hand
  std::int64_t pushed_tick = 0;
  bool safety_defeated = false;  // since the last check
  bool leak_looked_for = false;  // with detector and soap, whatever came of it
  int shop_calls = 0;
  bool list_opened = false;             // of who still fits, or the debrief, before the write-up
  std::int64_t left_running_ticks = 0;  // ran with the compressor on since the last repair
  std::vector<Tag> tags;
  // What instruments showed last that were taken off: one of each kind.
  std::vector<HeldReading> held;
  std::vector<SightView> sights;  // of each look whatever it showed, in order of time
  std::vector<TrailEntry> trail;
  std::vector<Hazard> hazards;
  std::vector<StillClock> still_clocks;  // not set since
  WriteUp write_up;
  bool closed = false;
  std::string closed_why;
  Act last_act;  // what the last accepted step was to the site: for the log and the suspects
};

struct Attempt {
  unit::UnitPtr unit;  // healthy, as its file says
  std::shared_ptr<const fault::Scenario> scenario;
  WriteUpWords words;
  std::vector<fault::Repair> repairs;     // all that can be done to the unit
  std::vector<std::string> repair_texts;  // of each: "replace HPC"
  Site site;
  std::int64_t arrival_tick = 0;
  std::uint64_t seed = 1;
  Book book;

  double minutes() const;
};

int clock_minute(const Attempt& attempt);  // minute of the day, now

// A scenario's world on arrival, the trainee at its first place. Nothing if the world never shows
// what the ticket says was found.
std::unique_ptr<Attempt> begin(unit::UnitPtr unit, std::shared_ptr<const fault::Scenario> scenario,
                               std::uint64_t seed);

// The same in a world that stands as it shall be found: for tests and for trying things out.
std::unique_ptr<Attempt> begin_in(sim::World world, std::shared_ptr<const fault::Scenario> scenario,
                                  std::uint64_t seed);

Outcome submit(Attempt& attempt, const Step& step);
// The same judgement without doing it: why not, and how many minutes.
Outcome would(const Attempt& attempt, const Step& step);

View view_of(const Attempt& attempt);

}  // namespace legwork::session
