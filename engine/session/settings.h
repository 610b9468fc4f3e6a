#pragma once
// Set points by hand: "set TC opens -5 °F". A dial moves both points of a control together, so what
// the site does is a shift from where the named point stands now.

#include <string>
#include <vector>

#include "engine/session/set_point.h"
#include "engine/sim/world.h"

namespace legwork::session {

// Those that a dial of the part moves; none if it has no dial.
std::vector<SetPoint> set_points_of(const circuit::Circuit& circuit, circuit::DeviceId device);
// Does the control have that setting, and is the value one? Puts the setting's name right.
Message resolve_setting(const circuit::Circuit& circuit, const std::string& device,
                        std::string& setting, const std::string& value);
// How far the points have to move, SI. Names must have been resolved.
double setting_shift(const sim::World& world, const std::string& device, const std::string& setting,
                     const std::string& value);

}  // namespace legwork::session
