#include "engine/session/pattern.h"

#include <algorithm>

#include "engine/base/split.h"

namespace legwork::session {
namespace {

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

bool same_word(std::string_view a, std::string_view b) {
  return a.size() == b.size() && std::equal(a.begin(), a.end(), b.begin(),
                                            [](char x, char y) { return lower(x) == lower(y); });
}

// Does the phrase ("inside out") stand at words[at]? Its length in words, or 0.
std::size_t phrase_at(std::string_view phrase, const std::vector<std::string_view>& words,
                      std::size_t at) {
  const std::vector<std::string_view> parts = words_in(phrase);
  if (parts.empty() || at + parts.size() > words.size()) return 0;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (!same_word(parts[i], words[at + i])) return 0;
  }
  return parts.size();
}

std::string joined(const std::vector<std::string_view>& words, std::size_t from, std::size_t to) {
  std::string out;
  for (std::size_t i = from; i < to; ++i) {
    if (i > from) out += ' ';
    out += words[i];
  }
  return out;
}

bool match_from(const Pattern& pattern, std::size_t part,
                const std::vector<std::string_view>& words, std::size_t at,
                std::vector<std::string>& arguments) {
  if (part == pattern.size()) return at == words.size();
  const PatternPart& p = pattern[part];
  const std::size_t kept = arguments.size();
  const auto go_on = [&](std::size_t next) {
    if (match_from(pattern, part + 1, words, next, arguments)) return true;
    arguments.resize(kept);
    return false;
  };
  switch (p.kind) {
    case PatternPart::Kind::fixed:
      return at < words.size() && same_word(words[at], p.texts[0]) && go_on(at + 1);
    case PatternPart::Kind::one_word:
      if (at >= words.size()) return false;
      arguments.emplace_back(words[at]);
      return go_on(at + 1);
    case PatternPart::Kind::more_words:
      for (std::size_t end = at + 1; end <= words.size(); ++end) {  // the shortest that fits
        arguments.push_back(joined(words, at, end));
        if (go_on(end)) return true;
      }
      return false;
    case PatternPart::Kind::choice:
      for (const std::string& choice : p.texts) {
        const std::size_t n = phrase_at(choice, words, at);
        if (n == 0) continue;
        arguments.push_back(choice);
        if (go_on(at + n)) return true;
      }
      return false;
    case PatternPart::Kind::maybe:
      for (const std::string& choice : p.texts) {
        const std::size_t n = phrase_at(choice, words, at);
        if (n == 0) continue;
        arguments.push_back(choice);
        if (go_on(at + n)) return true;
      }
      arguments.emplace_back();
      return go_on(at);
  }
  return false;
}

std::vector<std::string> choices(std::string_view text) {
  std::vector<std::string> out;
  for (std::string_view word : split(text, '|')) {
    out.emplace_back(word);
    std::replace(out.back().begin(), out.back().end(), '_', ' ');
  }
  return out;
}

}  // namespace

Pattern pattern_of(std::string_view spelling) {
  Pattern out;
  std::size_t at = 0;
  while (at < spelling.size()) {
    if (spelling[at] == ' ') {
      ++at;
      continue;
    }
    if (spelling[at] == '[') {
      const std::size_t end = spelling.find(']', at);
      std::vector<std::string> texts;
      for (std::string_view text : split(spelling.substr(at + 1, end - at - 1), '|')) {
        texts.emplace_back(text);
      }
      out.push_back({PatternPart::Kind::maybe, std::move(texts)});
      at = end + 1;
      continue;
    }
    const std::size_t end = std::min(spelling.find(' ', at), spelling.size());
    const std::string_view word = spelling.substr(at, end - at);
    at = end;
    if (word.front() == '{') {
      const bool more = word[word.size() - 2] == '+';
      out.push_back({more ? PatternPart::Kind::more_words : PatternPart::Kind::one_word,
                     {std::string(word.substr(1, word.size() - (more ? 3 : 2)))}});
    } else if (word.find('|') != word.npos) {
      out.push_back({PatternPart::Kind::choice, choices(word)});
    } else {
      out.push_back({PatternPart::Kind::fixed, {std::string(word)}});
    }
  }
  return out;
}

std::optional<std::vector<std::string>> match(const Pattern& pattern,
                                              const std::vector<std::string_view>& words) {
  std::vector<std::string> arguments;
  if (!match_from(pattern, 0, words, 0, arguments)) return std::nullopt;
  return arguments;
}

std::string fill(const Pattern& pattern, const std::vector<std::string>& arguments) {
  std::string out;
  std::size_t next = 0;
  for (const PatternPart& part : pattern) {
    std::string word;
    if (part.kind == PatternPart::Kind::fixed) {
      word = part.texts[0];
    } else if (next < arguments.size()) {
      word = arguments[next++];
    }
    if (word.empty()) continue;
    if (!out.empty()) out += ' ';
    out += word;
  }
  return out;
}

int weight(const Pattern& pattern) {
  int out = 0;
  for (const PatternPart& part : pattern) {
    if (part.kind == PatternPart::Kind::fixed || part.kind == PatternPart::Kind::choice) ++out;
  }
  return out;
}

std::string usage(const Pattern& pattern) {
  std::string out;
  for (const PatternPart& part : pattern) {
    if (!out.empty()) out += ' ';
    std::string text;
    for (const std::string& t : part.texts) text += (text.empty() ? "" : "|") + t;
    if (part.kind == PatternPart::Kind::one_word || part.kind == PatternPart::Kind::more_words) {
      for (char& c : text) {
        if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
      }
    } else if (part.kind == PatternPart::Kind::maybe) {
      text = "[" + text + "]";
    }
    out += text;
  }
  return out;
}

}  // namespace legwork::session
