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

using Possible = bool (*)(const Unit&);

struct PlantRow {
  std::string_view thing;
  std::string_view how;
  double Params::*member;
  void (*set)(double& value, const Params& healthy, double severity);
  std::vector<Level> levels;
  double usual;
  Possible possible;  // null: on every unit
  std::vector<Cure> cures;
  std::vector<circuit::Condemn> condemned_by;
};

using Take = circuit::Condemn::Take;
using Shows = circuit::Condemn::Shows;

// Ways in which a severity becomes a value.
void as_it_is(double& value, const Params&, double severity) { value = severity; }
void less_of_it(double& value, const Params&, double severity) { value *= 1 - severity; }
void more_of_it(double& value, const Params&, double severity) { value *= 1 + severity; }
// Ice that closes this share of the fin gaps: share = kg / (kg + frost_half_kg).
void ice_share(double& value, const Params& healthy, double severity) {
  value = healthy.frost_half_kg * severity / (1 - severity);
}
// Air left in by a vacuum that was not drawn: at worst an atmosphere of it in condenser and
// receiver, 1.2 kg a cubic metre, and the low side's share with it.
void atmospheres(double& value, const Params& healthy, double severity) {
  value = 1.2 * severity * (healthy.condenser_m3 + healthy.receiver_m3 + healthy.evaporator_m3);
}
void kelvins_lower(double& value, const Params&, double severity) { value = -severity; }
// Warm goods: at worst as much heat as a coil takes at a difference of 4 K.
void coil_at_4_kelvins(double& value, const Params& healthy, double severity) {
  value = 4 * severity * healthy.evaporator_w_k;
}
void door_share(double& value, const Params&, double severity) { value = 0.1 * severity; }

bool has_receiver(const Unit& unit) { return unit.plant.receiver_m3 > 0; }
bool has_valve(const Unit& unit) { return unit.plant.capillary < 0.5; }
bool has_tube(const Unit& unit) { return unit.plant.capillary >= 0.5; }
bool has_oil_pump(const Unit& unit) { return unit.plant.oil_rated_pa > 0; }
bool freezes(const Unit& unit) { return unit.plant.design_evaporating_k < 266; }
bool is_a_room(const Unit& unit) { return unit.plant.fresh_air_kg_s > 0; }
bool is_a_box(const Unit& unit) { return !is_a_room(unit); }
bool has_ports(const Unit& unit) { return !unit.gauge_place.empty(); }

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
       {{Take::gauges}}},

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

std::string thing_name(const Unit& unit, std::string_view thing) {
  if (thing == kCompressor) {
    std::string device = driver_of(unit, "compressor.speed");
    if (!device.empty()) return device;
  }
  return std::string(thing);
}

}  // namespace

std::string driver_of(const Unit& unit, std::string_view drive) {
  const int wanted = plant::find_drive(drive);
  for (std::size_t i = 0; i < unit.load_links.size() && i < unit.circuit.loads.size(); ++i) {
    if (wanted >= 0 && unit.load_links[i].plant_index == wanted) return unit.circuit.loads[i].name;
  }
  return {};
}

std::vector<std::string> plant_things(const Unit& unit) {
  std::vector<std::string> names;
  for (const PlantRow& row : plant_rows()) {
    if (row.possible != nullptr && !row.possible(unit)) continue;
    std::string name = thing_name(unit, row.thing);
    if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
  }
  return names;
}

std::vector<Mode> plant_modes(const Unit& unit, std::string_view thing) {
  std::vector<Mode> modes;
  for (const PlantRow& row : plant_rows()) {
    if (thing_name(unit, row.thing) != thing) continue;
    if (row.possible != nullptr && !row.possible(unit)) continue;
    Mode mode;
    mode.how = row.how;
    mode.prior = std::string(row.thing) + ": " + std::string(row.how);
    mode.levels = row.levels;
    mode.usual = row.usual;
    mode.condition = row.thing != kCompressor;
    mode.cures = row.cures;
    mode.condemned_by = row.condemned_by;
    mode.apply = [member = row.member, set = row.set](Unit& changed, double severity) {
      const Params before = changed.plant;
      set(changed.plant.*member, before, severity);
    };
    modes.push_back(std::move(mode));
  }
  return modes;
}

}  // namespace legwork::fault
