#pragma once
// Words for places and for the telephone: cautions said on arriving somewhere, and the question
// that the shop answers with. The question comes from what the book lacks, never from what is
// wrong.

#include <string>
#include <string_view>

#include "engine/session/attempt.h"

namespace legwork::session {

// Ids of the cautions that a place may carry.
std::vector<std::string_view> known_cautions();

// "ladder" -> "Three points of contact on the ladder; ..."; an unknown id is said as it is.
Message caution_words(std::string_view id);

Message shop_question(const Attempt& attempt);

}  // namespace legwork::session
