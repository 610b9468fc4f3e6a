// Longer than most: it is a table. What can be wrong with the refrigeration side: each row names a
// thing, how it fails, the one condition of the plant that it moves, and what mends it. Levels are
// where a technician would tell one from the next; minutes are common practice, no source.
#include "engine/fault/plant_modes.h"

#include <algorithm>

#include "engine/plant/plant.h"

namespace legwork::fault {
namespace {

using plant::Params;
using unit::Unit;

using Possible = bool (*)(const Unit&, std::size_t which);

// The machine as it was, and the evaporator that the row is about.
struct Healthy {
  const Params& all;
  const plant::EvaporatorParams& coil;
};

struct PlantRow {
  std::string_view thing;
  std::string_view how;
  double Params::*member;
  void (*set)(double& value, const Healthy& healthy, double severity);
  std::vector<Level> levels;
  double usual;
  Possible possible;  // null: on every unit
  std::vector<Cure> cures;
  std::vector<circuit::Condemn> condemned_by;
};

using Take = circuit::Condemn::Take;
using Shows = circuit::Condemn::Shows;

// Ways in which a severity becomes a value.
void as_it_is(double& value, const Healthy&, double severity) { value = severity; }
void less_of_it(double& value, const Healthy&, double severity) { value *= 1 - severity; }
void more_of_it(double& value, const Healthy&, double severity) { value *= 1 + severity; }
// Ice that closes this share of the fin gaps: share = kg / (kg + frost_half_kg).
void ice_share(double& value, const Healthy& healthy, double severity) {
  value = healthy.coil.frost_half_kg * severity / (1 - severity);
}
// Air left in by a vacuum that was not drawn: at worst an atmosphere of it in condenser and
// receiver, 1.2 kg a cubic metre, and the low side's share with it.
void atmospheres(double& value, const Healthy& healthy, double severity) {
  double all_m3 = healthy.all.condenser_m3 + healthy.all.receiver_m3;
  for (std::size_t i = 0; i < plant::evaporator_count(healthy.all); ++i)
    all_m3 += plant::evaporator_of(healthy.all, i).evaporator_m3;
  value = 1.2 * severity * all_m3;
}
void kelvins_lower(double& value, const Healthy&, double severity) { value = -severity; }
// Warm goods: at worst as much heat as a coil takes at a difference of 4 K.
void coil_at_4_kelvins(double& value, const Healthy& healthy, double severity) {
  value = 4 * severity * healthy.coil.evaporator_w_k;
}
void share_of_setting_lower(double& value, const Healthy& healthy, double severity) {
  value = -severity * healthy.all.head_valve_pa;
}
void share_of_setting_higher(double& value, const Healthy& healthy, double severity) {
  value = severity * healthy.all.head_valve_pa;
}
void fixed_open(double& value, const Healthy&, double) { value = 1; }
void fixed_shut(double& value, const Healthy&, double) { value = 0; }
void door_share(double& value, const Healthy&, double severity) { value = 0.1 * severity; }

const plant::EvaporatorParams& coil_of(const Unit& unit, std::size_t which) {
  return plant::evaporator_of(unit.plant, which);
}
bool has_receiver(const Unit& unit, std::size_t) { return unit.plant.receiver_m3 > 0; }
bool has_head_valve(const Unit& unit, std::size_t) { return unit.plant.head_valve_pa > 0; }
bool has_valve(const Unit& unit, std::size_t i) { return coil_of(unit, i).capillary < 0.5; }
bool has_tube(const Unit& unit, std::size_t i) { return coil_of(unit, i).capillary >= 0.5; }
bool has_oil_pump(const Unit& unit, std::size_t i) {
  return plant::compressor_of(unit.plant, i).oil_rated_pa > 0;
}
bool freezes(const Unit& unit, std::size_t) { return unit.plant.design_evaporating_k < 266; }
bool is_a_room(const Unit& unit, std::size_t i) { return coil_of(unit, i).fresh_air_kg_s > 0; }
bool is_a_box(const Unit& unit, std::size_t i) { return !is_a_room(unit, i); }
bool has_ports(const Unit& unit, std::size_t) { return !unit.gauge_place.empty(); }

// verb, manner, part, minutes, cost, power off, recovery
const Cure kWashFace{"wash", "face", "", 30, 0, true, false};
const Cure kWashInsideOut{"wash", "inside out", "", 90, 0, true, false};

const std::vector<PlantRow>& plant_rows() {
  static const std::vector<PlantRow> rows = {
      {"condenser",
       "face dirty",
       &Params::condenser_dirt,
       as_it_is,
       {{0.4, "half covered"}, {0.65, "mostly covered"}, {0.8, "matted"}},
       0.65,
       nullptr,
       {kWashFace, kWashInsideOut},
       {{Take::look, Shows::wrong, "condenser.dirt"}}},
      {"condenser",
       "plugged inside",
       &Params::condenser_plugged,
       as_it_is,
       {{0.35, "a third"}, {0.5, "half"}, {0.65, "two thirds"}, {0.8, "nearly shut"}},
       0.65,
       nullptr,
       {kWashInsideOut},
       {{Take::look, Shows::wrong, "condenser.plugged"}}},
      {"condenser",
       "recirculating air",
       &Params::condenser_recirculation,
       as_it_is,
       {{0.3, "some"}, {0.65, "much"}},
       0.65,
       nullptr,
       {{"clear", "", "air path", 20, 0, false, false}},
       {{Take::look, Shows::wrong, "condenser.air"}}},
      {"condenser",
       "fan guard blocked",
       &Params::condenser_guard_blocked,
       as_it_is,
       {{0.5, "half"}, {0.8, "nearly shut"}},
       0.8,
       nullptr,
       {{"clear", "", "guard", 10, 0, true, false}},
       {{Take::look, Shows::wrong, "condenser.guard blocked"}}},

      {"evaporator",
       "iced over",
       &Params::evaporator_ice_kg,
       ice_share,
       {{0.5, "half"}, {0.85, "solid"}},
       0.85,
       nullptr,
       {{"thaw", "by hand", "", 75, 0, true, false}},
       {{Take::look, Shows::wrong, "coil.frost share"}}},
      {"evaporator",
       "dirty",
       &Params::evaporator_dirt,
       as_it_is,
       {{0.5, "half"}},
       0.5,
       nullptr,
       {{"clean", "", "", 60, 0, true, false}},
       {{Take::look, Shows::wrong, "coil.dirt"}}},
      {"evaporator",
       "product stacked against it",
       &Params::evaporator_air_blocked,
       as_it_is,
       {{0.6, "much"}},
       0.6,
       is_a_box,
       {{"clear", "", "product", 15, 0, false, false}},
       {{Take::look, Shows::wrong, "coil.air blocked"}}},
      {"air filter",
       "plugged",
       &Params::evaporator_air_blocked,
       as_it_is,
       {{0.5, "half"}, {0.8, "nearly shut"}},
       0.8,
       is_a_room,
       {{"replace", "", "", 10, 10, false, false}},
       {{Take::look, Shows::wrong, "coil.air blocked"}}},
      {"belt",
       "slipping",
       &Params::belt_slip,
       as_it_is,
       {{0.5, "half"}},
       0.5,
       is_a_room,
       {{"tighten", "", "", 20, 0, true, false}, {"replace", "", "", 30, 15, true, false}},
       {{Take::look, Shows::wrong, "coil.belt slip"}}},
      {"belt",
       "broken",
       &Params::belt_slip,
       as_it_is,
       {{1, ""}},
       1,
       is_a_room,
       {{"replace", "", "", 30, 15, true, false}},
       {{Take::look, Shows::wrong, "coil.belt slip"}}},
      {"drain",
       "frozen",
       &Params::drain_frozen,
       as_it_is,
       {{1, ""}},
       1,
       freezes,
       {{"thaw", "", "", 40, 0, true, false}},
       {{Take::look, Shows::wrong, "drain.ice"}}},

      {"charge",
       "short",
       &Params::charge_fraction,
       less_of_it,
       {{0.3, "a third gone"}, {0.6, "more than half gone"}, {0.9, "nearly empty"}},
       0.6,
       nullptr,
       {{"repair leak and weigh in", "", "", 210, 250, true, true}},
       {{Take::leak}}},
      {"charge",
       "over",
       &Params::charge_fraction,
       more_of_it,
       {{0.25, "a quarter over"}, {0.5, "half over"}},
       0.25,
       nullptr,
       {{"recover and weigh in", "", "", 180, 200, true, true}},
       {{Take::gauges},
        {Take::temperature, Shows::anything, "liquid line"},
        {Take::temperature, Shows::anything, "discharge line", true}}},
      // Air is cured by recovering, evacuating and weighing in, never by venting (40 CFR 82.154(a),
      // from memory; it exempts R-290 of a stand-alone cabinet, which is recovered all the same).
      {"charge",
       "air in the system",
       &Params::air_kg,
       atmospheres,
       {{0.5, "half"}, {1, "full"}},
       1,
       nullptr,
       {{"recover and weigh in", "", "", 180, 200, true, true}},
       {{Take::gauges},
        {Take::temperature, Shows::anything, "liquid line"},
        {Take::temperature, Shows::anything, "discharge line", true}}},

      {"expansion valve",
       "starving",
       &Params::valve_capacity,
       less_of_it,
       {{0.5, "half"}, {0.85, "nearly shut"}},
       0.85,
       has_valve,
       {{"replace", "", "", 150, 120, true, true}},
       {{Take::gauges}, {Take::temperature, Shows::anything, "coil.outlet"}}},
      {"expansion valve",
       "flooding",
       &Params::valve_superheat_shift_k,
       kelvins_lower,
       {{2.5, "a little"}, {5, "much"}},
       5,
       has_valve,
       {{"adjust", "", "", 30, 0, false, false}, {"replace", "", "", 150, 120, true, true}},
       {{Take::gauges}, {Take::temperature, Shows::anything, "coil.outlet"}}},
      {"expansion valve",
       "stuck",
       &Params::valve_stuck,
       as_it_is,
       {{0.1, "nearly shut"}, {0.9, "open"}},
       0.1,
       has_valve,
       {{"replace", "", "", 150, 120, true, true}},
       {{Take::gauges}, {Take::temperature, Shows::anything, "coil.outlet"}}},
      {"expansion valve",
       "bulb loose",
       &Params::valve_bulb_loose,
       as_it_is,
       {{1, ""}},
       1,
       has_valve,
       {{"strap on", "", "bulb", 25, 2, false, false}},
       {{Take::gauges}, {Take::temperature, Shows::anything, "coil.outlet"}}},
      {"capillary tube",
       "restricted",
       &Params::valve_capacity,
       less_of_it,
       {{0.5, "half"}, {0.85, "nearly shut"}},
       0.85,
       has_tube,
       {{"replace", "", "", 200, 60, true, true}},
       {{Take::gauges},
        {Take::temperature, Shows::anything, "coil.outlet"},
        {Take::look, Shows::anything, "coil.frost share", true},
        {Take::temperature, Shows::anything, "discharge line"}}},
      {"liquid line",
       "drier plugged",
       &Params::drier_plugged,
       as_it_is,
       {{0.85, "much"}, {0.95, "nearly shut"}},
       0.95,
       nullptr,
       {{"replace", "", "drier", 90, 40, true, true}},
       {{Take::temperature, Shows::anything, "liquid line"},
        {Take::temperature, Shows::anything, "drier outlet"},
        {Take::look, Shows::wrong, "drier.drop", true}}},
      {"head-pressure valve",
       "stuck open",
       &Params::head_valve_stuck,
       fixed_open,
       {{1, ""}},
       1,
       has_head_valve,
       {{"replace", "", "", 180, 160, true, true}},
       {{Take::gauges}, {Take::temperature, Shows::anything, "condenser.air on"}}},
      {"head-pressure valve",
       "stuck shut",
       &Params::head_valve_stuck,
       fixed_shut,
       {{1, ""}},
       1,
       has_head_valve,
       {{"replace", "", "", 180, 160, true, true}},
       {{Take::gauges}, {Take::temperature, Shows::anything, "condenser.air on"}}},
      {"head-pressure valve",
       "set too low",
       &Params::head_valve_shift_pa,
       share_of_setting_lower,
       {{0.4, "by two fifths"}},
       0.4,
       has_head_valve,
       {{"adjust", "", "", 25, 0, false, false}, {"replace", "", "", 180, 160, true, true}},
       {{Take::gauges}, {Take::temperature, Shows::anything, "condenser.air on"}}},
      {"head-pressure valve",
       "set too high",
       &Params::head_valve_shift_pa,
       share_of_setting_higher,
       {{0.3, "by a third"}},
       0.3,
       has_head_valve,
       {{"adjust", "", "", 25, 0, false, false}, {"replace", "", "", 180, 160, true, true}},
       {{Take::gauges}, {Take::temperature, Shows::anything, "condenser.air on"}}},
      {"liquid line",
       "receiver valve half closed",
       &Params::receiver_valve_shut,
       as_it_is,
       {{0.9, "half"}, {0.98, "nearly shut"}},
       0.98,
       has_receiver,
       {{"open", "", "receiver valve", 5, 0, false, false}},
       {{Take::gauges}, {Take::temperature, Shows::anything, "liquid line"}}},
      {"suction line",
       "service valve left shut",
       &Params::suction_valve_shut,
       as_it_is,
       {{0.9, "nearly shut"}},
       0.9,
       has_ports,
       {{"open", "", "service valve", 5, 0, false, false}},
       {{Take::gauges}}},

      {"compressor",
       "valves leaking",
       &Params::compressor_valve_leak,
       as_it_is,
       {{0.4, "some"}, {0.7, "much"}, {1, "does not pump"}},
       0.7,
       nullptr,
       {{"replace", "", "", 360, 900, true, true}},
       {{Take::gauges},
        {Take::amps, Shows::some, "leads"},
        {Take::temperature, Shows::anything, "shell", true},
        {Take::amps, Shows::some, "leads"}}},
      {"compressor",
       "short of oil",
       &Params::oil_fraction,
       less_of_it,
       {{0.85, "nearly none"}},
       0.85,
       has_oil_pump,
       {{"fill", "", "oil", 60, 30, true, false}},
       {{Take::look, Shows::wrong, "compressor.oil"}}},

      {"box",
       "door left open",
       &Params::door_open,
       as_it_is,
       {{0.3, "ajar"}, {1, "wide"}},
       1,
       is_a_box,
       {{"close", "", "door", 1, 0, false, false}},
       {{Take::look, Shows::wrong, "box.door open"}}},
      {"box",
       "gasket torn",
       &Params::gasket_leak,
       door_share,
       {{0.3, "a hand"}, {0.8, "a side"}},
       0.8,
       is_a_box,
       {{"replace", "", "gasket", 40, 60, false, false}},
       {{Take::look, Shows::wrong, "box.gasket leak"}}},
      {"box",
       "warm product",
       &Params::warm_product_w,
       coil_at_4_kelvins,
       {{0.5, "some"}, {1, "a pallet"}},
       1,
       is_a_box,
       {{"move out", "", "warm product", 30, 0, false, false}},
       {{Take::look, Shows::wrong, "box.warm product"},
        {Take::temperature, Shows::anything, "box.product", true}}},
  };
  return rows;
}

constexpr std::string_view kCompressor = "compressor";

const plant::Field& field_of(const PlantRow& row) {
  for (const plant::Field& field : plant::fields()) {
    if (field.member == row.member) return field;
  }
  return plant::fields().front();  // fields_test.cpp: every member has its field
}

plant::Scope scope_of(const PlantRow& row) { return field_of(row).scope; }

std::string thing_name(const Unit& unit, std::string_view thing, plant::Scope scope,
                       std::size_t which) {
  if (thing == kCompressor) {
    std::string device = driver_of(unit, plant::numbered("compressor.speed", which));
    if (!device.empty()) return device;
  }
  const bool several = scope != plant::Scope::machine && plant::has(unit.plant, scope, 1);
  return several ? std::string(thing) + " " + std::to_string(which + 1) : std::string(thing);
}

// The quantity that a condemning test looks at, of the evaporator or compressor meant. Kept for
// good: tests point at it.
std::string_view numbered_for_good(std::string_view quantity, std::size_t which) {
  if (which == 0 || quantity.empty()) return quantity;
  const int index = plant::find_quantity(plant::numbered(quantity, which));
  if (index < 0) return quantity;
  return plant::quantities()[static_cast<std::size_t>(index)].name;
}

}  // namespace

std::string thing_of(const Unit& unit, std::string_view thing, std::size_t which) {
  for (const PlantRow& row : plant_rows()) {
    if (row.thing == thing) return thing_name(unit, thing, scope_of(row), which);
  }
  return std::string(thing);
}

NumberedThing numbered_thing(std::string_view name) {
  const std::size_t space = name.rfind(' ');
  const bool number = space != std::string_view::npos && space + 2 == name.size() &&
                      name.back() >= '1' && name.back() <= '9';
  if (!number) return {name, 0};
  return {name.substr(0, space), static_cast<std::size_t>(name.back() - '1')};
}

std::string driver_of(const Unit& unit, std::string_view drive) {
  const int wanted = plant::find_drive(drive);
  for (std::size_t i = 0; i < unit.load_links.size() && i < unit.circuit.loads.size(); ++i) {
    if (wanted >= 0 && unit.load_links[i].plant_index == wanted) return unit.circuit.loads[i].name;
  }
  return {};
}

bool drives_a_compressor(const Unit& unit, std::string_view device) {
  for (std::size_t i = 0; i < plant::compressor_count(unit.plant); ++i) {
    if (driver_of(unit, plant::numbered("compressor.speed", i)) == device) return true;
  }
  return false;
}

std::vector<std::string> plant_things(const Unit& unit) {
  std::vector<std::string> names;
  for (const PlantRow& row : plant_rows()) {
    for (std::size_t i = 0; plant::has(unit.plant, scope_of(row), i); ++i) {
      if (row.possible != nullptr && !row.possible(unit, i)) continue;
      std::string name = thing_name(unit, row.thing, scope_of(row), i);
      if (std::find(names.begin(), names.end(), name) == names.end())
        names.push_back(std::move(name));
    }
  }
  return names;
}

std::vector<Mode> plant_modes(const Unit& unit, std::string_view thing) {
  std::vector<Mode> modes;
  for (const PlantRow& row : plant_rows()) {
    const plant::Scope scope = scope_of(row);
    for (std::size_t i = 0; plant::has(unit.plant, scope, i); ++i) {
      if (thing_name(unit, row.thing, scope, i) != thing) continue;
      if (row.possible != nullptr && !row.possible(unit, i)) continue;
      Mode mode;
      mode.how = row.how;
      mode.prior = std::string(row.thing) + ": " + std::string(row.how);
      mode.levels = row.levels;
      mode.usual = row.usual;
      mode.condition = row.thing != kCompressor;
      mode.cures = row.cures;
      mode.condemned_by = row.condemned_by;
      for (circuit::Condemn& test : mode.condemned_by) test.of = numbered_for_good(test.of, i);
      mode.apply = [field = &field_of(row), set = row.set, i](Unit& changed, double severity) {
        const Params before = changed.plant;
        const std::size_t coil = field->scope == plant::Scope::evaporator ? i : 0;
        set(plant::value_in(changed.plant, *field, i), {before, plant::evaporator_of(before, coil)},
            severity);
      };
      modes.push_back(std::move(mode));
    }
  }
  return modes;
}

}  // namespace legwork::fault
