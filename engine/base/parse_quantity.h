#pragma once
// Quantities as people write them, in files and steps.
//
//   Result<double> opens = parse_quantity("425 psig", Dimension::pressure);
//   if (opens) pressure_pa = *opens; else found.error(source, mark, opens.failure());
//
// Spelling accepted from files: number, optional space, unit. The number may have thousands commas
// ("1,050") and either minus ("-5", "−5"). Units are case sensitive; "°" may be left out, "µ" may
// be "u", "Ω" may be "ohm", "·" may be "." or "*", "³" may be "3". Wire sizes: "14 AWG", "#12",
// "#1/0". A fraction is "65 %" or bare "0.65"; a number is bare.

#include <string_view>
#include <vector>

#include "engine/base/quantity.h"
#include "engine/base/result.h"

namespace legwork {

// "a pressure", "a temperature difference": for messages.
Phrase dimension_name(Dimension dimension);
// "425 psig": an example of a good value, for messages.
std::string_view dimension_example(Dimension dimension);
// Every unit that parse_quantity takes for a dimension, the display unit first.
std::vector<std::string_view> units_of(Dimension dimension);

// The whole text must be one quantity of that dimension: its SI value, a finite number.
Result<double> parse_quantity(std::string_view text, Dimension dimension);

struct Toleranced {
  double si = 0.0;
  double tolerance_si = 0.0;  // 0 if none was written
};
// "24 °F ± 3" or "24 °F ± 3 °F" or "24 °F +- 3".
Result<Toleranced> parse_quantity_with_tolerance(std::string_view text, Dimension dimension);

}  // namespace legwork
