#pragma once
// The door a front end comes in by: open a ticket, give steps, look at the View, close. Behind it
// the world is simulated, the rules are kept and every step is written to the shift log before it
// answers.
//
//   Opening opening = Door::open("scenarios/mb-004.yaml", {});
//   if (!opening.door) { show(opening.why); return; }
//   Outcome o = opening.door->submit_line("volts CC.A1 CC.A2");
//   show(o.accepted ? o.seen.observations[0].shown : o.why);
//
// A program killed in mid-ticket loses at most the step in hand: unfinished() names the log and
// Door::reopen() runs it again to the last step. Not thread-safe: one caller at a time.

#include <atomic>
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "engine/session/set_point.h"
#include "engine/session/view.h"

namespace legwork::session {

struct OpenOptions {
  std::string
      home;  // folder with circuits/ scenarios/ assets/; "" = where the program finds its own
  std::string log_path;    // "" = a new file in the user's data folder; "-" = keep no log
  std::uint64_t seed = 1;  // of the senses' mistakes and the supply's small spread
  // A call out of the hat takes seconds to make: to stop it, and faults tried so far. May be null.
  const std::atomic<bool>* cancel = nullptr;
  std::atomic<int>* tried = nullptr;
};

// One line of the day sheet.
struct TicketLine {
  std::string id;
  std::string path;
  TicketView ticket;
  std::string unit_id;
  Message unit_name;
  std::string unfinished_log;              // of the latest attempt that was not closed; "" if none
  std::vector<std::string> finished_logs;  // newest first
  double finished_minutes = 0;             // of the newest
  Message broken;  // the file does not load: its diagnostics; other fields are empty
};

// A log in the user's data folder.
struct PastShift {
  std::string path;
  std::string scenario_id;
  std::string site;  // its ticket's id, until somebody knows better
  bool closed = false;
  double minutes = 0;
  Message broken;  // why it cannot be read
};

class Door;
struct Opening {
  std::unique_ptr<Door> door;
  Message why;     // no door: all diagnostics, or what is wrong with the log and at which line
  Message notice;  // a door, but say this: "The last line was torn off; the step in it is lost."
};

class Door {
 public:
  // `scenario`: an id ("mb-004"), a path, or a call out of the hat: "hat-17" of any unit,
  // "hat-wf-208-17" of this one.
  static Opening open(std::string_view scenario, const OpenOptions& options);
  // Goes on where the log stops, and keeps writing to it. A closed log opens for looking only.
  static Opening reopen(const std::string& log_path, const OpenOptions& options);

  ~Door();
  Door(const Door&) = delete;
  Door& operator=(const Door&) = delete;

  Outcome submit(const Step& step);
  Outcome submit_line(
      std::string_view line);  // also lines that do not parse: refused, with did-you-mean
  // Writes every field of `write_up` that differs from the draft; the first that is refused says
  // why. Signing off is a step like any other: ask_before("sign off"), submit_line("sign off").
  Outcome write(const WriteUp& write_up);
  // Writes those that are whole already, free steps each, so that a draft survives. What is begun
  // only ("HP", a part without how it failed) is left out.
  void keep_draft(const WriteUp& write_up);

  View view() const;
  // May the step be done here and now, and what would it cost? Changes nothing. `why` empty = yes.
  Outcome would(const Step& step) const;
  // What to ask before a typed or chosen line is done: hands would go where the trainee has proven
  // nothing dead, ohms on a pair that was neither proven dead nor read dead, a sign-off while a
  // clock stands behind. From the trainee's own book, never from the truth; empty: nothing to ask.
  Message ask_before(std::string_view line) const;
  // What a dial of the part moves, as its file has it; empty: it has none.
  std::vector<SetPoint> set_points(std::string_view part) const;
  const std::string& log_path() const;
  // Why the log does not hold all that was done; empty = it does, or none is kept.
  const Message& log_trouble() const;

 private:
  struct Inside;
  explicit Door(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

// Every scenario of the home folder and of data_folder()/scenarios, by id, with what the user's
// data folder knows of it.
std::vector<TicketLine> tickets(const OpenOptions& options);
// A copy of a scenario under a new id ("own-1"), to be written on: its path, or nothing.
std::string copy_ticket(const std::string& scenario_path);
// Newest first.
std::vector<PastShift> past_shifts(const OpenOptions& options);
// What a step of that verb is, in a sentence; empty if there is no such verb.
Message help_of(std::string_view verb);
// $LEGWORK_DATA, or $XDG_DATA_HOME/legwork, or ~/.local/share/legwork. Made when first needed.
std::string data_folder();

}  // namespace legwork::session
