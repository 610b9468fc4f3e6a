#include <algorithm>
#include <array>
#include <deque>
#include <string>
#include <vector>

#include "engine/plant/plant.h"

namespace legwork::plant {
namespace {

using D = Dimension;

// Where a value stands: of the machine, or of the compressor or evaporator that is asked for.
#define LEGWORK_ALL const Params &p, const Outputs &o, const State &s, std::size_t i
#define LEGWORK_VALUE(value)                                                                \
  [](LEGWORK_ALL) -> double {                                                               \
    static_cast<void>(p), static_cast<void>(o), static_cast<void>(s), static_cast<void>(i); \
    return value;                                                                           \
  }
#define LEGWORK_OUTPUT(member) LEGWORK_VALUE(o.member)
#define LEGWORK_STATE(member) LEGWORK_VALUE(s.member)
#define LEGWORK_PARAM(member) LEGWORK_VALUE(p.member)
#define LEGWORK_OF_COMPRESSOR(from, member) LEGWORK_VALUE(compressor_of(from, i).member)
#define LEGWORK_OF_EVAPORATOR(from, member) LEGWORK_VALUE(evaporator_of(from, i).member)

double gauge(double pa, double atmosphere) { return pa - atmosphere + kAtmospherePa; }

// Gauge readings stand as the absolute pressure that shows the same psig at sea level, so that
// format_quantity prints what the gauge shows wherever the machine stands.
const std::array kQuantities = {
    Quantity{"suction", D::pressure, LEGWORK_VALUE(gauge(o.suction_pa, o.atmosphere_pa)),
             "suction pressure at the compressor, as a gauge there shows it"},
    Quantity{"head", D::pressure, LEGWORK_VALUE(gauge(o.discharge_pa, o.atmosphere_pa)),
             "discharge pressure, as a gauge there shows it"},
    Quantity{"liquid", D::pressure, LEGWORK_VALUE(gauge(o.liquid_pa, o.atmosphere_pa)),
             "liquid line pressure after the drier, as a gauge there shows it"},
    Quantity{"oil.differential", D::pressure_difference,
             LEGWORK_OF_COMPRESSOR(o, oil_differential_pa), "oil pump pressure over the crankcase"},
    Quantity{"box.air", D::temperature, LEGWORK_OF_EVAPORATOR(o, box_k), "air in the box"},
    Quantity{"box.sensed", D::temperature, LEGWORK_OF_EVAPORATOR(s, sensor_k),
             "air in the box as the bulb or probe of a control feels it, some minutes behind"},
    Quantity{"box.product", D::temperature, LEGWORK_OF_EVAPORATOR(o, product_k),
             "core of the goods"},
    Quantity{"box.humidity", D::fraction, LEGWORK_OF_EVAPORATOR(o, box_relative_humidity),
             "relative humidity in the box"},
    Quantity{"box.air off coil", D::temperature, LEGWORK_OF_EVAPORATOR(o, evaporator_air_off_k),
             "air leaving the evaporator"},
    Quantity{"box.door open", D::fraction, LEGWORK_OF_EVAPORATOR(p, door_open), "door left open"},
    Quantity{"box.gasket leak", D::fraction, LEGWORK_OF_EVAPORATOR(p, gasket_leak),
             "gap at the door gasket"},
    Quantity{"box.warm product", D::power, LEGWORK_OF_EVAPORATOR(p, warm_product_w),
             "heat of a delivery"},
    Quantity{"coil.temperature", D::temperature, LEGWORK_OF_EVAPORATOR(o, coil_k),
             "evaporator metal"},
    Quantity{"coil.outlet", D::temperature, LEGWORK_OF_EVAPORATOR(o, coil_outlet_k),
             "suction line at the evaporator outlet, where the bulb sits"},
    Quantity{"coil.frost", D::mass,
             LEGWORK_VALUE(evaporator_of(s, i).frost_kg + evaporator_of(p, i).evaporator_ice_kg),
             "frost and ice on the evaporator"},
    Quantity{"coil.frost share", D::fraction,
             [](const Params& p, const Outputs&, const State& s, std::size_t i) {
               const EvaporatorParams& coil = evaporator_of(p, i);
               const double kg = evaporator_of(s, i).frost_kg + coil.evaporator_ice_kg;
               return kg / (kg + coil.frost_half_kg);
             },
             "share of the fin gaps that frost has closed"},
    Quantity{"coil.dirt", D::fraction, LEGWORK_OF_EVAPORATOR(p, evaporator_dirt),
             "dirt on its fins"},
    Quantity{"coil.air blocked", D::fraction, LEGWORK_OF_EVAPORATOR(p, evaporator_air_blocked),
             "filter plugged or product against it"},
    Quantity{"coil.belt slip", D::fraction, LEGWORK_OF_EVAPORATOR(p, belt_slip), "1: belt broken"},
    Quantity{"coil.superheat", D::temperature_difference,
             LEGWORK_OF_EVAPORATOR(o, coil_superheat_k), "at the evaporator outlet"},
    Quantity{"coil.wetness", D::fraction, LEGWORK_OF_EVAPORATOR(o, wetness),
             "share of it that is wet"},
    Quantity{"evaporating", D::temperature, LEGWORK_OUTPUT(evaporating_k), "dew temperature"},
    Quantity{"condensing", D::temperature, LEGWORK_OUTPUT(condensing_k),
             "mean of bubble and dew temperature"},
    Quantity{"drain.water", D::mass, LEGWORK_OF_EVAPORATOR(s, pan_water_kg), "water in the pan"},
    Quantity{"drain.ice", D::mass, LEGWORK_OF_EVAPORATOR(s, pan_ice_kg), "ice in the pan"},
    Quantity{"drain.temperature", D::temperature, LEGWORK_OF_EVAPORATOR(s, pan_k),
             "pan and drain line"},
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
    Quantity{"suction line.cover", D::number, LEGWORK_VALUE(o.suction_line_k < 273.15 ? 2.0 : 0.0),
             "0 dry, 1 it sweats, 2 frost; half more: so far as onto the compressor"},
    Quantity{"drier.drop", D::temperature_difference,
             LEGWORK_VALUE(o.liquid_line_k - o.drier_outlet_k),
             "how much colder its outlet is than the line ahead of it"},
    Quantity{"suction line", D::temperature, LEGWORK_OUTPUT(suction_line_k),
             "suction line at the compressor"},
    Quantity{"discharge line", D::temperature, LEGWORK_OF_COMPRESSOR(o, discharge_line_k),
             "discharge line six inches from the compressor"},
    Quantity{"liquid line", D::temperature, LEGWORK_OUTPUT(liquid_line_k),
             "liquid line ahead of the drier"},
    Quantity{"drier outlet", D::temperature, LEGWORK_OUTPUT(drier_outlet_k),
             "liquid line after the drier"},
    Quantity{"shell", D::temperature, LEGWORK_OF_COMPRESSOR(s, shell_k), "compressor housing"},
    Quantity{"compressor.superheat", D::temperature_difference,
             LEGWORK_OUTPUT(compressor_superheat_k), "at the compressor"},
    Quantity{"compressor.power", D::power, LEGWORK_OF_COMPRESSOR(o, shaft_w), "at the shaft"},
    Quantity{"compressor.flow", D::mass_flow, LEGWORK_OF_COMPRESSOR(o, compressor_kg_s),
             "refrigerant"},
    Quantity{"compressor.slug", D::fraction, LEGWORK_OF_COMPRESSOR(s, slug),
             "liquid in its cylinders"},
    Quantity{"compressor.liquid", D::mass, LEGWORK_OF_COMPRESSOR(s, crankcase_kg),
             "liquid refrigerant in its oil"},
    Quantity{"compressor.valve leak", D::fraction, LEGWORK_OF_COMPRESSOR(p, compressor_valve_leak),
             "leaking valves"},
    Quantity{"compressor.oil", D::fraction, LEGWORK_OF_COMPRESSOR(p, oil_fraction), "oil left"},
    Quantity{"subcooling", D::temperature_difference, LEGWORK_OUTPUT(subcooling_k),
             "bubble temperature less liquid line"},
    Quantity{"sight glass", D::fraction, LEGWORK_OUTPUT(bubbles), "0 clear, 1 full of gas"},
    Quantity{"charge.fraction", D::fraction, LEGWORK_VALUE(refrigerant_kg(s) / p.charge_kg),
             "refrigerant left, of the nameplate charge"},
    Quantity{"charge.air", D::mass, LEGWORK_PARAM(air_kg), "air in the system"},
    Quantity{"heat.evaporator", D::power, LEGWORK_OF_EVAPORATOR(o, evaporator_w),
             "taken from the box"},
    Quantity{"heat.condenser", D::power, LEGWORK_OUTPUT(condenser_w), "given to outdoor air"},
    Quantity{"heat.doorway", D::power, LEGWORK_OF_EVAPORATOR(o, doorway_w), "through the doorway"},
    Quantity{"heat.walls", D::power, LEGWORK_OF_EVAPORATOR(o, wall_w), "through the walls"},
};

#undef LEGWORK_OUTPUT
#undef LEGWORK_STATE
#undef LEGWORK_PARAM
#undef LEGWORK_VALUE
#undef LEGWORK_OF_COMPRESSOR
#undef LEGWORK_OF_EVAPORATOR
#undef LEGWORK_ALL

#define LEGWORK_INPUT(value)                 \
  [](Inputs& in, std::size_t i) -> double& { \
    static_cast<void>(i);                    \
    return value;                            \
  }

const std::array kDrives = {
    Drive{"compressor.speed", LEGWORK_INPUT(compressor_of(in, i).compressor_speed), false,
          "of full speed, signed"},
    Drive{"compressor.loss", LEGWORK_INPUT(compressor_of(in, i).compressor_loss_w), true,
          "motor losses, W"},
    Drive{"compressor.crankcase heat", LEGWORK_INPUT(compressor_of(in, i).crankcase_heater_w), true,
          "W"},
    Drive{"condenser.fan 1", LEGWORK_INPUT(in.condenser_fan[0]), false, "of full speed, signed"},
    Drive{"condenser.fan 2", LEGWORK_INPUT(in.condenser_fan[1]), false, "of full speed, signed"},
    Drive{"evaporator.fan 1", LEGWORK_INPUT(evaporator_of(in, i).evaporator_fan[0]), false,
          "of full speed, signed"},
    Drive{"evaporator.fan 2", LEGWORK_INPUT(evaporator_of(in, i).evaporator_fan[1]), false,
          "of full speed, signed"},
    Drive{"evaporator.fan heat", LEGWORK_INPUT(evaporator_of(in, i).evaporator_fan_w), true,
          "electrical watts"},
    Drive{"evaporator.defrost", LEGWORK_INPUT(evaporator_of(in, i).defrost_w), true, "W"},
    Drive{"liquid line.valve", LEGWORK_INPUT(evaporator_of(in, i).liquid_valve), false,
          "0 shut, 1 open"},
    Drive{"drain.heat", LEGWORK_INPUT(evaporator_of(in, i).drain_heater_w), true, "W"},
    Drive{"box.door heat", LEGWORK_INPUT(evaporator_of(in, i).door_heater_w), true, "W"},
    Drive{"box.door", LEGWORK_INPUT(evaporator_of(in, i).door_open), false, "0 shut, 1 open"},
};

#undef LEGWORK_INPUT

// What belongs to each compressor or evaporator, by the word before its dot and by its own.
struct Belongs {
  std::string_view name;
  Scope scope;
};
constexpr Belongs kBelongs[] = {
    {"oil.", Scope::compressor},        {"discharge line", Scope::compressor},
    {"shell", Scope::compressor},       {"compressor.superheat", Scope::machine},
    {"compressor.", Scope::compressor}, {"box.", Scope::evaporator},
    {"coil.", Scope::evaporator},       {"drain.", Scope::evaporator},
    {"heat.condenser", Scope::machine}, {"heat.", Scope::evaporator},
    {"evaporator.", Scope::evaporator}, {"liquid line.valve", Scope::evaporator},
};
Scope scope_of(std::string_view name) {
  for (const Belongs& row : kBelongs) {
    if (name.starts_with(row.name)) return row.scope;
  }
  return Scope::machine;
}

std::size_t most_of(Scope scope) {
  return scope == Scope::compressor   ? kMostCompressors
         : scope == Scope::evaporator ? kMostEvaporators
                                      : 1;
}

// The table as written, then the same rows of the second, the third ...
template <typename Row, std::size_t n>
std::vector<Row> all_rows(const std::array<Row, n>& written) {
  static std::deque<std::string> names;  // what the rows point at
  std::vector<Row> rows(written.begin(), written.end());
  for (Row& row : rows) row.scope = scope_of(row.name);
  for (std::size_t which = 1; which < std::max(kMostCompressors, kMostEvaporators); ++which) {
    for (std::size_t i = 0; i < n; ++i) {
      if (which >= most_of(rows[i].scope)) continue;
      Row row = rows[i];
      row.which = which;
      row.name = names.emplace_back(numbered(row.name, which));
      rows.push_back(row);
    }
  }
  return rows;
}

const std::vector<Quantity>& all_quantities() {
  static const std::vector<Quantity> rows = all_rows(kQuantities);
  return rows;
}
const std::vector<Drive>& all_drives() {
  static const std::vector<Drive> rows = all_rows(kDrives);
  return rows;
}

// Where a name says which one: "box.2.air" at 3, "shell.2" at 5; npos where it does not.
std::size_t number_at(std::string_view name) {
  for (std::size_t dot = name.find('.'); dot != std::string_view::npos;
       dot = name.find('.', dot + 1)) {
    const bool digit = dot + 1 < name.size() && name[dot + 1] >= '1' && name[dot + 1] <= '9';
    if (digit && (dot + 2 == name.size() || name[dot + 2] == '.')) return dot;
  }
  return std::string_view::npos;
}

template <typename Row, std::size_t n>
int find_row(const std::array<Row, n>& written, const std::vector<Row>& all,
             std::string_view name) {
  for (std::size_t i = 0; i < n; ++i) {
    if (written[i].name == name) return static_cast<int>(i);
  }
  const std::size_t at = number_at(name);
  if (at == std::string_view::npos) return -1;
  if (name[at + 1] == '1') {  // the first has its plain name, and belongs to something numbered
    const int index = find_row(written, all, unnumbered(name));
    return index >= 0 && all[static_cast<std::size_t>(index)].scope != Scope::machine ? index : -1;
  }
  for (std::size_t i = n; i < all.size(); ++i) {
    if (all[i].name == name) return static_cast<int>(i);
  }
  return -1;
}

}  // namespace

std::span<const Quantity> quantities() { return all_quantities(); }
int find_quantity(std::string_view name) { return find_row(kQuantities, all_quantities(), name); }
double value_of(int quantity, const Params& params, const Outputs& outputs, const State& state) {
  return all_quantities()[static_cast<std::size_t>(quantity)].value(params, outputs, state);
}

std::span<const Drive> drives() { return all_drives(); }
int find_drive(std::string_view name) { return find_row(kDrives, all_drives(), name); }

bool has(const Params& params, Scope scope, std::size_t which) {
  return which < (scope == Scope::compressor   ? compressor_count(params)
                  : scope == Scope::evaporator ? evaporator_count(params)
                                               : 1);
}

std::string unnumbered(std::string_view name) {
  const std::size_t at = number_at(name);
  if (at == std::string_view::npos) return std::string(name);
  return std::string(name.substr(0, at)) + std::string(name.substr(at + 2));
}

std::string numbered(std::string_view name, std::size_t which) {
  if (which == 0) return std::string(name);
  const std::size_t dot = std::min(name.find('.'), name.size());
  return std::string(name.substr(0, dot)) + "." + std::to_string(which + 1) +
         std::string(name.substr(dot));
}

}  // namespace legwork::plant
