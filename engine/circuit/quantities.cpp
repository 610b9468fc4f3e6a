#include "engine/circuit/quantities.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace legwork::circuit {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
constexpr double kHeardVoltAmperes = 1;  // VA; the hum of a smaller coil cannot be heard

// Index of the first actuator of a device that fits; -1: none.
template <typename Fits>
int first_actuator(const Circuit& circuit, DeviceId device, Fits fits) {
  for (std::size_t i = 0; i < circuit.actuators.size(); ++i)
    if (circuit.actuators[i].device == device && fits(circuit.actuators[i]))
      return static_cast<int>(i);
  return -1;
}
template <typename Fits>
double position_of(const DeviceView& view, DeviceId device, Fits fits) {
  const int i = first_actuator(view.circuit, device, fits);
  return i < 0 ? kNone : view.state.position[static_cast<std::size_t>(i)];
}
std::size_t row_of(const DeviceView& view, int actuator) {
  return static_cast<std::size_t>(view.circuit.actuators[static_cast<std::size_t>(actuator)].row);
}

double position(const DeviceView& view, DeviceId device) {
  return position_of(view, device, [](const Actuator&) { return true; });
}
double handle(const DeviceView& view, DeviceId device) {
  const double on =
      position_of(view, device, [](const Actuator& a) { return a.kind == ActuatorKind::hand; });
  const double tripped =
      position_of(view, device, [](const Actuator& a) { return a.kind == ActuatorKind::heat; });
  return on == 1 ? (tripped == 1 ? 1 : 2) : on;
}

bool latches(const Circuit& circuit, const Actuator& actuator) {
  return actuator.kind == ActuatorKind::threshold &&
         circuit.thresholds[static_cast<std::size_t>(actuator.row)].latched_at >= 0;
}
double button(const DeviceView& view, DeviceId device) {
  const int i = first_actuator(view.circuit, device,
                               [&](const Actuator& a) { return latches(view.circuit, a); });
  if (i < 0)
    return position_of(view, device,
                       [](const Actuator& a) { return a.kind == ActuatorKind::heat; });
  const int latched_at = view.circuit.thresholds[row_of(view, i)].latched_at;
  return view.state.position[static_cast<std::size_t>(i)] == latched_at ? 1 : 0;
}

double chatter(const DeviceView& view, DeviceId device) {
  double any = kNone;
  for (std::size_t i = 0; i < view.circuit.actuators.size(); ++i) {
    if (view.circuit.actuators[i].device != device) continue;
    any = view.state.chatter[i] != 0 || any == 1.0 ? 1.0 : 0.0;
  }
  return any;
}

double speed(const DeviceView& view, DeviceId device) {
  for (std::size_t i = 0; i < view.circuit.machines.size(); ++i)
    if (view.circuit.machines[i].device == device) return view.state.speed[i];
  return kNone;
}
double speed_size(const DeviceView& view, DeviceId device) { return std::abs(speed(view, device)); }

double turns(const DeviceView& view, DeviceId device) {
  constexpr double kStandsStill = 0.05;  // of full speed: below it nobody sees a blade move
  const double now = speed_size(view, device);
  return std::isnan(now) ? kNone : now > kStandsStill ? 1 : 0;
}

double watts(const DeviceView& view, DeviceId device) {
  for (std::size_t i = 0; i < view.circuit.loads.size(); ++i)
    if (view.circuit.loads[i].device == device) return view.electrics.drives()[i].watts;
  return kNone;
}
double coil(const DeviceView& view, DeviceId device) {
  double volt_amperes = kNone;
  for (std::size_t i = 0; i < view.circuit.elements.size(); ++i) {
    const Element& element = view.circuit.elements[i];
    if (element.device != device || element.role != ElementRole::coil) continue;
    const Phasor across = view.electrics.volts(element.a) - view.electrics.volts(element.b);
    const double here = abs(across) * abs(view.electrics.amps(ElementId::of(i)));
    volt_amperes = volt_amperes > here ? volt_amperes : here;
  }
  return volt_amperes;
}
double noise(const DeviceView& view, DeviceId device) {
  return chatter(view, device) == 1 ? 2 : coil(view, device) > kHeardVoltAmperes ? 1 : 0;
}
double display(const DeviceView& view, DeviceId device) {
  const int i = first_actuator(view.circuit, device,
                               [](const Actuator& a) { return a.kind == ActuatorKind::threshold; });
  if (i < 0) return kNone;
  const Threshold& row = view.circuit.thresholds[row_of(view, i)];
  if (!row.supply_a.valid()) return kNone;
  const Phasor fed = view.electrics.volts(row.supply_a) - view.electrics.volts(row.supply_b);
  if (abs(fed) < row.supply_v) return 0;
  if (row.stuck_at >= 0) return 2;
  // A second probe that is lost.
  for (const Actuator& other : view.circuit.actuators) {
    if (other.device != device || other.kind != ActuatorKind::threshold) continue;
    const Threshold& more = view.circuit.thresholds[static_cast<std::size_t>(other.row)];
    if (more.sense != row.sense && more.stuck_at >= 0) return 3;
  }
  return 1;
}

double lit(const DeviceView& view, DeviceId device) {
  constexpr double kGlows = 0.4;  // of its rated watts
  const Value* rated = view.circuit.devices[device.slot()].find_value("power");
  if (rated == nullptr) return kNone;
  for (const Element& element : view.circuit.elements) {
    if (element.device != device || element.role != ElementRole::resistor) continue;
    const Phasor across = view.electrics.volts(element.a) - view.electrics.volts(element.b);
    return norm(across) * element.y.re > kGlows * rated->number ? 1 : 0;
  }
  return kNone;
}

int clock_of(const DeviceView& view, DeviceId device) {
  return first_actuator(view.circuit, device,
                        [](const Actuator& a) { return a.kind == ActuatorKind::clock; });
}
double longest_defrost(const DeviceView& view, DeviceId device) {
  const int i = clock_of(view, device);
  if (i < 0) return kNone;
  const std::size_t row = row_of(view, i);
  return static_cast<double>(view.circuit.clocks[row].fail_safe_us) /
         static_cast<double>(view.healthy.clocks[row].fail_safe_us);
}
double dial_off(const DeviceView& view, DeviceId device) {
  const int i = clock_of(view, device);
  if (i < 0) return kNone;
  const std::size_t row = row_of(view, i);
  const std::int64_t period = view.circuit.clocks[row].period_us;
  const std::int64_t day = (view.state.day_us + view.state.now_us) % kDayUs % period;
  const std::int64_t ahead = ((view.state.dial_us[row] - day) % period + period) % period;
  return static_cast<double>(std::min(ahead, period - ahead)) / 6e7;
}

double in_defrost(const DeviceView& view, DeviceId device) {
  const int i = clock_of(view, device);
  return i < 0 ? kNone : view.state.position[static_cast<std::size_t>(i)];
}

// Of the conductors that end at the device: what their joints have more than sound ones.
double joints(const DeviceView& view, DeviceId device) {
  double worst = kNone;
  for (std::size_t i = 0; i < view.healthy.wires.size(); ++i) {
    const Wire& wire = view.healthy.wires[i];
    if (wire.jumper || (view.healthy.terminals[wire.from.slot()].device != device &&
                        view.healthy.terminals[wire.to.slot()].device != device))
      continue;
    const std::size_t element = wire.element.slot();
    const double more =
        view.circuit.elements[element].series_ohm - view.healthy.elements[element].series_ohm;
    worst = worst > more ? worst : more;
  }
  return worst;
}

// Of what sits in a holder from which it can be pulled.
double clips(const DeviceView& view, DeviceId device) {
  constexpr double kSprung = 2;
  for (const Element& element : view.circuit.elements) {
    if (element.device != device || element.role != ElementRole::contact) continue;
    return element.stuck == Element::Stuck::open ? kSprung : element.series_ohm > 0 ? 1 : 0;
  }
  return kNone;
}

double heat(const DeviceView& view, DeviceId device) {
  double most = kNone;
  for (std::size_t i = 0; i < view.circuit.thermals.size(); ++i) {
    const Thermal& thermal = view.circuit.thermals[i];
    if (!thermal.element.valid() || view.circuit.elements[thermal.element.slot()].device != device)
      continue;
    most = most > view.state.heat[i] ? most : view.state.heat[i];
  }
  return most;
}

// Siemens from its inside to its metal, where that is a hole that an eye finds.
double sheath(const DeviceView& view, DeviceId device) {
  double siemens = 0;
  for (const Element& element : view.circuit.elements) {
    if (element.part != kSheath || element.b != kGround) continue;
    if (view.circuit.terminals[element.a.slot()].device == device) siemens += element.g;
  }
  return siemens;
}

constexpr DeviceQuantity kTable[] = {
    {"position", Dimension::number, "1 pulled in, closed or called for, 0 not", position},
    {"handle", Dimension::number, "0 off or pulled, 1 in the middle: tripped, 2 on", handle},
    {"button", Dimension::number, "1 its reset button stands out: tripped", button},
    {"chatter", Dimension::number, "1 it pulls in and lets go again and again", chatter},
    {"speed", Dimension::fraction, "of full speed; backwards below 0", speed},
    {"speed size", Dimension::fraction, "the same, whichever way it turns", speed_size},
    {"turns", Dimension::number, "1 it turns, whichever way", turns},
    {"watts", Dimension::power, "what it takes", watts},
    {"coil", Dimension::apparent_power, "what its coil takes", coil},
    {"noise", Dimension::number, "0 silent, 1 hums, 2 chatters", noise},
    {"display", Dimension::number, "0 dark, 1 as usual, 2 its probe is lost, 3 its second one",
     display},
    {"lit", Dimension::number, "1 a lamp shines", lit},
    {"in defrost", Dimension::number, "1 its clock stands in defrost", in_defrost},
    {"longest defrost", Dimension::number, "where the pointer for it stands, of where it belongs",
     longest_defrost},
    {"dial off", Dimension::number, "minutes between its dial and the time of day", dial_off},
    {"joints", Dimension::resistance, "what the worst joint of its wires has more than a sound one",
     joints, true},
    {"clips", Dimension::number, "of a fuse: 0 tight, 1 slack, 2 one does not touch it", clips,
     true},
    {"heat", Dimension::fraction, "1 it has tripped, or switched off, by its own heat", heat, true},
    {"sheath", Dimension::number, "siemens through its sheath, where that is burnt through", sheath,
     true},
};

}  // namespace

std::span<const DeviceQuantity> device_quantities() { return kTable; }

const DeviceQuantity* find_device_quantity(std::string_view name) {
  for (const DeviceQuantity& row : kTable)
    if (row.name == name) return &row;
  return nullptr;
}

bool has_button(const Circuit& circuit, DeviceId device) {
  return first_actuator(circuit, device, [&](const Actuator& a) {
           return a.kind == ActuatorKind::heat || latches(circuit, a);
         }) >= 0;
}

}  // namespace legwork::circuit
