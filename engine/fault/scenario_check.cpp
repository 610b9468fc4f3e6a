// A scenario held against its unit.
#include "engine/fault/scenario.h"

namespace legwork::fault {
namespace {

bool check_fault(WrittenFault& written, const Scenario& scenario, const unit::Unit& unit,
                 Diagnostics& found) {
  std::string text = written.fault.what + ": " + written.fault.how;
  if (!written.severity_text.empty()) text += ": " + written.severity_text;
  const Result<Fault> fault = parse_fault(unit, text);
  if (!fault) {
    found.error(scenario.source, written.mark, fault.failure());
    return false;
  }
  const Onset onset = written.fault.onset;
  written.fault = *fault;
  written.fault.onset = onset;
  return true;
}

}  // namespace

bool check_scenario(Scenario& scenario, const unit::Unit& unit, Diagnostics& found) {
  bool good = true;
  if (scenario.unit != unit.id) {
    found.error(scenario.source, {},
                say("scenario is for unit '{unit}', not '{other}'",
                    {{"unit", Name{scenario.unit}}, {"other", Name{unit.id}}}));
    good = false;
  }
  if (!scenario.unit_hash.empty() && scenario.unit_hash != unit.content_hash) {
    found.error(scenario.source, {},
                say("unit '{unit}' is not the one this scenario was written for",
                    {{"unit", Name{unit.id}}}),
                say("its content hash is {hash}", {{"hash", Name{unit.content_hash}}}));
    good = false;
  }
  for (const FoundLine& line : scenario.found_marks.lines) {
    const bool compressor = line.kind == FoundKind::one_compressor;
    const std::size_t there =
        compressor ? plant::compressor_count(unit.plant) : plant::evaporator_count(unit.plant);
    if (line.which < there) continue;
    found.error(scenario.source, line.mark,
                say(compressor ? phrase("'{key}': unit '{unit}' has no such compressor")
                               : phrase("'{key}': unit '{unit}' has no such box"),
                    {{"key", Name{line.key}}, {"unit", Name{unit.id}}}),
                say(compressor ? phrase("it has {n}: 'compressor 1' is the first")
                               : phrase("it has {n}: 'box 1' is the first"),
                    {{"n", Number{static_cast<double>(there)}}}));
    good = false;
  }
  for (WrittenFault& written : scenario.wrong) {
    good = check_fault(written, scenario, unit, found) && good;
  }
  scenario.pairs.clear();
  for (std::vector<WrittenFault>& pair : scenario.written_pairs) {
    std::vector<Fault> faults;
    for (WrittenFault& written : pair) {
      good = check_fault(written, scenario, unit, found) && good;
      faults.push_back(written.fault);
    }
    scenario.pairs.push_back(std::move(faults));
  }
  return good;
}

}  // namespace legwork::fault
