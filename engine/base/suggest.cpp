#include "engine/base/suggest.h"

#include <algorithm>
#include <cctype>

#include "engine/base/result.h"

namespace legwork {
namespace {

int lower(char c) { return std::tolower(static_cast<unsigned char>(c)); }

int change_cost(char a, char b) {
  if (a == b) return 0;
  return lower(a) == lower(b) ? 1 : 2;
}

bool same_but_for_case(std::string_view a, std::string_view b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](char x, char y) { return lower(x) == lower(y); });
}

template <class Words>
std::string_view nearest_of(std::string_view word, const Words& words) {
  std::string_view best;
  int best_cost = 0;
  for (const auto& candidate_word : words) {
    const std::string_view candidate = candidate_word;
    const int cost = same_but_for_case(word, candidate) ? 1 : half_edits(word, candidate);
    const int longer = static_cast<int>(std::max(word.size(), candidate.size()));
    // A third of the letters, but one edit always, save for single letters: "A" is no slip for "V".
    const int limit = longer == 1 ? 1 : std::max(2, longer * 2 / 3);
    if (cost <= limit && (best.empty() || cost < best_cost)) {
      best = candidate;
      best_cost = cost;
    }
  }
  return best;
}

}  // namespace

int half_edits(std::string_view from, std::string_view to) {
  constexpr std::size_t kLongest = 64;  // longer words are no typing slips
  if (from.size() > kLongest || to.size() > kLongest) return from == to ? 0 : 1000;
  const std::size_t width = to.size() + 1;
  std::vector<int> before(width), last(width), now(width);
  for (std::size_t j = 0; j < width; ++j) last[j] = static_cast<int>(2 * j);
  for (std::size_t i = 1; i <= from.size(); ++i) {
    now[0] = static_cast<int>(2 * i);
    for (std::size_t j = 1; j < width; ++j) {
      now[j] = std::min(
          {last[j] + 2, now[j - 1] + 2, last[j - 1] + change_cost(from[i - 1], to[j - 1])});
      if (i > 1 && j > 1 && from[i - 1] == to[j - 2] && from[i - 2] == to[j - 1]) {
        now[j] = std::min(now[j], before[j - 2] + 2);
      }
    }
    std::swap(before, last);
    std::swap(last, now);
  }
  return last[to.size()];
}

std::string_view nearest(std::string_view word, const std::vector<std::string_view>& words) {
  return nearest_of(word, words);
}
std::string_view nearest(std::string_view word, const std::vector<std::string>& words) {
  return nearest_of(word, words);
}
namespace {
template <class Words>
Message suggested(std::string_view word, const Words& words) {
  const std::string_view near = nearest(word, words);
  if (near.empty()) return {};
  return say("did you mean '{word}'?", {{"word", Name{near}}});
}
}  // namespace

Message suggestion(std::string_view word, const std::vector<std::string_view>& words) {
  return suggested(word, words);
}
Message suggestion(std::string_view word, const std::vector<std::string>& words) {
  return suggested(word, words);
}

Message suggestion_or_all(std::string_view word, const std::vector<std::string_view>& words,
                          const Phrase& all) {
  Message near = suggestion(word, words);
  if (!near.empty() || words.empty()) return near;
  return say(all, {{"words", one_of(words)}});
}

Message Failure::sentence() const { return and_hint(what, hint); }

Message and_hint(Message sentence, Message hint) {
  if (hint.empty()) return sentence;
  return say("{sentence}; {hint}", {{"sentence", std::move(sentence)}, {"hint", std::move(hint)}});
}
Message with_hint(Message sentence, Message hint) {
  if (hint.empty()) return say("{sentence}.", {{"sentence", std::move(sentence)}});
  return and_hint(std::move(sentence), std::move(hint));
}

Message one_of(const std::vector<std::string_view>& words, std::size_t limit) {
  List list{{}, words.size() > limit ? Joined::by_commas : Joined::by_or};
  for (const std::string_view word : words) {
    list.items.emplace_back(Name{list.items.size() < limit ? word : "..."});
    if (list.items.size() > limit) break;
  }
  return list;
}

}  // namespace legwork
