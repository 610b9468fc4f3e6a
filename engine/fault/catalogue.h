// Every single fault a unit can have, generated from its devices, wires, plant and supply: all of
// them, none cut off.
//
//   const Priors priors = load_priors(home_folder() + "/assets/priors.yaml", diagnostics);
//   for (const Candidate& candidate : catalogue(unit, priors)) ...
//
// Per wire one *open*, one *loose* (its two ends merged in); *shorted to ground* once per conduit
// run; *wrong terminal* only between neighbours; severities only where they tell apart
// (Mode::levels). The order is that of the unit file. What lives alike electrically is run once
// (series_of in lives.h).
//
// Priors are relative frequencies per kind and mode: common practice, no source. They are one file,
// open to the shop lead's change; a mode that the file does not name has weight 1.
#pragma once

#include <string>
#include <vector>

#include "engine/base/diagnostics.h"
#include "engine/fault/fault.h"
#include "engine/fault/modes.h"

namespace legwork::fault {

// A control that is open because it should be is no part that failed: the write-up asks for both
// ends.
enum class Role {
  part,       // the part itself is bad
  condition,  // a condition of the machine, the supply or the people; its effect shows elsewhere
};

struct Candidate {
  Fault fault;
  double prior = 1;     // relative weight; the caller normalises
  bool latent = false;  // nothing that can be seen or measured on a call
  Role role = Role::part;
  std::vector<std::string> repairs;  // texts of the repairs that cure it, cheapest first
  std::string repair_class;  // the first of them: "replace HPC", "wash condenser inside out"
};

struct PriorRow {
  std::string kind;  // "fuse", "wire", "condenser"; "*" matches any
  std::string how;   // "blown"; "*" matches any
  double weight = 1;
};
struct Priors {
  std::vector<PriorRow> rows;
  double weight(std::string_view kind, std::string_view how) const;  // the most exact row wins
};

// Reads assets/priors.yaml; diagnostics are located. On errors the rows that could be read are
// returned.
Priors load_priors(const std::string& path, Diagnostics& found);

std::vector<Candidate> catalogue(const unit::Unit& unit, const Priors& priors);

// What an author put in has to be among those in question, whatever the limit cut off: appends each
// level of its way to fail that the list lacks, as rare; and some between the two levels that its
// own severity lies between, or none of them might show what was found.
void add_levels_of(const unit::Unit& unit, const std::vector<Fault>& wrong,
                   std::vector<Candidate>& list);

// Its levels say which one, not how much: pole 1, pole 2.
bool says_which(const Mode& mode);

// The kind under which a thing's priors are listed: "fuse" for FU2, "wire" for a wire, else its own
// name.
std::string kind_of(const unit::Unit& unit, std::string_view what);

}  // namespace legwork::fault
