#include "gui/phrases.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <set>

#include "engine/base/text_file.h"
#include "engine/config/reader.h"

namespace legwork::gui {
namespace {

constexpr std::string_view kSpanish = "es";
constexpr int kDepth = 24;              // blanks within blanks
constexpr int kTries = 160000;          // patterns held against texts, for one text
constexpr std::size_t kLongest = 2000;  // bytes of a line: no sentence is longer
constexpr std::size_t kRemembered = 20000;

bool is_lower(char c) { return c >= 'a' && c <= 'z'; }
bool is_upper(char c) { return c >= 'A' && c <= 'Z'; }
bool is_letter(char c) { return is_lower(c) || is_upper(c); }

std::size_t letter_count(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), is_letter));
}

// "psig" after a number is no word.
bool is_unit(std::string_view word) {
  static constexpr std::array<std::string_view, 16> kUnits = {
      "min", "psig", "psi", "psia", "bar", "barg", "bara", "kPa",
      "ohm", "kohm", "lb",  "oz",   "ft",  "kg",   "rpm",  "cfm"};
  return std::find(kUnits.begin(), kUnits.end(), word) != kUnits.end();
}

// "CC.A1", "DTF.cold", "FU4.2>HPC.1", "CM/star"
bool is_name(std::string_view word) {
  if (word.empty() || !is_upper(word[0])) return false;
  const std::size_t mark = word.find_first_of(".>/");
  return mark != word.npos && mark + 1 < word.size() &&
         std::isalnum(static_cast<unsigned char>(word[mark + 1])) != 0;
}

// Names and numbers: nothing in it reads like a word of a language.
bool stays(std::string_view text) {
  bool after_number = is_unit(text);
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find(' ', at), text.size());
    const std::string_view word = text.substr(at, end - at);
    at = end + 1;
    bool reads = false;
    for (std::size_t i = 0; i + 1 < word.size(); ++i) {
      reads = reads || (is_letter(word[i]) && is_lower(word[i + 1]));
    }
    std::string_view plain = word;
    while (!plain.empty() && !is_letter(plain.back())) plain.remove_suffix(1);
    if (reads && !is_name(word) && !(after_number && is_unit(plain))) return false;
    after_number = std::none_of(word.begin(), word.end(), is_letter);
  }
  return true;
}

// First letter large or small; Spanish ones have two bytes.
bool change_case(std::string& text, bool large) {
  if (text.empty()) return false;
  if (large ? is_lower(text[0]) : is_upper(text[0])) {
    text[0] = static_cast<char>(text[0] ^ 0x20);
    return true;
  }
  if (text.size() > 1 && text[0] == '\xC3') {
    const unsigned char second = static_cast<unsigned char>(text[1]);
    if (large ? second >= 0xA0 : second < 0xA0) {
      text[1] = static_cast<char>(second ^ 0x20);
      return true;
    }
  }
  return false;
}

// "de" and "el" make "del".
void join(std::string& text, std::string_view piece) {
  const bool of = text.ends_with("de "), to = text.ends_with(" a ");
  if (piece.starts_with("el ") && (of || to)) {
    text.resize(text.size() - 1);
    text += 'l';
    piece.remove_prefix(2);
  }
  text += piece;
}

// What Spanish must have.
template <class Blanks>
std::set<std::pair<char, char>> names_of(const Blanks& blanks) {
  std::set<std::pair<char, char>> names;
  for (const auto& blank : blanks) names.insert({blank.kind, blank.number});
  return names;
}

}  // namespace

PhraseBook::Template PhraseBook::template_of(std::string_view text, std::string& wrong) {
  Template out;
  out.words.emplace_back();
  std::size_t at = 0;
  while (at < text.size()) {
    if (text[at] != '{') {
      out.words.back() += text[at++];
      continue;
    }
    const std::size_t end = std::min(text.find('}', at), text.size());
    std::string_view name = text.substr(at + 1, end - at - 1);
    Blank blank;
    if (!name.empty() && (name[0] == '=' || name[0] == '#')) {
      blank.kind = name[0];
      name.remove_prefix(1);
    }
    if (name.size() != 1 || name[0] < '0' || name[0] > '9')
      wrong = "expected a blank like {0}, {#0} or {=0}";
    else if (!out.blanks.empty() && out.words.back().empty())
      wrong = "expected something between two blanks";
    else
      blank.number = name[0];
    for (const Blank& other : out.blanks) {
      if (other.number == blank.number && other.kind != blank.kind)
        wrong = "expected a blank of one number to be of one kind";
    }
    out.blanks.push_back(blank);
    out.words.emplace_back();
    at = std::min(end + 1, text.size());
  }
  return out;
}

PhraseBook PhraseBook::parse(std::string file, std::string_view text, Diagnostics& found) {
  PhraseBook book;
  const Document document = parse_document(std::move(file), text, found);
  std::set<std::string> before;
  for (const Entry& section : document.root().entries()) {
    if (!section.value.is_list()) {
      found.error(section.value.source(), section.value.mark(),
                  "expected a list of sentences in '" + section.key + "'");
    }
    for (const Node& item : section.value.items()) {
      Reader reader(item, found, "a sentence of '" + section.key + "'");
      const std::string english = reader.text("en"), spanish = reader.text("es");
      reader.finish();
      if (english.empty() || spanish.empty()) continue;
      std::string wrong;
      Pattern pattern{template_of(english, wrong), {}, 0};
      // The same sentence, whatever its blanks are called.
      std::string same;
      for (const std::string& words : pattern.english.words) {
        pattern.own += words.size();
        same += words + '\0';
      }
      if (wrong.empty() && pattern.own == 0) wrong = "expected words beside the blanks";
      if (wrong.empty() && !before.insert(same).second) wrong = "this sentence is there already";
      if (!wrong.empty()) {
        reader.error("en", wrong);
        continue;
      }
      pattern.spanish = template_of(spanish, wrong);
      if (wrong.empty() && names_of(pattern.english.blanks) != names_of(pattern.spanish.blanks))
        wrong = "expected the same blanks as in English";
      if (!wrong.empty()) {
        reader.error("es", wrong);
      } else if (pattern.english.blanks.empty()) {
        book.exact_.emplace(english, Exact{spanish, section.key == "inside"});
      } else {
        book.patterns_.push_back(std::move(pattern));
      }
    }
  }
  std::stable_sort(book.patterns_.begin(), book.patterns_.end(),
                   [](const Pattern& a, const Pattern& b) { return a.own > b.own; });
  return book;
}

PhraseBook PhraseBook::read(const std::string& path, Diagnostics& found) {
  TextFile file = read_text_file(path);
  if (!file.ok) {
    found.file_error(path, file.error, {}, file.mark);
    return {};
  }
  return parse(path, file.text, found);
}

void PhraseBook::add(const LocalText& text) {
  const std::string& spanish = text.in(kSpanish);
  if (text.en.empty() || spanish == text.en) return;
  if (!exact_.emplace(text.en, Exact{spanish, false}).second) return;
  pieces_.clear();
  said_.clear();
}

void PhraseBook::add(const PhraseBook& other) {
  exact_.insert(other.exact_.begin(), other.exact_.end());
  pieces_.clear();
  said_.clear();
}

// One pattern held against one text: every way in which the blanks can be filled, until one leaves
// nothing in English.
class PhraseBook::Reading {
 public:
  Reading(const PhraseBook& book, const Pattern& pattern, const std::string& text, int depth,
          Search& search, Said& best)
      : book_(book),
        pattern_(pattern),
        text_(text),
        depth_(depth),
        search_(search),
        best_(best),
        pieces_(pattern.english.blanks.size()) {}

  void read() {
    const std::vector<std::string>& words = pattern_.english.words;
    if (text_.size() < pattern_.own + pieces_.size()) return;
    if (text_.compare(0, words.front().size(), words.front()) != 0) return;
    const std::string& last = words.back();
    end_ = text_.size() - last.size();
    if (text_.compare(end_, last.size(), last) != 0) return;
    fill(0, words.front().size(), 0);
  }

 private:
  void fill(std::size_t blank, std::size_t from, std::size_t unknown) {
    const std::vector<std::string>& words = pattern_.english.words;
    if (blank + 1 == pieces_.size()) {
      if (take(blank, from, end_, unknown)) keep(unknown);
      return;
    }
    const std::string& next = words[blank + 1];
    for (std::size_t at = text_.find(next, from + 1);
         at != text_.npos && at + next.size() < end_ && best_.unknown > 0;
         at = text_.find(next, at + 1)) {
      std::size_t sum = unknown;
      if (take(blank, from, at, sum)) fill(blank + 1, at + next.size(), sum);
    }
  }

  // The piece from `from` to `to` for a blank. False: it cannot be better than what there is.
  bool take(std::size_t blank, std::size_t from, std::size_t to, std::size_t& unknown) {
    if (to <= from || text_[from] == ' ' || text_[to - 1] == ' ') return false;
    const Blank& name = pattern_.english.blanks[blank];
    std::string piece = text_.substr(from, to - from);
    for (std::size_t i = 0; i < blank; ++i) {
      if (pattern_.english.blanks[i].number == name.number && taken(i) != piece) return false;
    }
    if (name.kind == '=') {
      pieces_[blank] = Said{piece, 0, false, {}};
    } else {
      if (name.kind == '#' && !book_.is_number(piece)) return false;
      pieces_[blank] = book_.look_up(piece, depth_ + 1, search_);
      // What somebody wrote is not said by halves.
      if (pieces_[blank].unknown > 0 && pattern_.english.words[blank].ends_with("“"))
        pieces_[blank] = Said{piece, letter_count(piece), false, {piece}};
      unknown += pieces_[blank].unknown;
    }
    at_.resize(std::max(at_.size(), blank + 1));
    at_[blank] = {from, to};
    return unknown < best_.unknown;
  }

  std::string taken(std::size_t blank) const {
    return text_.substr(at_[blank].first, at_[blank].second - at_[blank].first);
  }

  void keep(std::size_t unknown) {
    const Template& spanish = pattern_.spanish;
    const bool opens = pattern_.english.words.front().empty();  // with a blank
    best_ = Said{spanish.words.front(), unknown, false, {}};
    for (std::size_t i = 0; i < spanish.blanks.size(); ++i) {
      std::size_t from = 0;
      while (pattern_.english.blanks[from].number != spanish.blanks[i].number) ++from;
      std::string piece = pieces_[from].text;
      // A capital only because the English sentence began there.
      if (pieces_[from].raised && from == 0 && opens) {
        if (best_.text.empty())
          best_.raised = true;
        else
          change_case(piece, false);
      }
      join(best_.text, piece);
      best_.text += spanish.words[i + 1];
    }
    for (const Said& piece : pieces_)
      best_.left.insert(best_.left.end(), piece.left.begin(), piece.left.end());
  }

  const PhraseBook& book_;
  const Pattern& pattern_;
  const std::string& text_;
  int depth_;
  Search& search_;
  Said& best_;
  std::size_t end_ = 0;
  std::vector<Said> pieces_;
  std::vector<std::pair<std::size_t, std::size_t>> at_;
};

bool PhraseBook::is_number(const std::string& text) const {
  const auto found = exact_.find(text);
  return found != exact_.end() ? found->second.inside : letter_count(text) == 0;
}

// What comes before the space at `at` and what comes after it, where a sentence or a clause ends:
// each keeps its own mark.
void PhraseBook::try_parted(const std::string& text, std::size_t at, int depth, Search& search,
                            Said& best) const {
  const std::string_view before = std::string_view(text).substr(0, at);
  std::string_view mark;
  for (const std::string_view one : {".", "?", ";", " ·"}) {
    if (before.ends_with(one)) mark = one;
  }
  if (mark.empty() || before.size() == mark.size() || at + 1 == text.size()) return;
  const bool keeps = mark == "." || mark == "?";
  const Said one =
      look_up(std::string(keeps ? before : before.substr(0, at - mark.size())), depth + 1, search);
  if (one.unknown >= best.unknown) return;
  const Said other = look_up(text.substr(at + 1), depth + 1, search);
  if (one.unknown + other.unknown >= best.unknown) return;
  best = {one.text + std::string(keeps ? "" : mark) + " " + other.text, one.unknown + other.unknown,
          one.raised, one.left};
  best.left.insert(best.left.end(), other.left.begin(), other.left.end());
}

PhraseBook::Said PhraseBook::look_up(const std::string& text, int depth, Search& search) const {
  if (const auto found = exact_.find(text);
      found != exact_.end() && (depth > 0 || !found->second.inside)) {
    return {found->second.spanish, 0, false, {}};
  }
  if (stays(text)) return {text, 0, false, {}};
  if (depth > 0) {
    if (const auto found = pieces_.find(text); found != pieces_.end()) return found->second;
  }
  Said best{text, letter_count(text), false, {text}};
  if (depth > kDepth) {
    search.cut = true;
    return best;
  }
  const auto try_all = [&](const std::string& form) {
    for (std::size_t at = form.find(' '); at != form.npos; at = form.find(' ', at + 1))
      try_parted(form, at, depth, search, best);
    for (const Pattern& pattern : patterns_) {
      if (best.unknown == 0) return;
      if (++search.tries > kTries) {
        search.cut = true;
        return;
      }
      Reading(*this, pattern, form, depth, search, best).read();
    }
  };
  try_all(text);
  std::string lower = text;
  if (best.unknown > 0 && change_case(lower, false)) {
    const std::size_t before = best.unknown;
    if (const auto found = exact_.find(lower); found != exact_.end()) {
      best = {found->second.spanish, 0, false, {}};
    } else {
      try_all(lower);
    }
    if (best.unknown < before) best.raised = change_case(best.text, true);
  }
  if (depth > 0 && !search.cut) pieces_.emplace(text, best);
  return best;
}

// A line by its columns, which stand two spaces or more apart.
PhraseBook::Said PhraseBook::line(std::string_view english) const {
  Said out;
  std::size_t at = 0;
  while (at < english.size()) {
    if (english[at] == ' ') {
      out.text += ' ';
      ++at;
      continue;
    }
    std::size_t end = std::min(english.find("  ", at), english.size());
    while (english[end - 1] == ' ') --end;
    Search search;
    Said said{std::string(english.substr(at, end - at)), 0, false, {}};
    const std::size_t all = letter_count(said.text);
    if (said.text.size() <= kLongest) said = look_up(said.text, 0, search);
    // A few words of another language in a sentence help nobody.
    if (said.unknown * 4 > all * 3) said.text = std::string(english.substr(at, end - at));
    out.text += said.text;
    out.unknown += said.unknown;
    out.left.insert(out.left.end(), said.left.begin(), said.left.end());
    at = end;
  }
  return out;
}

std::string PhraseBook::in(std::string_view english, std::string_view language) const {
  std::string text(english);
  if (language != kSpanish) return text;
  if (const auto found = said_.find(text); found != said_.end()) return found->second;
  if (said_.size() + pieces_.size() > kRemembered) {
    said_.clear();
    pieces_.clear();
  }
  std::string out;
  if (const auto found = exact_.find(text); found != exact_.end() && !found->second.inside) {
    out = found->second.spanish;
  } else {
    for (std::size_t at = 0; at <= text.size();) {
      const std::size_t end = std::min(text.find('\n', at), text.size());
      out += line(english.substr(at, end - at)).text;
      if (end < text.size()) out += '\n';
      at = end + 1;
    }
  }
  return said_.emplace(std::move(text), std::move(out)).first->second;
}

std::vector<std::string> PhraseBook::left(std::string_view english) const {
  std::vector<std::string> out;
  if (exact_.contains(std::string(english))) return out;
  for (std::size_t at = 0; at <= english.size();) {
    const std::size_t end = std::min(english.find('\n', at), english.size());
    Said said = line(english.substr(at, end - at));
    out.insert(out.end(), said.left.begin(), said.left.end());
    at = end + 1;
  }
  return out;
}

}  // namespace legwork::gui
