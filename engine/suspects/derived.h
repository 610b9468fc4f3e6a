#pragma once
// What a technician works out of several readings, each told apart more finely together than alone:
//
//   legs      volts between all legs of a supply point, amps of all leads of one motor: the largest
//             deviation from their average, as a share (NEMA MG 1, 14.36: unbalance)
//   windings  ohms of all windings of one motor, the same
//   superheat, subcooling   a gauge and the thermometer on that line; only when both were read
//   display against ...     a control's display and the thermometer in the air that it feels: a
//   probe
//                           that has drifted shows in their difference
//
//   for (const Derived& d : derived(eyes, readings, atmosphere_pa)) ...
//
// `readings`: what was read since anything changed, by key. The same function serves what was seen
// and what each suspect would have shown.

#include <map>
#include <string>
#include <vector>

#include "engine/suspects/eyes.h"

namespace legwork::suspects {

struct Derived {
  std::string key;  // "legs volts roof", "superheat coil outlet"
  double value = 0;
  double half_width = 0;  // beyond it one would doubt
};

// By key: value in SI. Those that could be worked out, in order.
std::vector<Derived> derived(const Eyes& eyes, const std::map<std::string, double>& readings,
                             double atmosphere_pa);

}  // namespace legwork::suspects
