// A scenario: a unit, what is wrong with it, and the ticket. One file in scenarios/; the format's
// manual is scenarios/README.md. There is no answer key in it: the answer follows from `wrong` by
// simulation (sim/roles.h).
//
//   Diagnostics found;
//   auto scenario = load_scenario_file("scenarios/mb-004.yaml", found);
//   if (!scenario) print(found);
//
// Loading does not need the unit; `check_scenario` holds it against one: does it have the faults,
// are the severities in range, do the questions have answers.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/diagnostics.h"
#include "engine/base/local_text.h"
#include "engine/fault/fault.h"
#include "engine/plant/params.h"

namespace legwork::fault {

// "24 °F ± 3"
struct Band {
  double middle = 0;
  double half_width = 0;
  // `latitude`: of a band wider by that share.
  bool holds(double value, double latitude = 0) const {
    const double half = half_width * (1 + latitude);
    return value >= middle - half && value <= middle + half;
  }
};

// What the machine shows when the technician arrives: the world is run from healthy until all of it
// holds at once. Empty fields ask for nothing.
enum class Running { running, cycling, off };
enum class Button { set, tripped };
struct FoundBox {  // of one box
  std::optional<Band> box_k;
  std::optional<Running> evaporator_fans;  // running or off
  std::optional<Band> frost;               // share of the coil that is blocked, 0..1
  std::optional<Band> ice_kg;              // in the drain pan
};
// Of the first box, and by evaporator_of() of each.
struct Found : FoundBox {
  std::array<FoundBox, plant::kMostEvaporators - 1> more_evaporators{};
  std::optional<Running> compressor;  // of several: one of them at least runs, or none does
  std::array<std::optional<Running>, plant::kMostCompressors> compressors{};  // each by itself
  std::optional<Running> condenser_fans;
  std::optional<Button> overload;
  // The box that the call is about, from 0: the first one whose temperature is written.
  std::size_t about = 0;

  const FoundBox& called_about() const { return plant::evaporator_of(*this, about); }
};

// A line of `found` as it is written: "evaporator fans 2".
enum class FoundKind {
  box,
  compressor,
  one_compressor,
  evaporator_fans,
  condenser_fans,
  overload,
  frost,
  ice
};
struct FoundLine {
  FoundKind kind = FoundKind::box;
  std::size_t which = 0;  // box or compressor, from 0
  std::string key;
  Mark mark;
};
struct FoundMarks {
  Mark whole;
  std::vector<FoundLine> lines;  // as they are written
};

// Ids of the questions that can be put to the site, in the order they are offered.
const std::vector<std::string_view>& questions();

// What the site says when asked. `question` is one of the ids listed in scenarios/README.md.
struct Answer {
  std::string question;  // one of questions(): "since when"
  LocalText says;
};

// A step of the way that the shop lead would take, and what they say of it.
struct LeadStep {
  std::string step;  // a line: "volts HPC.1 HPC.2"
  LocalText remark;  // may be empty
  Mark mark;
};

struct Ticket {
  std::string site;  // "bakery"
  LocalText said;    // what the caller says; what they *saw* is true, what they conclude may not be
  double outdoor_k = 0;
  double humidity = 0.5;
  double clock_s = 0;  // time of day on arrival, seconds after midnight
};

struct WrittenFault {  // as in the file, before it is held against a unit
  Fault fault;
  std::string severity_text;
  Mark mark;
};

struct Scenario {
  std::string id;    // "mb-004", the file's name
  std::string unit;  // "wf-208"
  Mark unit_mark;
  LocalText title;
  int difficulty = 1;  // 1..5
  Ticket ticket;
  std::vector<WrittenFault> wrong;  // the root first where one leads to another
  std::vector<std::vector<WrittenFault>> written_pairs;
  // That the suspects shall include beside the catalogue: two at once, or one that comes and goes
  // or is too rare for it. By check_scenario.
  std::vector<std::vector<Fault>> pairs;
  Found found;
  FoundMarks found_marks;
  double par_minutes = 0;
  std::vector<std::string> skills;
  std::vector<Answer> answers;
  std::vector<LeadStep> lead;  // from arrival to sign-off; empty: nobody wrote one
  Source source;               // for diagnostics that come later
  std::string source_text;     // the file as read: embedded in a closed shift log
  std::string source_name;     // "scenarios/mb-004.yaml"
  std::string content_hash;    // SHA-256, hex
  std::string unit_hash;       // optional: refuse another version of the unit

  std::vector<Fault> faults() const;
};

std::optional<Scenario> load_scenario(std::string_view text, std::string_view file_name,
                                      Diagnostics& found);
std::optional<Scenario> load_scenario_file(const std::string& path, Diagnostics& found);

// Faults and severities against the unit; fills in severities written with a unit. False on errors.
bool check_scenario(Scenario& scenario, const unit::Unit& unit, Diagnostics& found);

}  // namespace legwork::fault
