#pragma once
// What a test says of a Message: EXPECT_EQ(failure.what, "missing file") compares its English. The
// program itself never asks words what happened.

#include <string_view>

#include "engine/base/message.h"

namespace legwork {

inline bool operator==(const Message& message, std::string_view text) {
  return english(message) == text;
}

}  // namespace legwork
