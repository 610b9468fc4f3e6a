#include "engine/base/message.h"

#include <fmt/format.h>

#include <ostream>

#include "engine/base/catalogue.h"
#include "engine/base/diagnostics.h"

namespace legwork {
namespace {

// First letter made large; those of Latin-1 have two bytes.
std::string raised(std::string text) {
  if (text.empty()) return text;
  if (text[0] >= 'a' && text[0] <= 'z') {
    text[0] = static_cast<char>(text[0] - 0x20);
  } else if (text.size() > 1 && text[0] == '\xC3') {
    const unsigned char second = static_cast<unsigned char>(text[1]);
    if (second >= 0xA0 && second != 0xB7 && second != 0xBF)
      text[1] = static_cast<char>(second - 0x20);
  }
  return text;
}

bool is_pressure(Dimension dimension) {
  return dimension == Dimension::pressure || dimension == Dimension::pressure_difference;
}

std::string shown(const Amount& a, const Speech& speech) {
  const UnitSystem system = unit_system(a.dimension, speech);
  int decimals = a.decimals;
  if (decimals >= 0 && system == UnitSystem::metric && is_pressure(a.dimension)) ++decimals;
  std::string text = decimals == kShortest
                         ? fmt::format("{:.6g}", display_value(a.si, a.dimension, system))
                         : format_value(a.si, a.dimension, system, decimals);
  const std::string_view unit = display_unit(a.dimension, system);
  if (!a.bare && !unit.empty()) text.append(" ").append(unit);
  return text;
}

std::string joined(const List& list, const Speech& speech) {
  std::string out;
  const std::size_t n = list.items.size();
  const bool last_apart = (list.joined == Joined::by_and || list.joined == Joined::by_or) && n > 1;
  const char* between = list.joined == Joined::by_semicolons ? "; "
                        : list.joined == Joined::by_spaces   ? " "
                                                             : ", ";
  for (std::size_t i = 0; i < (last_apart ? n - 1 : n); ++i) {
    // After a whole sentence comes no semicolon.
    const bool ended = list.joined == Joined::by_semicolons && out.ends_with('.');
    out += (i == 0 ? "" : ended ? " " : between) + render(list.items[i], speech);
  }
  if (!last_apart) return out;
  const Message others(Name{out});
  return render(list.joined == Joined::by_and
                    ? say("{others} and {last}", {{"others", others}, {"last", list.items.back()}})
                    : say("{others} or {last}", {{"others", others}, {"last", list.items.back()}}),
                speech);
}

struct Filling {
  const Speech& speech;
  std::string operator()(const Message& m) const { return render(m, speech); }
  std::string operator()(const Name& n) const { return without_controls(n.text); }
  std::string operator()(const Term& t) const {
    const std::string_view found =
        speech.catalogue ? speech.catalogue->find({}, t.text) : std::string_view();
    return found.empty() ? without_controls(t.text) : std::string(found);
  }
  std::string operator()(const LocalText& t) const {
    if (speech.catalogue == nullptr) return without_controls(t.en);
    for (const auto& [tag, text] : t.others) {
      if (tag == speech.catalogue->tag()) return without_controls(text);
    }
    return (*this)(Term{t.en});  // the default looks of a kind are in the catalogue
  }
  std::string operator()(const Amount& a) const { return shown(a, speech); }
  std::string operator()(const Number& n) const { return format_number(n.value, n.decimals); }
  std::string operator()(const Clock& c) const {
    const int minute = ((c.minute % 1440) + 1440) % 1440;
    return fmt::format("{:02}:{:02}", minute / 60, minute % 60);
  }
  std::string operator()(const List& l) const { return joined(l, speech); }
  std::string operator()(const Findings& f) const { return f.list->text(speech); }
};

// "de" and "el" make "del", where the catalogue says so.
void append(std::string& out, std::string_view piece, const Speech& speech) {
  if (speech.catalogue != nullptr) {
    for (const Catalogue::Contraction& c : speech.catalogue->contractions()) {
      if (!out.ends_with(c.before) || !piece.starts_with(c.after)) continue;
      const std::size_t at = out.size() - c.before.size();
      if (at != 0 && out[at - 1] != ' ') continue;
      out.resize(at);
      out += c.joined;
      piece.remove_prefix(c.after.size());
      break;
    }
  }
  out += piece;
}

std::string filled(std::string_view text, const std::vector<Argument>& arguments,
                   const Speech& speech) {
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    const char c = text[at];
    if ((c == '{' || c == '}') && text.substr(at + 1).starts_with(c)) {
      out += c;
      at += 2;
      continue;
    }
    const std::size_t end = c == '{' ? text.find('}', at) : text.npos;
    if (end == text.npos) {
      out += c;
      ++at;
      continue;
    }
    std::string name(text.substr(at + 1, end - at - 1));
    const bool large = !name.empty() && name[0] >= 'A' && name[0] <= 'Z';
    if (large) name[0] = static_cast<char>(name[0] + 0x20);
    const Argument* found = nullptr;
    for (const Argument& argument : arguments) {
      if (argument.name == name) found = &argument;
    }
    if (found == nullptr) {
      out += text.substr(at, end + 1 - at);
    } else {
      std::string piece = std::visit(Filling{speech}, found->value);
      append(out, large ? raised(std::move(piece)) : piece, speech);
    }
    at = end + 1;
  }
  return out;
}

}  // namespace

Message::Message(LocalText text) {
  if (!text.en.empty()) arguments_.push_back({{}, std::move(text)});
}
Message::Message(Name name) {
  if (!name.text.empty()) arguments_.push_back({{}, std::move(name)});
}
Message::Message(Term term) {
  if (!term.text.empty()) arguments_.push_back({{}, std::move(term)});
}
Message::Message(const Amount& amount) { arguments_.push_back({{}, amount}); }
Message::Message(const Number& number) { arguments_.push_back({{}, number}); }
Message::Message(List list) { arguments_.push_back({{}, std::move(list)}); }
Message::Message(Findings findings) {
  if (!findings.list->empty()) arguments_.push_back({{}, std::move(findings)});
}
Message::operator std::string() const { return english(*this); }

bool operator==(const Message& a, const Message& b) {
  return a.what_ == b.what_ && a.context_ == b.context_ && a.many_ == b.many_ &&
         a.count_ == b.count_ && a.arguments_ == b.arguments_;
}
bool operator<(const Message& a, const Message& b) { return english(a) < english(b); }

Message say(const Phrase& what, std::initializer_list<Argument> arguments) {
  Message out(what);
  out.arguments_.assign(arguments.begin(), arguments.end());
  return out;
}

Message say_many(Literal one, Literal many, std::int64_t n,
                 std::initializer_list<Argument> arguments) {
  Message out = say(Phrase{one.text, {}}, arguments);
  out.many_ = many.text;
  out.count_ = n;
  out.arguments_.push_back({"n", Number{n}});
  return out;
}

Message verbatim(std::string words) { return Name{std::move(words)}; }
Message listed(const std::vector<std::string>& names, Joined joined) {
  List list{{}, joined};
  for (const std::string& name : names) list.items.emplace_back(Name{name});
  return list;
}

UnitSystem unit_system(Dimension dimension, const Speech& speech) {
  const bool temperature =
      dimension == Dimension::temperature || dimension == Dimension::temperature_difference;
  const bool metric = (temperature && speech.celsius) || (is_pressure(dimension) && speech.bar);
  return metric ? UnitSystem::metric : UnitSystem::trade;
}

std::string render(const Message& m, const Speech& speech) {
  if (m.what_.empty()) {
    return m.arguments_.empty() ? std::string()
                                : std::visit(Filling{speech}, m.arguments_.front().value);
  }
  std::string_view text;
  if (speech.catalogue != nullptr) {
    text = m.many_.empty() ? speech.catalogue->find(m.context_, m.what_)
                           : speech.catalogue->find(m.context_, m.what_, m.count_);
  }
  if (text.empty()) text = m.many_.empty() || m.count_ == 1 ? m.what_ : m.many_;
  return filled(text, m.arguments_, speech);
}

std::string english(const Message& message) { return render(message, {}); }

std::ostream& operator<<(std::ostream& out, const Message& message) {
  return out << english(message);
}

std::string without_controls(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    const unsigned char c = static_cast<unsigned char>(text[i]);
    const bool c1 =
        c == 0xC2 && i + 1 < text.size() && static_cast<unsigned char>(text[i + 1]) < 0xA0;
    if (c1) ++i;
    if (c1 || (c < 0x20 && c != '\n' && c != '\t') || c == 0x7F) {
      out += "\uFFFD";
    } else {
      out += static_cast<char>(c);
    }
  }
  return out;
}

Speech speech_of(std::string_view language, bool celsius, bool bar) {
  return {language == "en" ? nullptr : Catalogue::of(language), celsius, bar};
}

}  // namespace legwork
