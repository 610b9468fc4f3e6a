// What can be wrong ahead of the unit. Figures of severity: ohms of a loose feeder, share of
// voltage.
#include <fmt/format.h>

#include "engine/fault/plant_modes.h"

namespace legwork::fault {
namespace {

using circuit::Supply;
using unit::Unit;

bool order_matters(const Unit& unit) {
  if (!unit.circuit.monitors.empty() || unit.plant.scroll > 0) return true;
  for (const circuit::Load& load : unit.circuit.loads) {
    if (!load.machine.valid() || drives_a_compressor(unit, load.name)) continue;
    if (unit.circuit.machines[load.machine.slot()].kind == circuit::MachineKind::three_phase) {
      return true;
    }
  }
  return false;
}

using Take = circuit::Condemn::Take;
using Shows = circuit::Condemn::Shows;

// Every fault of the supply is condemned by volts between all of its legs.
Mode make(std::string how, std::vector<Level> levels, double usual, Cure cure, Shows shows) {
  Mode mode;
  mode.how = std::move(how);
  mode.levels = std::move(levels);
  mode.usual = usual;
  mode.condition = true;
  mode.cures = {std::move(cure)};
  mode.condemned_by = {{Take::legs, shows}};
  return mode;
}

void scale(Unit& unit, double factor) {
  for (Supply::Leg& leg : unit.circuit.supply.legs) {
    leg.emf = circuit::Phasor{leg.emf.re * factor, leg.emf.im * factor};
  }
}

}  // namespace

Cure restore_leg(const Supply& supply, std::size_t leg) {
  const bool second = supply.legs[leg].panel > 0;
  return {"restore",
          "",
          second ? "of the second panel" : fmt::format("leg {}", leg + 1),
          45,
          0,
          false,
          false,
          std::string(kSupply),
          true};
}

std::vector<Mode> supply_modes(const Unit& unit) {
  const Supply& supply = unit.circuit.supply;
  std::vector<Mode> modes;
  const auto add = [&modes](Mode mode, std::string prior,
                            std::function<void(Unit&, double)> apply) {
    mode.prior = "supply: " + std::move(prior);
    mode.apply = std::move(apply);
    modes.push_back(std::move(mode));
  };
  const bool earthed_line = supply.line_count == 1;
  for (std::size_t leg = 0; leg < supply.line_count && leg < supply.legs.size(); ++leg) {
    add(make(fmt::format("leg {} dead", leg + 1), {{1, ""}}, 1, restore_leg(supply, leg),
             Shows::low),
        "leg dead", [leg](Unit& changed, double) { changed.circuit.supply.legs[leg].dead = true; });
  }
  // All lines of the second supply go together: its breaker's panel, or the feeder to that.
  for (std::size_t leg = supply.line_count; leg < supply.legs.size(); ++leg) {
    if (supply.legs[leg].panel == 0 || !supply.legs[leg].line) continue;
    add(make("second supply dead", {{1, ""}}, 1, restore_leg(supply, leg), Shows::low), "leg dead",
        [](Unit& changed, double) {
          for (Supply::Leg& one : changed.circuit.supply.legs)
            if (one.panel > 0 && one.line) one.dead = true;
        });
    break;
  }
  if (!earthed_line) {
    for (std::size_t leg = 0; leg < supply.line_count && leg < supply.legs.size(); ++leg) {
      Mode loose =
          make(fmt::format("leg {} loose", leg + 1), {{0.5, "0.5 ohm"}, {3, "3 ohm"}}, 0.5,
               {"tighten", "", fmt::format("leg {}", leg + 1), 30, 0, false, false, "", true},
               Shows::anything);
      loose.dimension = Dimension::resistance;
      add(std::move(loose), "leg loose", [leg](Unit& changed, double ohms) {
        changed.circuit.supply.legs[leg].extra_ohm += ohms;
      });
    }
  }
  add(make("low voltage", {{0.1, "10 % low"}, {0.18, "18 % low"}}, 0.18,
           {"correct", "", "voltage", 60, 0, false, false}, Shows::low),
      "low voltage", [](Unit& changed, double share) { scale(changed, 1 - share); });
  add(make("high voltage", {{0.12, "12 % high"}}, 0.12,
           {"correct", "", "voltage", 60, 0, false, false}, Shows::high),
      "high voltage", [](Unit& changed, double share) { scale(changed, 1 + share); });
  if (supply.line_count == 3) {
    Mode swapped = make("two legs swapped", {{1, ""}}, 1,
                        {"swap back", "", "legs", 20, 0, false, false, "", true}, Shows::anything);
    // Against a second supply any of them can be told.
    swapped.latent = !order_matters(unit) && !supply.has_second();
    add(std::move(swapped), "legs swapped", [](Unit& changed, double) {
      std::vector<Supply::Leg>& legs = changed.circuit.supply.legs;
      std::swap(legs[0].emf, legs[1].emf);
    });
  }
  return modes;
}

}  // namespace legwork::fault
