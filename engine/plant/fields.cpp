
#include "engine/plant/params.h"

namespace legwork::plant {
namespace {

using D = Dimension;
constexpr FieldRole kMachine = FieldRole::machine;
constexpr FieldRole kCondition = FieldRole::condition;
constexpr double f(double fahrenheit) { return kelvin_from_fahrenheit(fahrenheit); }

std::vector<Field> make_fields() {
  using P = Params;
  return {
      {"site", "altitude", &P::altitude_m, D::length, -500, 4000, kMachine,
       "height above the sea: gauges read against the local atmosphere, fans move thinner air"},

      {"compressor", "displacement", &P::displacement_m3_s, D::volume_flow, 1e-5, 0.2, kMachine,
       "swept volume per time at full speed"},
      {"compressor", "volumetric intercept", &P::volumetric_intercept, D::number, 0.3, 1.1,
       kMachine, "volumetric efficiency = intercept - slope x pressure ratio"},
      {"compressor", "volumetric slope", &P::volumetric_slope, D::number, 0, 0.2, kMachine,
       "loss of volumetric efficiency for each unit of pressure ratio"},
      {"compressor", "isentropic efficiency", &P::isentropic_efficiency, D::fraction, 0.3, 1,
       kMachine, "isentropic work over indicated work, friction aside"},
      {"compressor", "friction", &P::friction_w, D::power, 0, 5000, kMachine,
       "at full speed; it warms the shell"},
      {"compressor", "speed", &P::rotation_hz, D::rotation, 10, 120, kMachine,
       "revolutions at full speed"},
      {"compressor", "scroll", &P::scroll, D::number, 0, 1, kMachine,
       "1: pumps in one direction only"},
      {"compressor", "relief", &P::relief_pa, D::pressure_difference, 1e6, 6e6, kMachine,
       "internal relief valve: discharge over suction at which it opens"},
      {"compressor", "shell heat capacity", &P::shell_j_k, D::heat_capacity, 500, 1e6, kMachine,
       "housing, motor and oil"},
      {"compressor", "shell loss", &P::shell_w_k, D::thermal_conductance, 0.1, 200, kMachine,
       "from the housing to the air around it"},
      {"compressor", "shell exchange", &P::shell_gas_share, D::fraction, 0, 0.9, kMachine,
       "share of the difference to the housing that gas exchanges, on its way in and out"},
      {"compressor", "oil pressure", &P::oil_rated_pa, D::pressure_difference, 0, 1e6, kMachine,
       "of the oil pump over the crankcase, at full speed with good oil; 0: no pump"},
      {"compressor", "oil dilution", &P::oil_dilution_kg, D::mass, 0.01, 50, kMachine,
       "liquid refrigerant in the crankcase that halves the oil pressure"},
      {"compressor", "polynomial scale", &P::polynomial_scale, D::number, 0, 20, kMachine,
       "0: volumetric model; otherwise the AHRI 540 polynomials times this"},
      {"compressor", "polynomial motor efficiency", &P::polynomial_motor_efficiency, D::fraction,
       0.5, 1, kMachine, "shaft share of the power polynomial, which is electrical"},

      {"condenser", "conductance", &P::condenser_w_k, D::thermal_conductance, 1, 50000, kMachine,
       "outdoor air to condensing refrigerant, clean, all fans"},
      {"condenser", "air flow", &P::condenser_air_w_k, D::thermal_conductance, 1, 100000, kMachine,
       "heat capacity of the air moved by all fans, per time"},
      {"condenser", "fans", &P::condenser_fans, D::number, 1, 2, kMachine, "1 or 2"},
      {"condenser", "still air", &P::condenser_still_air, D::fraction, 0.01, 0.5, kMachine,
       "share of the conductance with the fans off"},
      {"condenser", "heat capacity", &P::condenser_j_k, D::heat_capacity, 200, 1e6, kMachine,
       "its metal"},
      {"condenser", "volume", &P::condenser_m3, D::volume, 1e-4, 0.2, kMachine,
       "inside, with the discharge line"},
      {"condenser", "receiver", &P::receiver_m3, D::volume, 0, 0.5, kMachine, "0: none"},
      {"condenser", "subcooling share", &P::subcooling_share, D::fraction, 0, 0.9, kMachine,
       "liquid leaves below condensing by this share of (condensing - outdoor)"},
      {"condenser", "head valve", &P::head_valve_pa, D::pressure, 0, 5e6, kMachine,
       "head-pressure valve: holds the head here in the cold by flooding the condenser; leave out "
       "for none"},

      {"liquid line", "heat capacity", &P::liquid_line_j_k, D::heat_capacity, 50, 1e5, kMachine,
       "pipe and its liquid"},
      {"liquid line", "conductance", &P::liquid_line_w_k, D::thermal_conductance, 0, 100, kMachine,
       "to the air around it"},
      {"liquid line", "liquid", &P::liquid_line_kg, D::mass, 0.005, 50, kMachine,
       "liquid it holds when full; short of it there are bubbles"},

      {"valve", "capacity", &P::valve_kg_s, D::mass_flow, 1e-5, 2, kMachine,
       "wide open, liquid of 1,100 kg/m3, 10 bar across it"},
      {"valve", "static superheat", &P::valve_static_k, D::temperature_difference, 0, 20, kMachine,
       "superheat at which it begins to open"},
      {"valve", "range", &P::valve_range_k, D::temperature_difference, 0.5, 20, kMachine,
       "further superheat to wide open"},
      {"valve", "cap", &P::valve_cap_pa, D::pressure, 0, 3e6, kMachine,
       "maximum operating pressure: it closes as suction rises to it; leave out for none"},
      {"valve", "bulb time", &P::valve_bulb_s, D::time, 1, 300, kMachine,
       "time constant of the bulb"},
      {"valve", "capillary", &P::capillary, D::number, 0, 1, kMachine,
       "1: a fixed tube in place of a valve"},

      {"evaporator", "conductance", &P::evaporator_w_k, D::thermal_conductance, 1, 50000, kMachine,
       "box air to evaporating refrigerant, clean, all fans"},
      {"evaporator", "air flow", &P::evaporator_air_w_k, D::thermal_conductance, 1, 100000,
       kMachine, "heat capacity of the air moved by all fans, per time"},
      {"evaporator", "fans", &P::evaporator_fans, D::number, 1, 2, kMachine, "1 or 2"},
      {"evaporator", "still air", &P::evaporator_still_air, D::fraction, 0.01, 0.5, kMachine,
       "share of the conductance with the fans off"},
      {"evaporator", "heat capacity", &P::evaporator_j_k, D::heat_capacity, 200, 1e6, kMachine,
       "metal, with its usual liquid"},
      {"evaporator", "volume", &P::evaporator_m3, D::volume, 1e-4, 0.5, kMachine,
       "inside, with the suction line"},
      {"evaporator", "liquid", &P::evaporator_liquid_kg, D::mass, 0.005, 50, kMachine,
       "refrigerant that wets it to the outlet"},
      {"evaporator", "frost half", &P::frost_half_kg, D::mass, 0.05, 200, kMachine,
       "frost that halves the air side"},
      {"evaporator", "defrost share", &P::defrost_to_coil, D::fraction, 0.1, 0.97, kMachine,
       "of the defrost heat that goes into the coil; the rest warms the box"},
      {"evaporator", "design evaporating", &P::design_evaporating_k, D::temperature, 200, 300,
       kMachine, "where energy stored in the low side is reckoned"},

      {"suction line", "heat capacity", &P::suction_line_j_k, D::heat_capacity, 50, 1e5, kMachine,
       "pipe"},
      {"suction line", "conductance", &P::suction_line_w_k, D::thermal_conductance, 0, 200,
       kMachine, "to the air around it"},
      {"suction line", "in box", &P::suction_line_in_box, D::fraction, 0, 1, kMachine,
       "share of it that lies in box air"},
      {"suction line", "accumulator", &P::accumulator_kg, D::mass, 0, 50, kMachine,
       "liquid that it holds back from the compressor; 0: there is none"},
      {"suction line", "drop", &P::suction_drop_pa, D::pressure_difference, 0, 2e5, kMachine,
       "pressure drop at a flow of valve.capacity"},

      {"box", "air", &P::box_air_m3, D::volume, 0.05, 5000, kMachine, "air in it"},
      {"box", "sensor time", &P::box_sensor_s, D::time, 1, 1200, kMachine,
       "time constant of the bulb or probe of its control, in the air that it hangs in"},
      {"box", "structure", &P::structure_j_k, D::heat_capacity, 1000, 1e9, kMachine,
       "liner and shelves: follow the air within minutes"},
      {"box", "structure conductance", &P::structure_w_k, D::thermal_conductance, 0.1, 1e5,
       kMachine, "air to liner and shelves"},
      {"box", "walls", &P::wall_w_k, D::thermal_conductance, 0, 5000, kMachine,
       "walls, floor and ceiling"},
      {"box", "walls outdoors", &P::wall_outdoors, D::fraction, 0, 1, kMachine,
       "share of them that faces outdoors, not the room"},
      {"box", "door", &P::door_m2, D::area, 0, 50, kMachine, "area of the doorway"},
      {"box", "door height", &P::door_height_m, D::length, 0.1, 10, kMachine, "of the doorway"},
      {"box", "door flow", &P::door_flow, D::fraction, 0, 1.2, kMachine,
       "doorway flow factor: 0.8, or 1.1 where the difference is below 11 K"},
      {"box", "door protection", &P::door_protection, D::fraction, 0, 1, kMachine,
       "0.9 strip curtain, 0.5 air curtain"},
      {"box", "door usage", &P::door_usage, D::fraction, 0, 1, kMachine,
       "open share of an ordinary hour"},
      {"box", "fresh air", &P::fresh_air_kg_s, D::mass_flow, 0, 100, kMachine,
       "outdoor air while the evaporator fan runs"},
      {"box", "load", &P::internal_w, D::power, 0, 1e6, kMachine, "people, lights, machines"},
      {"box", "moisture", &P::internal_moisture_kg_s, D::mass_flow, 0, 1, kMachine,
       "water given off by people and goods"},
      {"box", "product", &P::product_kg, D::mass, 0, 1e6, kMachine, "goods stored"},
      {"box", "product conductance", &P::product_w_k, D::thermal_conductance, 0, 1e5, kMachine,
       "air to goods"},
      {"box", "product frozen heat", &P::product_frozen_j_kg_k, D::specific_heat, 100, 10000,
       kMachine, "frozen"},
      {"box", "product thawed heat", &P::product_thawed_j_kg_k, D::specific_heat, 100, 10000,
       kMachine, "thawed"},
      {"box", "product latent", &P::product_latent_j_kg, D::number, 0, 4e5, kMachine,
       "J/kg taken up between the next two temperatures"},
      {"box", "product frozen at", &P::product_frozen_k, D::temperature, f(0), f(31), kMachine,
       "all frozen below"},
      {"box", "product thawed at", &P::product_thawed_k, D::temperature, f(20), f(40), kMachine,
       "all thawed above"},

      {"drain", "heat capacity", &P::pan_j_k, D::heat_capacity, 100, 1e5, kMachine,
       "pan and drain line"},
      {"drain", "conductance", &P::pan_w_k, D::thermal_conductance, 0.05, 100, kMachine,
       "to box air"},
      {"drain", "pan", &P::pan_kg, D::mass, 0.05, 100, kMachine,
       "holds this much water or ice before it runs over onto the coil"},
      {"drain", "time", &P::drain_s, D::time, 1, 3600, kMachine, "time constant of an open drain"},

      {"charge", "full", &P::charge_kg, D::mass, 0.02, 500, kMachine, "nameplate charge"},

      {"charge", "fraction", &P::charge_fraction, D::fraction, 0, 1.6, kCondition,
       "of the nameplate charge that is in it"},
      {"charge", "air", &P::air_kg, D::mass, 0, 2, kCondition, "air in the system"},
      {"compressor", "valve leak", &P::compressor_valve_leak, D::fraction, 0, 1, kCondition,
       "valves that leak: 1 pumps nothing"},
      {"compressor", "oil", &P::oil_fraction, D::fraction, 0, 1, kCondition, "oil left"},
      {"suction line", "valve shut", &P::suction_valve_shut, D::fraction, 0, 1, kCondition,
       "suction service valve turned in"},
      {"condenser", "plugged", &P::condenser_plugged, D::fraction, 0, 0.95, kCondition,
       "dirt between the rows; the face may look clean"},
      {"condenser", "dirt", &P::condenser_dirt, D::fraction, 0, 0.95, kCondition,
       "dirt on the face"},
      {"condenser", "guard blocked", &P::condenser_guard_blocked, D::fraction, 0, 0.95, kCondition,
       "leaves or plastic on the fan guard"},
      {"condenser", "recirculation", &P::condenser_recirculation, D::fraction, 0, 0.7, kCondition,
       "share of its warm air that comes round again"},
      {"liquid line", "receiver valve shut", &P::receiver_valve_shut, D::fraction, 0, 1, kCondition,
       "receiver outlet valve turned in"},
      {"liquid line", "drier plugged", &P::drier_plugged, D::fraction, 0, 1, kCondition,
       "dirt or moisture in the drier"},
      {"valve", "capacity left", &P::valve_capacity, D::fraction, 0, 1.5, kCondition,
       "below 1 it starves the coil: dirt, lost bulb charge"},
      {"valve", "superheat shift", &P::valve_superheat_shift_k, D::temperature_difference, -15, 30,
       kCondition, "below 0 it floods"},
      {"valve", "stuck", &P::valve_stuck, D::number, -1, 1, kCondition,
       "0 to 1: stuck that far open; -1: not stuck"},
      {"valve", "bulb loose", &P::valve_bulb_loose, D::fraction, 0, 1, kCondition,
       "1: the bulb feels the air and not the pipe"},
      {"evaporator", "dirt", &P::evaporator_dirt, D::fraction, 0, 0.95, kCondition,
       "dirt on the fins"},
      {"evaporator", "air blocked", &P::evaporator_air_blocked, D::fraction, 0, 0.95, kCondition,
       "filter plugged, or product stacked against the coil"},
      {"evaporator", "ice", &P::evaporator_ice_kg, D::mass, 0, 200, kCondition,
       "ice that a defrost does not reach"},
      {"evaporator", "belt slip", &P::belt_slip, D::fraction, 0, 1, kCondition, "1: belt broken"},
      {"drain", "frozen", &P::drain_frozen, D::fraction, 0, 1, kCondition,
       "ice in the drain line: 1 lets nothing through"},
      {"box", "door open", &P::door_open, D::fraction, 0, 1, kCondition, "door left open"},
      {"box", "gasket leak", &P::gasket_leak, D::fraction, 0, 1, kCondition,
       "as an always open share of the doorway"},
      {"box", "warm product", &P::warm_product_w, D::power, 0, 1e5, kCondition,
       "heat from a delivery 40 K warmer than the goods in it; less as they near the room"},
      {"condenser", "head valve stuck", &P::head_valve_stuck, D::number, -1, 1, kCondition,
       "0 to 1: stuck that far open; -1: not stuck"},
      {"condenser", "head valve shift", &P::head_valve_shift_pa, D::pressure_difference, -2e6, 2e6,
       kCondition, "head-pressure valve set off its mark"},
  };
}

// A group of values belongs to the machine, to each compressor or to each evaporator.
Scope scope_of_group(std::string_view group) {
  if (group == "compressor") return Scope::compressor;
  for (const std::string_view one : {"valve", "evaporator", "box", "drain"}) {
    if (group == one) return Scope::evaporator;
  }
  return Scope::machine;
}

}  // namespace

const std::vector<Field>& fields() {
  static const std::vector<Field> kFields = [] {
    std::vector<Field> all = make_fields();
    for (Field& field : all) field.scope = scope_of_group(field.group);
    return all;
  }();
  return kFields;
}

double& value_in(Params& params, const Field& field, std::size_t i) {
  if (i > 0 && field.scope == Scope::compressor)
    return params.more_compressors[i - 1].*static_cast<double CompressorParams::*>(field.member);
  if (i > 0 && field.scope == Scope::evaporator)
    return params.more_evaporators[i - 1].*static_cast<double EvaporatorParams::*>(field.member);
  return params.*field.member;
}

Scope scope_of(std::string_view group) {
  for (const Field& field : fields()) {
    if (field.group == group) return field.scope;
  }
  return Scope::machine;
}

const std::vector<PolynomialField>& polynomial_fields() {
  static const std::vector<PolynomialField> kFields = {
      {"compressor", "capacity polynomial", &Params::capacity_polynomial,
       "AHRI 540, 10 coefficients: W from suction dew and discharge dew temperature in C"},
      {"compressor", "power polynomial", &Params::power_polynomial,
       "AHRI 540, 10 coefficients: electrical W"},
  };
  return kFields;
}

namespace {

// Says what is not so, at the field that would mend it.
class Needs {
 public:
  explicit Needs(std::vector<Problem>& found) : found_(&found) {}
  void of(std::size_t which) { which_ = which; }
  void operator()(bool good, std::string_view group, std::string_view key, const Phrase& words,
                  const Message& hint = {}) const {
    if (!good) found_->push_back({words, hint, group, key, which_});
  }

 private:
  std::vector<Problem>* found_;
  std::size_t which_ = 0;
};

void needs_of_evaporator(const EvaporatorParams& p, const Needs& needs) {
  // Metal must be slow against a tick: two seconds leave a factor of eight.
  needs(p.evaporator_j_k >= 8.0 * p.evaporator_w_k, "evaporator", "heat capacity",
        phrase("evaporator: heat capacity is too small for its conductance (under 8 seconds)"));
  needs(p.evaporator_air_w_k >= p.evaporator_w_k, "evaporator", "air flow",
        phrase("evaporator: its air flow cannot carry what its conductance takes"));
  needs(p.box_air_m3 * 1200.0 + p.structure_j_k >= 4.0 * p.evaporator_w_k, "box", "air",
        phrase("box: too small for the evaporator"));
  needs(p.product_thawed_k > p.product_frozen_k, "box", "product thawed at",
        phrase("box: product thaws before it is frozen"));
  needs(p.evaporator_fans == 1.0 || p.evaporator_fans == 2.0, "evaporator", "fans",
        phrase("evaporator: fans must be 1 or 2"));
}

void needs_of_compressor(const CompressorParams& p, const Needs& needs) {
  needs(p.volumetric_intercept > 3.0 * p.volumetric_slope, "compressor", "volumetric slope",
        phrase("compressor: volumetric efficiency is nothing at a ratio of 3"));
  needs(p.polynomial_scale == 0.0 || p.capacity_polynomial[0] != 0.0, "compressor",
        "polynomial scale", phrase("compressor: polynomial scale without a capacity polynomial"));
}

}  // namespace

std::vector<Problem> problems(const Params& p) {
  std::vector<Problem> found;
  Needs needs(found);
  needs(p.refrigerant != nullptr, "", "refrigerant", phrase("missing refrigerant"));
  double valves_kg_s = 0.0, evaporator_liquid_kg = 0.0;
  for (std::size_t i = 0; i < evaporator_count(p); ++i) {
    const EvaporatorParams& one = evaporator_of(p, i);
    needs.of(i);
    needs_of_evaporator(one, needs);
    valves_kg_s += one.valve_kg_s;
    evaporator_liquid_kg += one.evaporator_liquid_kg;
  }
  for (std::size_t i = 0; i < compressor_count(p); ++i) {
    needs.of(i);
    needs_of_compressor(compressor_of(p, i), needs);
  }
  needs.of(0);
  needs(evaporator_count(p) == 1 || p.suction_line_in_box == 0.0, "suction line", "in box",
        phrase("suction line: of several boxes, it lies in none ('in box' must be 0)"),
        phrase("leave 'in box' out: the lines of several boxes join outside them"));
  needs(p.condenser_j_k >= 8.0 * p.condenser_w_k, "condenser", "heat capacity",
        phrase("condenser: heat capacity is too small for its conductance (under 8 seconds)"));
  needs(p.condenser_air_w_k >= p.condenser_w_k, "condenser", "air flow",
        phrase("condenser: its air flow cannot carry what its conductance gives"));
  needs(p.head_valve_pa == 0.0 || p.receiver_m3 > 0.0, "condenser", "head valve",
        phrase("condenser: a head valve needs a receiver to fill the condenser from"));
  needs(p.suction_line_j_k >= 500.0 * valves_kg_s, "suction line", "heat capacity",
        phrase("suction line: heat capacity is too small for the flow"));
  needs(p.liquid_line_j_k >= 1500.0 * valves_kg_s, "liquid line", "heat capacity",
        phrase("liquid line: heat capacity is too small for the flow"));
  needs(p.condenser_fans == 1.0 || p.condenser_fans == 2.0, "condenser", "fans",
        phrase("condenser: fans must be 1 or 2"));
  if (p.refrigerant != nullptr) {
    const double liquid_kg = 0.85 * (p.condenser_m3 + p.receiver_m3) *
                             p.refrigerant->liquid_kg_m3(kelvin_from_fahrenheit(100));
    needs(p.charge_kg < liquid_kg + evaporator_liquid_kg, "charge", "full",
          phrase("charge: does not fit into condenser, receiver and evaporator"));
  }
  return found;
}

}  // namespace legwork::plant
