#pragma once
// Where units are: those shipped in home/circuits, those of this machine in data_folder()/circuits,
// and those that lie beside a scenario. A name is an id ("wf-208") or a path.
//
//   unit::UnitPtr unit = load_unit("wf-208", home, "", found);
//
// A shipped unit cannot be hidden by one of the same id.

#include <string>
#include <string_view>
#include <vector>

#include "engine/base/diagnostics.h"
#include "engine/unit/unit.h"

namespace legwork::session {

struct UnitLine {
  std::string id;  // the file's name without .yaml
  std::string path;
};

// Paths of the files of a folder that end so (".yaml"), sorted; of no folder none.
std::vector<std::string> files_in(const std::string& folder, std::string_view ending);

std::string own_circuits();  // folder of units written on this machine
// In the order in which they are looked for; each id once. `beside`: a folder, or empty.
std::vector<UnitLine> unit_files(const std::string& home, const std::string& beside = {});
// Empty if there is none of that id.
std::string unit_path(std::string_view id, const std::string& home, const std::string& beside = {});
// "did you mean 'wf-208'?" or the list of those that there are.
Message unit_hint(std::string_view id, const std::string& home, const std::string& beside = {});
// Null: it was said in `found`.
unit::UnitPtr load_unit(const std::string& name, const std::string& home, const std::string& beside,
                        Diagnostics& found);

}  // namespace legwork::session
