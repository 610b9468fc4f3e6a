// Writing: notes, remarks on a tag, the write-up, signing off.

#include <fmt/format.h>

#include "engine/base/suggest.h"
#include "engine/session/names.h"
#include "engine/session/verbs.h"

namespace legwork::session {
namespace {

// --- notes ---

void note_book(Attempt& a, const Line& line, Outcome&) { a.book.notes.push_back(line[0]); }

int number_of(const std::string& text) {
  int out = 0;
  if (text.empty() || text.size() > 4) return -1;
  for (const char c : text) {
    if (c < '0' || c > '9') return -1;
    out = out * 10 + (c - '0');
  }
  return out;
}

std::string remark_resolve(const Attempt& a, Line& line) {
  const int number = number_of(line[0]);
  if (number >= 1 && number <= static_cast<int>(a.book.tags.size())) return {};
  return fmt::format("There is no tag number {}.", line[0]);
}
void remark_book(Attempt& a, const Line& line, Outcome&) {
  a.book.tags[static_cast<std::size_t>(number_of(line[0])) - 1].remark = line[1];
}

// --- the write-up ---

const PartWords* find_part(const Attempt& a, std::string_view name) {
  for (const PartWords& part : a.words.parts) {
    if (part.what == name) return &part;
  }
  return nullptr;
}

std::string part_resolve(const Attempt& a, std::string& name) {
  if (find_part(a, name) != nullptr) return {};
  std::string device = name;
  if (names::device(a, device).empty() || names::wire(a, device).empty()) {
    name = device;
    return {};
  }
  std::vector<std::string> all;
  for (const PartWords& part : a.words.parts) all.push_back(part.what);
  const std::string hint = did_you_mean(name, all);
  return fmt::format("unknown part '{}'{}", name, hint.empty() ? "." : "; " + hint);
}

std::string stopped_resolve(const Attempt& a, Line& line) { return part_resolve(a, line[0]); }

// "condenser: plugged inside"
Finding finding_of(const std::string& text) {
  const std::size_t colon = text.find(':');
  if (colon == std::string::npos) return {text, ""};
  const std::size_t from = text.find_first_not_of(' ', colon + 1);
  std::string what = text.substr(0, colon);
  while (!what.empty() && what.back() == ' ') what.pop_back();
  return {what, from == std::string::npos ? "" : text.substr(from)};
}

std::string finding_resolve(const Attempt& a, Line& line) {
  Finding finding = finding_of(line[0]);
  if (std::string why = part_resolve(a, finding.what); !why.empty()) return why;
  const PartWords* part = find_part(a, finding.what);
  if (part == nullptr) return fmt::format("{} cannot fail by itself.", finding.what);
  for (const std::string& how : part->hows) {
    if (how == finding.how) {
      line[0] = finding.what + ": " + finding.how;
      return {};
    }
  }
  std::string list;
  for (const std::string& how : part->hows) list += (list.empty() ? "" : ", ") + how;
  const std::string hint = did_you_mean(finding.how, part->hows);
  if (!hint.empty())
    return fmt::format("unknown way to fail '{}' of {}; {}", finding.how, finding.what, hint);
  return fmt::format("expected how {} failed, after a colon. It can be: {}.", finding.what, list);
}

std::string sure_resolve(const Attempt&, Line& line) {
  const int number = number_of(line[0]);
  return number >= 50 && number <= 99 ? ""
                                      : "expected a number from 50 to 99: your bet in a hundred.";
}

std::string choice_resolve(const std::vector<Choice>& choices, std::string& id) {
  std::string list;
  for (const Choice& choice : choices) {
    if (choice.id == id) return {};
    list += (list.empty() ? "" : ", ") + choice.id;
  }
  return fmt::format("expected one of: {}.", list);
}
std::string product_resolve(const Attempt& a, Line& line) {
  return choice_resolve(a.words.products, line[0]);
}
std::string watch_resolve(const Attempt& a, Line& line) {
  return choice_resolve(a.words.watches, line[0]);
}

template <auto Member>
void text_book(Attempt& a, const Line& line, Outcome&) {
  a.book.write_up.*Member = line[0];
}
template <auto Member>
void finding_book(Attempt& a, const Line& line, Outcome&) {
  a.book.write_up.*Member = finding_of(line[0]);
}
void sure_book(Attempt& a, const Line& line, Outcome&) {
  a.book.write_up.sureness = number_of(line[0]);
}

std::string sign_refuse(const Attempt& a, const Line&) {
  const WriteUp& w = a.book.write_up;
  std::string missing;
  const auto need = [&](bool there, const char* what) {
    if (!there) missing += (missing.empty() ? "" : ", ") + std::string(what);
  };
  need(!w.stopped_by.empty(), "stopped by");
  need(!w.part.empty(), "part");
  need(!w.root.empty(), "root");
  need(w.sureness != 0, "sure");
  return missing.empty() ? "" : fmt::format("The write-up still lacks: {}.", missing);
}
void sign_book(Attempt& a, const Line&, Outcome&) {
  a.book.closed = true;
  a.book.closed_why = "signed off";
}

template <auto Book, auto Resolve>
constexpr Verb write_verb(std::string_view name, std::string_view pattern, std::string_view help) {
  Verb v;
  v.name = name;
  v.pattern = pattern;
  v.group = Group::write;
  v.label = name;
  v.help = help;
  v.resolve = Resolve;
  v.book = Book;
  v.open_ended = true;
  return v;
}

using Resolver = std::string (*)(const Attempt&, Line&);
constexpr Resolver kNone = nullptr;

constexpr Verb kVerbs[] = {
    {.name = "write down",
     .pattern = "write down {text+}",
     .group = Group::write,
     .label = "write down",
     .help = "Write down what was found, before anything is reset or changed.",
     .minutes = 0.5,
     .book = note_book,
     .open_ended = true},
    write_verb<remark_book, remark_resolve>(
        "remark", "remark {number} {text+}",
        "A remark on a tag: remark 3 back-fed through the heater."),
    write_verb<text_book<&WriteUp::stopped_by>, stopped_resolve>(
        "write up stopped by", "write up stopped by {part+}",
        "The open device, or the load that is fed and does nothing."),
    write_verb<finding_book<&WriteUp::part>, finding_resolve>(
        "write up part", "write up part {finding+}",
        "The part that failed, and how: write up part HPC: doing its work."),
    write_verb<finding_book<&WriteUp::root>, finding_resolve>(
        "write up root", "write up root {finding+}",
        "Why: write up root condenser: plugged inside."),
    write_verb<sure_book, sure_resolve>("write up sure", "write up sure {number}",
                                        "What you would bet in a hundred: 50 to 99."),
    write_verb<text_book<&WriteUp::product>, product_resolve>(
        "write up product", "write up product {choice+}",
        "What becomes of the product: keep, move, hold, discard."),
    write_verb<text_book<&WriteUp::watch>, watch_resolve>(
        "write up watch", "write up watch {choice+}",
        "Who watches the box tonight: stay, site, tomorrow, nobody."),
    write_verb<text_book<&WriteUp::told>, kNone>("write up told", "write up told {text+}",
                                                 "What the site was told."),
    write_verb<text_book<&WriteUp::done>, kNone>("write up done", "write up done {text+}",
                                                 "What was done."),
    write_verb<text_book<&WriteUp::verified>, kNone>(
        "write up verified", "write up verified {text+}", "What was seen to prove the repair."),
    {.name = "sign off",
     .pattern = "sign off",
     .group = Group::write,
     .label = "Sign off and leave",
     .help = "Hand over to the site and end the call. The write-up must be complete.",
     .minutes = 10,
     .refuse = sign_refuse,
     .book = sign_book,
     .offer = [](const Attempt&, std::vector<Line>& lines) { lines.push_back({}); }},
};

}  // namespace

std::span<const Verb> verbs_write() { return kVerbs; }

}  // namespace legwork::session
