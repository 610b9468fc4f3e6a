// Unit files made wrong on purpose: a shipped file with a value, a rung or a plant figure changed.
#pragma once

#include <string>
#include <string_view>

namespace legwork::support {

// `key: …` of the line on which `what` begins ("  CC: {kind: contactor, coil: 208 V}") made to
// `key: value`; added at the end of its braces if it is not there. Empty if there is no such line.
std::string with_value(const std::string& text, std::string_view what, std::string_view key,
                       std::string_view value);
// The first `from` made `to`; empty if it is not there.
std::string with_text(const std::string& text, std::string_view from, std::string_view to);

}  // namespace legwork::support
