#pragma once
// A ticket from its files: scenario and unit loaded, held against each other, with every
// diagnostic.

#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/diagnostics.h"
#include "engine/base/local_text.h"
#include "engine/fault/scenario.h"
#include "engine/session/view.h"
#include "engine/unit/unit.h"

namespace legwork::session {

struct TicketFiles {
  unit::UnitPtr unit;
  std::shared_ptr<const fault::Scenario> scenario;
  Diagnostics found;  // errors: unit or scenario is missing
  bool ok() const { return unit != nullptr && scenario != nullptr && !found.has_errors(); }
};

// `scenario`: an id ("mb-004", looked for in home/scenarios, then in own_scenarios()), a path, or a
// call out of the hat ("hat-17": hat.h).
// `home`: "" = home_folder(). `units`: those read already, by path; what is read is put there too.
using UnitShelf = std::map<std::string, unit::UnitPtr>;
TicketFiles load_ticket(std::string_view scenario, const std::string& home,
                        UnitShelf* units = nullptr);
// From texts, as a closed shift log embeds them.
TicketFiles load_ticket_texts(const std::string& scenario_text, const std::string& scenario_name,
                              const std::string& unit_text, const std::string& unit_name,
                              const std::string& home);

TicketView ticket_view(const fault::Scenario& scenario);
// "first week", "first season", "works alone", "senior", "expert"
Message difficulty_words(int difficulty);
// Given by a person: a path, and no id. A name out of a file is never taken for one.
bool names_a_file(std::string_view name);
std::string own_scenarios();  // folder of scenarios written on this machine: in data_folder()
std::string home_or(const std::string& home);  // `home`, or home_folder()

}  // namespace legwork::session
