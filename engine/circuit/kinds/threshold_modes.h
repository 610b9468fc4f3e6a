// Modes shared by all that switches at a set point: pressure controls, thermostats, electronic
// controls. Levels of "set wrong" are differences in SI.
#pragma once

#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds/alter.h"

namespace legwork::circuit {

// "opens" and "closes" of the device as the points of a threshold, and the position in which its
// contact is made: opens above closes means open on rise.
struct OpensCloses {
  Threshold row;
  int made_at = 0;
  int start = 0;
};
OpensCloses opens_closes(Emitter& e, Dimension dimension);

void contact_stuck_open(Circuit& c, DeviceId d, double);
void contact_stuck_closed(Circuit& c, DeviceId d, double);
void set_point_shifted(Circuit& c, DeviceId d, double difference);
void sense_shifted(Circuit& c, DeviceId d, double difference);
// Feels a fixed value in the middle of its band, or beyond it, as when the capillary is plugged.
void sense_frozen(Circuit& c, DeviceId d, double value_from_low);
void reset_not_pushed(Circuit& c, DeviceId d, double);

inline constexpr Repair kSetIt[] = {{"set", 10, 0, false}, {"replace", 35, 55}};
inline constexpr Repair kReplaceControl[] = {{"replace", 35, 55}};
inline constexpr Repair kPushReset[] = {{"reset", 2, 0, false}};

}  // namespace legwork::circuit
