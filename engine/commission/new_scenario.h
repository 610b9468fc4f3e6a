#pragma once
// A scenario file to begin with: a fault of that unit that stops the compressor, what is then found
// (by running it), and every key with a comment. It passes `legwork check` as it is.
//
//   const auto made = new_scenario("wf-208", "my-call", home, found);
//   made.why.empty() ? write(made.text) : complain(made.why);

#include <optional>
#include <string>
#include <vector>

#include "engine/base/diagnostics.h"

namespace legwork::commission {

// The text of the file; nothing: `found` says why.
std::optional<std::string> new_scenario(const std::string& unit, const std::string& id,
                                        const std::string& home, Diagnostics& found);

// What a form asks for; written as a scenario file that says the same.
struct ScenarioForm {
  std::string id, unit, title, site, said;
  std::string outdoor = "80 °F", time = "14:30", par = "40 min";
  int difficulty = 2;
  std::vector<std::string> faults;  // "what: how" or "what: how: severity"
  std::string box;                  // "24 °F ± 3"; empty: not asked for
  std::string compressor;           // "running", "cycling", "off"; empty
  std::string skills;               // separated by commas
};
std::string scenario_text(const ScenarioForm& form);

}  // namespace legwork::commission
