#include "engine/circuit/kinds/threshold_modes.h"

namespace legwork::circuit {

OpensCloses opens_closes(Emitter& e, Dimension dimension) {
  OpensCloses result;
  const double opens = e.number("opens"), closes = e.number("closes");
  if (opens == closes)
    e.complain("closes", say("out of range: 'closes' equals 'opens'"),
               say("a control needs a difference"));
  result.row.sense = e.sense(e.text("senses"), dimension);
  result.row.why = dimension == Dimension::pressure ? Why::pressure
                   : dimension == Dimension::mass   ? Why::level
                                                    : Why::temperature;
  const bool opens_on_rise = opens > closes;
  result.row.high = opens_on_rise ? opens : closes;
  result.row.low = opens_on_rise ? closes : opens;
  result.made_at = opens_on_rise ? 0 : 1;
  return result;
}

namespace {

// The contact that the device's own threshold drives.
Element& switched(Circuit& c, DeviceId d) {
  for (const Part& part : c.devices[d.slot()].parts) {
    if (!part.element.valid()) continue;
    Element& element = c.elements[part.element.slot()];
    if (element.role == ElementRole::contact) return element;
  }
  return c.elements.front();
}

}  // namespace

void contact_stuck_open(Circuit& c, DeviceId d, double) {
  switched(c, d).stuck = Element::Stuck::open;
}
void contact_stuck_closed(Circuit& c, DeviceId d, double) {
  switched(c, d).stuck = Element::Stuck::made;
}
void set_point_shifted(Circuit& c, DeviceId d, double difference) {
  threshold_of(c, d).shift += difference;
}
void sense_shifted(Circuit& c, DeviceId d, double difference) {
  threshold_of(c, d).sense_shift += difference;
}
void sense_frozen(Circuit& c, DeviceId d, double value_from_low) {
  Threshold& row = threshold_of(c, d);
  row.frozen = true;
  row.frozen_at = row.low + value_from_low * (row.high - row.low);
}
void reset_not_pushed(Circuit& c, DeviceId d, double) {
  Threshold& row = threshold_of(c, d);
  c.actuators[c.find_actuator(d).slot()].start = row.latched_at;
}

}  // namespace legwork::circuit
