#include "engine/session/repairing.h"

#include <algorithm>

#include "engine/fault/plant_modes.h"

namespace legwork::session {
namespace {

constexpr double kTruckCost = 150;  // dollars

// Which drive of the plant has its motor at the thing, so that the thing is where that motor is.
struct ThingRow {
  std::string_view thing;
  std::string_view drive;
};
constexpr ThingRow kThings[] = {
    {"condenser", "condenser.fan 1"},       {"evaporator", "evaporator.fan 1"},
    {"drain", "evaporator.fan 1"},          {"air filter", "evaporator.fan 1"},
    {"belt", "evaporator.fan 1"},           {"expansion valve", "evaporator.fan 1"},
    {"capillary tube", "evaporator.fan 1"}, {"charge", "compressor.speed"},
    {"liquid line", "compressor.speed"},    {"suction line", "compressor.speed"},
    {"compressor", "compressor.speed"},     {"head-pressure valve", "condenser.fan 1"},
};

const ThingRow* row_of(std::string_view thing) {
  thing = fault::numbered_thing(thing).thing;
  for (const ThingRow& row : kThings) {
    if (row.thing == thing) return &row;
  }
  return nullptr;
}

// Loads whose drive begins with the same word as the row's: both fans of a coil.
template <class Do>
void each_driver(const unit::Unit& unit, std::string_view thing, std::string_view drive, Do act) {
  const std::string of = plant::numbered(drive, fault::numbered_thing(thing).which);
  const std::string_view stem = std::string_view(of).substr(0, of.find(' '));
  const auto drives = plant::drives();
  for (std::size_t i = 0; i < unit.circuit.loads.size() && i < unit.load_links.size(); ++i) {
    const int index = unit.load_links[i].plant_index;
    if (index < 0) continue;
    const std::string_view name = drives[static_cast<std::size_t>(index)].name;
    if (name.substr(0, stem.size()) == stem) act(unit.circuit.loads[i].device);
  }
}

}  // namespace

const std::vector<std::string_view>& repair_words() {
  static const std::vector<std::string_view> words = {
      "replace", "tighten", "wash",   "clean",    "clear", "thaw",  "adjust",  "strap",
      "open",    "close",   "repair", "recover",  "fill",  "move",  "restore", "correct",
      "swap",    "reland",  "set",    "reset",    "turn",  "refit", "fasten",  "mend",
      "free",    "remove",  "land",   "insulate", "renew"};
  return words;
}

bool must_be_fetched(const fault::Repair& repair) {
  return repair.replaces_part && repair.cost > kTruckCost;
}

std::vector<std::string> parts_to_fetch(const std::vector<fault::Repair>& repairs) {
  std::vector<std::string> out;
  for (const fault::Repair& repair : repairs) {
    if (!must_be_fetched(repair)) continue;
    if (std::find(out.begin(), out.end(), repair.object) == out.end()) out.push_back(repair.object);
  }
  return out;
}

std::string place_of_thing(const unit::Unit& unit, std::string_view thing) {
  const ThingRow* row = row_of(thing);
  std::string place;
  if (row != nullptr) {
    each_driver(unit, thing, row->drive, [&](circuit::DeviceId device) {
      const unit::Spot* spot = unit.spot_of(device);
      if (place.empty() && spot != nullptr) place = spot->place;
    });
    return place;
  }
  const fault::NumberedThing box = fault::numbered_thing(thing);
  if (box.thing == "box") {
    for (const unit::Place& p : unit.places) {
      if (p.in_box && p.box == box.which) return p.id;
    }
  }
  return {};
}

void add_machines_of(const unit::Unit& unit, std::string_view thing, Touched& touched) {
  const ThingRow* row = row_of(thing);
  if (row == nullptr) return;
  each_driver(unit, thing, row->drive,
              [&](circuit::DeviceId device) { touched.blades.push_back(device); });
}

}  // namespace legwork::session
