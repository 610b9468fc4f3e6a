#pragma once
// Temperatures and pressures in the units of the settings. The engine writes trade units into its
// sentences, tags and readings ("386 psig", "30 ± 3 °F", "285–315 psig"); what is written on paper
// goes through here last, so that there is one place that knows both.
//
//   in_units("head 386 psig at 74 °F", true, true);   // "head 26.6 bar at 23 °C"
//
// A tolerance after "±" is a difference: scaled, not shifted. Bar is gauge pressure, as psig is.
// Anything else is left as it stands. 1 psi = 6,894.757 Pa (NIST SP 811, 2008, appendix B).

#include <string>
#include <string_view>

namespace legwork::gui {

std::string in_units(std::string_view text, bool celsius, bool bar);

double celsius_of(double fahrenheit);
double bar_of(double psi);

}  // namespace legwork::gui
