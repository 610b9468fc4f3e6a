// "Did you mean": the nearest of the words that would have been right.
//
//   nearest("opns", {"opens", "closes"});     // "opens"
//   suggestion("opns", {"opens", "closes"});  // "did you mean 'opens'?", or nothing if none is
//   near
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/base/message.h"

namespace legwork {

// Edits (insert, delete, replace, swap of neighbours) from one word to the other; case counts half:
// returned in half edits, so that a difference in case alone costs 1 and any other edit 2.
int half_edits(std::string_view from, std::string_view to);

// The nearest word, or empty if even that one is too far to be what was meant (more than a third of
// the longer word's letters). The first of equals wins.
std::string_view nearest(std::string_view word, const std::vector<std::string_view>& words);
std::string_view nearest(std::string_view word, const std::vector<std::string>& words);

// "did you mean 'opens'?"; empty if nothing is near.
Message suggestion(std::string_view word, const std::vector<std::string_view>& words);
Message suggestion(std::string_view word, const std::vector<std::string>& words);
// The same, or what there is if nothing is near: phrase("known units: {words}"); empty if there are
// no words at all. Phrases without "{words}" are no use here.
Message suggestion_or_all(std::string_view word, const std::vector<std::string_view>& words,
                          const Phrase& all);
// "unknown wire 'X'; did you mean 'Y'?", or "unknown wire 'X'." without a hint.
Message with_hint(Message sentence, Message hint);
// The same without a full stop.
Message and_hint(Message sentence, Message hint);

// "a, b or c", for "expected one of"; at most `limit` words, then "...".
Message one_of(const std::vector<std::string_view>& words, std::size_t limit = 24);

}  // namespace legwork
