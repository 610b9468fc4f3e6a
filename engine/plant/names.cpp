#include <array>

#include "engine/plant/plant.h"

namespace legwork::plant {
namespace {

using D = Dimension;

#define LEGWORK_OUTPUT(member) \
  [](const Params&, const Outputs& o, const State&) -> double { return o.member; }
#define LEGWORK_STATE(member) \
  [](const Params&, const Outputs&, const State& s) -> double { return s.member; }
#define LEGWORK_PARAM(member) \
  [](const Params& p, const Outputs&, const State&) -> double { return p.member; }

double gauge(double pa, double atmosphere) { return pa - atmosphere + kAtmospherePa; }

// Gauge readings stand as the absolute pressure that shows the same psig at sea level, so that
// format_quantity prints what the gauge shows wherever the machine stands.
const std::array kQuantities = {
    Quantity{"suction", D::pressure,
             [](const Params&, const Outputs& o, const State&) {
               return gauge(o.suction_pa, o.atmosphere_pa);
             },
             "suction pressure at the compressor, as a gauge there shows it"},
    Quantity{"head", D::pressure,
             [](const Params&, const Outputs& o, const State&) {
               return gauge(o.discharge_pa, o.atmosphere_pa);
             },
             "discharge pressure, as a gauge there shows it"},
    Quantity{"liquid", D::pressure,
             [](const Params&, const Outputs& o, const State&) {
               return gauge(o.liquid_pa, o.atmosphere_pa);
             },
             "liquid line pressure after the drier, as a gauge there shows it"},
    Quantity{"oil.differential", D::pressure_difference, LEGWORK_OUTPUT(oil_differential_pa),
             "oil pump pressure over the crankcase"},
    Quantity{"box.air", D::temperature, LEGWORK_OUTPUT(box_k), "air in the box"},
    Quantity{"box.sensed", D::temperature, LEGWORK_STATE(sensor_k),
             "air in the box as the bulb or probe of a control feels it, some minutes behind"},
    Quantity{"box.product", D::temperature, LEGWORK_OUTPUT(product_k), "core of the goods"},
    Quantity{"box.humidity", D::fraction, LEGWORK_OUTPUT(box_relative_humidity),
             "relative humidity in the box"},
    Quantity{"box.air off coil", D::temperature, LEGWORK_OUTPUT(evaporator_air_off_k),
             "air leaving the evaporator"},
    Quantity{"box.door open", D::fraction, LEGWORK_PARAM(door_open), "door left open"},
    Quantity{"box.gasket leak", D::fraction, LEGWORK_PARAM(gasket_leak), "gap at the door gasket"},
    Quantity{"box.warm product", D::power, LEGWORK_PARAM(warm_product_w), "heat of a delivery"},
    Quantity{"coil.temperature", D::temperature, LEGWORK_OUTPUT(coil_k), "evaporator metal"},
    Quantity{"coil.outlet", D::temperature, LEGWORK_OUTPUT(coil_outlet_k),
             "suction line at the evaporator outlet, where the bulb sits"},
    Quantity{"coil.frost", D::mass,
             [](const Params& p, const Outputs&, const State& s) {
               return s.frost_kg + p.evaporator_ice_kg;
             },
             "frost and ice on the evaporator"},
    Quantity{"coil.frost share", D::fraction,
             [](const Params& p, const Outputs&, const State& s) {
               const double kg = s.frost_kg + p.evaporator_ice_kg;
               return kg / (kg + p.frost_half_kg);
             },
             "share of the fin gaps that frost has closed"},
    Quantity{"coil.dirt", D::fraction, LEGWORK_PARAM(evaporator_dirt), "dirt on its fins"},
    Quantity{"coil.air blocked", D::fraction, LEGWORK_PARAM(evaporator_air_blocked),
             "filter plugged or product against it"},
    Quantity{"coil.belt slip", D::fraction, LEGWORK_PARAM(belt_slip), "1: belt broken"},
    Quantity{"coil.superheat", D::temperature_difference, LEGWORK_OUTPUT(coil_superheat_k),
             "at the evaporator outlet"},
    Quantity{"coil.wetness", D::fraction, LEGWORK_OUTPUT(wetness), "share of it that is wet"},
    Quantity{"evaporating", D::temperature, LEGWORK_OUTPUT(evaporating_k), "dew temperature"},
    Quantity{"condensing", D::temperature, LEGWORK_OUTPUT(condensing_k),
             "mean of bubble and dew temperature"},
    Quantity{"drain.water", D::mass, LEGWORK_STATE(pan_water_kg), "water in the pan"},
    Quantity{"drain.ice", D::mass, LEGWORK_STATE(pan_ice_kg), "ice in the pan"},
    Quantity{"drain.temperature", D::temperature, LEGWORK_STATE(pan_k), "pan and drain line"},
    Quantity{"condenser.plugged", D::fraction, LEGWORK_PARAM(condenser_plugged),
             "dirt between the rows"},
    Quantity{"condenser.dirt", D::fraction, LEGWORK_PARAM(condenser_dirt), "dirt on the face"},
    Quantity{"condenser.guard blocked", D::fraction, LEGWORK_PARAM(condenser_guard_blocked),
             "fan guard blocked"},
    Quantity{"condenser.recirculation", D::fraction, LEGWORK_PARAM(condenser_recirculation),
             "warm air that comes round again"},
    Quantity{"condenser.water", D::mass, LEGWORK_STATE(fin_water_kg), "wet fins after a wash"},
    Quantity{"condenser.air on", D::temperature, LEGWORK_OUTPUT(condenser_air_on_k),
             "air entering the condenser"},
    Quantity{"condenser.air off", D::temperature, LEGWORK_OUTPUT(condenser_air_off_k),
             "air leaving the condenser"},
    // Those of air and water outside the pipes: a World, which knows the weather and the fans, puts
    // them right (World::quantity).
    Quantity{"condenser.air", D::fraction, LEGWORK_PARAM(condenser_recirculation),
             "below 0: no air moves; else the share of warm air that comes round again"},
    Quantity{"suction line.cover", D::number,
             [](const Params&, const Outputs& o, const State&) {
               return o.suction_line_k < 273.15 ? 2.0 : 0.0;
             },
             "0 dry, 1 it sweats, 2 frost; half more: so far as onto the compressor"},
    Quantity{"drier.drop", D::temperature_difference,
             [](const Params&, const Outputs& o, const State&) {
               return o.liquid_line_k - o.drier_outlet_k;
             },
             "how much colder its outlet is than the line ahead of it"},
    Quantity{"suction line", D::temperature, LEGWORK_OUTPUT(suction_line_k),
             "suction line at the compressor"},
    Quantity{"discharge line", D::temperature, LEGWORK_OUTPUT(discharge_line_k),
             "discharge line six inches from the compressor"},
    Quantity{"liquid line", D::temperature, LEGWORK_OUTPUT(liquid_line_k),
             "liquid line ahead of the drier"},
    Quantity{"drier outlet", D::temperature, LEGWORK_OUTPUT(drier_outlet_k),
             "liquid line after the drier"},
    Quantity{"shell", D::temperature, LEGWORK_STATE(shell_k), "compressor housing"},
    Quantity{"compressor.superheat", D::temperature_difference,
             LEGWORK_OUTPUT(compressor_superheat_k), "at the compressor"},
    Quantity{"compressor.power", D::power, LEGWORK_OUTPUT(shaft_w), "at the shaft"},
    Quantity{"compressor.flow", D::mass_flow, LEGWORK_OUTPUT(compressor_kg_s), "refrigerant"},
    Quantity{"compressor.slug", D::fraction, LEGWORK_STATE(slug), "liquid in its cylinders"},
    Quantity{"compressor.liquid", D::mass, LEGWORK_STATE(crankcase_kg),
             "liquid refrigerant in its oil"},
    Quantity{"compressor.valve leak", D::fraction, LEGWORK_PARAM(compressor_valve_leak),
             "leaking valves"},
    Quantity{"compressor.oil", D::fraction, LEGWORK_PARAM(oil_fraction), "oil left"},
    Quantity{"subcooling", D::temperature_difference, LEGWORK_OUTPUT(subcooling_k),
             "bubble temperature less liquid line"},
    Quantity{"sight glass", D::fraction, LEGWORK_OUTPUT(bubbles), "0 clear, 1 full of gas"},
    Quantity{"charge.fraction", D::fraction,
             [](const Params& p, const Outputs&, const State& s) {
               return refrigerant_kg(s) / p.charge_kg;
             },
             "refrigerant left, of the nameplate charge"},
    Quantity{"charge.air", D::mass, LEGWORK_PARAM(air_kg), "air in the system"},
    Quantity{"heat.evaporator", D::power, LEGWORK_OUTPUT(evaporator_w), "taken from the box"},
    Quantity{"heat.condenser", D::power, LEGWORK_OUTPUT(condenser_w), "given to outdoor air"},
    Quantity{"heat.doorway", D::power, LEGWORK_OUTPUT(doorway_w), "through the doorway"},
    Quantity{"heat.walls", D::power, LEGWORK_OUTPUT(wall_w), "through the walls"},
};

#undef LEGWORK_OUTPUT
#undef LEGWORK_STATE
#undef LEGWORK_PARAM

#define LEGWORK_INPUT(member) [](Inputs& i) -> double& { return i.member; }

const std::array kDrives = {
    Drive{"compressor.speed", LEGWORK_INPUT(compressor_speed), false, "of full speed, signed"},
    Drive{"compressor.loss", LEGWORK_INPUT(compressor_loss_w), true, "motor losses, W"},
    Drive{"compressor.crankcase heat", LEGWORK_INPUT(crankcase_heater_w), true, "W"},
    Drive{"condenser.fan 1", LEGWORK_INPUT(condenser_fan[0]), false, "of full speed, signed"},
    Drive{"condenser.fan 2", LEGWORK_INPUT(condenser_fan[1]), false, "of full speed, signed"},
    Drive{"evaporator.fan 1", LEGWORK_INPUT(evaporator_fan[0]), false, "of full speed, signed"},
    Drive{"evaporator.fan 2", LEGWORK_INPUT(evaporator_fan[1]), false, "of full speed, signed"},
    Drive{"evaporator.fan heat", LEGWORK_INPUT(evaporator_fan_w), true, "electrical watts"},
    Drive{"evaporator.defrost", LEGWORK_INPUT(defrost_w), true, "W"},
    Drive{"liquid line.valve", LEGWORK_INPUT(liquid_valve), false, "0 shut, 1 open"},
    Drive{"drain.heat", LEGWORK_INPUT(drain_heater_w), true, "W"},
    Drive{"box.door heat", LEGWORK_INPUT(door_heater_w), true, "W"},
    Drive{"box.door", LEGWORK_INPUT(door_open), false, "0 shut, 1 open"},
};

#undef LEGWORK_INPUT

template <typename Rows>
int find_row(const Rows& rows, std::string_view name) {
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (rows[i].name == name) return static_cast<int>(i);
  }
  return -1;
}

}  // namespace

std::span<const Quantity> quantities() { return kQuantities; }
int find_quantity(std::string_view name) { return find_row(kQuantities, name); }
double value_of(int quantity, const Params& params, const Outputs& outputs, const State& state) {
  return kQuantities[static_cast<std::size_t>(quantity)].value(params, outputs, state);
}

std::span<const Drive> drives() { return kDrives; }
int find_drive(std::string_view name) { return find_row(kDrives, name); }

}  // namespace legwork::plant
