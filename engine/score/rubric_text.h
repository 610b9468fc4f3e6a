#pragma once
// The text of assets/rubric.yaml, put into the program when it is built.

#include <string_view>

namespace legwork::score {
extern const std::string_view kRubricText;
}  // namespace legwork::score
