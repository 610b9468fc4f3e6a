// Condemning tests that several kinds share (engine/circuit/condemn.h). Internal to kinds.
#pragma once

#include "engine/circuit/condemn.h"

namespace legwork::circuit {

using Take = Condemn::Take;
using Shows = Condemn::Shows;

// --- one contact between two points ---
inline constexpr Condemn kOpenContact[] = {
    {Take::volts, Shows::full},
    {Take::ohms, Shows::open, "", true},
};
inline constexpr Condemn kOpenPole[] = {
    {Take::volts, Shows::full, "pole"},
    {Take::ohms, Shows::open, "pole", true},
};
inline constexpr Condemn kDropAcross[] = {{Take::drop, Shows::some}};
inline constexpr Condemn kClosedContact[] = {
    {Take::volts, Shows::none},
    {Take::ohms, Shows::shorted, "", true},
};
inline constexpr Condemn kOffAtTheHandle[] = {
    {Take::look, Shows::first, "position"},
    {Take::volts, Shows::full, "", true},
};

// --- a coil, an element, a winding ---
inline constexpr Condemn kOpenCoil[] = {{Take::ohms, Shows::open, "coil"}};
inline constexpr Condemn kShortedCoil[] = {{Take::ohms, Shows::shorted, "coil"}};
inline constexpr Condemn kOpenElement[] = {
    {Take::ohms, Shows::open},
    {Take::volts, Shows::full, "", true},
    {Take::amps, Shows::none},
};
inline constexpr Condemn kShortedElement[] = {{Take::ohms, Shows::shorted}};
inline constexpr Condemn kToEarth[] = {{Take::insulation, Shows::low}};

// --- a control that follows a pressure or a temperature ---
inline constexpr Condemn kOpenAgainstItsSense[] = {
    {Take::volts, Shows::full},
    {Take::sense, Shows::made},
    {Take::ohms, Shows::open, "", true},
    {Take::sense, Shows::made},
};
inline constexpr Condemn kClosedAgainstItsSense[] = {
    {Take::volts, Shows::none},
    {Take::sense, Shows::apart},
    {Take::ohms, Shows::shorted, "", true},
    {Take::sense, Shows::apart},
};
// Wrong by its set point or its bulb: either way round.
inline constexpr Condemn kAgainstItsSense[] = {
    {Take::volts, Shows::full},
    {Take::sense, Shows::made},
    {Take::volts, Shows::none, "", true},
    {Take::sense, Shows::apart},
};
inline constexpr Condemn kButtonOut[] = {{Take::look, Shows::other, "button"}};

}  // namespace legwork::circuit
