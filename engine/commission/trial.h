#pragma once
// A unit tried out: three healthy days and every control proven (day.h, prove.h), in numbers alone.
// Judging them takes no time (judge.h), living them some seconds; so the numbers are kept in a
// folder of the user's under a name made of the unit file, the refrigerant's tables and this build.
//
//   const Trial trial = try_unit(unit, {.kept_in = data_folder() + "/trials", .threads = 2});
//
// A kept trial is a stranger's file: read with a limit, refused if its seal or any count differs.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/commission/day.h"
#include "engine/commission/prove.h"

namespace legwork::commission {

struct Trial {
  std::vector<Day> days;  // low end, middle, high end of the unit's outdoor range
  std::vector<Proof> proofs;
};

struct TrialOptions {
  std::string kept_in{};  // folder; empty: neither looked for nor kept
  int threads = 1;
  bool middle_only = false;  // one day instead of three; such a trial is not kept
};

Trial try_unit(const unit::UnitPtr& unit, const TrialOptions& options);

// The numbers of a trial, in one order, and back again; nothing if they are not of that unit.
std::vector<double> numbers_of(const Trial& trial);
std::optional<Trial> trial_of(const std::vector<double>& numbers, const unit::Unit& unit);

// Numbers under a name in a folder, sealed. False, or nothing: it could not be done.
bool keep_numbers(const std::string& folder, const std::string& name,
                  const std::vector<double>& numbers);
std::optional<std::vector<double>> kept_numbers(const std::string& folder, const std::string& name);

}  // namespace legwork::commission
