#pragma once
// The text of assets/resolutions.yaml, put into the program when it is built.

#include <string_view>

namespace legwork::suspects {
extern const std::string_view kResolutionsText;
}  // namespace legwork::suspects
