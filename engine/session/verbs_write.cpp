// Writing: notes, remarks on a tag, the write-up, signing off.

#include <fmt/format.h>

#include "engine/base/suggest.h"
#include "engine/session/names.h"
#include "engine/session/prompting.h"
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

Message remark_resolve(const Attempt& a, Line& line) {
  const int number = number_of(line[0]);
  if (number >= 1 && number <= static_cast<int>(a.book.tags.size())) return {};
  return say("There is no tag number {it}.", {{"it", Name{line[0]}}});
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

Message part_resolve(const Attempt& a, std::string& name) {
  if (find_part(a, name) != nullptr) return {};
  std::string device = name;
  if (names::device(a, device).empty() || names::wire(a, device).empty()) {
    name = device;
    return {};
  }
  std::vector<std::string> all;
  for (const PartWords& part : a.words.parts) all.push_back(part.what);
  Message hint = suggestion(name, all);
  if (hint.empty()) hint = device_hint(*a.unit, a.book.place, name);
  return with_hint(say("unknown part '{name}'", {{"name", Name{name}}}), std::move(hint));
}

Message stopped_resolve(const Attempt& a, Line& line) { return part_resolve(a, line[0]); }

// "condenser: plugged inside"
Finding finding_of(const std::string& text) {
  const std::size_t colon = text.find(':');
  if (colon == std::string::npos) return {text, ""};
  const std::size_t from = text.find_first_not_of(' ', colon + 1);
  std::string what = text.substr(0, colon);
  while (!what.empty() && what.back() == ' ') what.pop_back();
  return {what, from == std::string::npos ? "" : text.substr(from)};
}

Message finding_resolve(const Attempt& a, Line& line) {
  Finding finding = finding_of(line[0]);
  if (Message why = part_resolve(a, finding.what); !why.empty()) return why;
  const PartWords* part = find_part(a, finding.what);
  if (part == nullptr) return say("{part} cannot fail by itself.", {{"part", Name{finding.what}}});
  for (const std::string& how : part->hows) {
    if (how == finding.how) {
      line[0] = finding.what + ": " + finding.how;
      return {};
    }
  }
  if (const Message hint = suggestion(finding.how, part->hows); !hint.empty()) {
    return with_hint(say("unknown way to fail '{how}' of {part}",
                         {{"how", Name{finding.how}}, {"part", Term{finding.what}}}),
                     hint);
  }
  return say("expected how {part} failed, after a colon. It can be: {ways}.",
             {{"part", Term{finding.what}}, {"ways", listed(part->hows)}});
}

Message sure_resolve(const Attempt&, Line& line) {
  const int number = number_of(line[0]);
  return number >= 50 && number <= 99
             ? Message()
             : say("expected a number from 50 to 99: your bet in a hundred.");
}

Message choice_resolve(const std::vector<Choice>& choices, std::string& id) {
  std::vector<std::string> ids;
  for (const Choice& choice : choices) {
    if (choice.id == id) return {};
    ids.push_back(choice.id);
  }
  return say("expected one of: {choices}.", {{"choices", listed(ids)}});
}
Message product_resolve(const Attempt& a, Line& line) {
  return choice_resolve(a.words.products, line[0]);
}
Message watch_resolve(const Attempt& a, Line& line) {
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

Message sign_refuse(const Attempt& a, const Line&) {
  const WriteUp& w = a.book.write_up;
  std::vector<std::string> missing;  // as the steps call them
  const auto need = [&](bool there, const char* what) {
    if (!there) missing.emplace_back(what);
  };
  need(!w.stopped_by.empty(), "stopped by");
  need(!w.part.empty(), "part");
  need(!w.root.empty(), "root");
  need(w.sureness != 0, "sure");
  return missing.empty()
             ? Message()
             : say("The write-up still lacks: {fields}.", {{"fields", listed(missing)}});
}
void sign_book(Attempt& a, const Line&, Outcome&) {
  a.book.closed = true;
  a.book.closed_why = "signed off";
}

void suspects_book(Attempt& a, const Line&, Outcome&) { a.book.list_opened = true; }

template <auto Book, auto Resolve>
constexpr Verb write_verb(std::string_view name, std::string_view pattern, Phrase label,
                          Phrase help) {
  Verb v;
  v.name = name;
  v.pattern = pattern;
  v.group = Group::write;
  v.label = label;
  v.help = help;
  v.resolve = Resolve;
  v.book = Book;
  v.open_ended = true;
  return v;
}

using Resolver = Message (*)(const Attempt&, Line&);
constexpr Resolver kNone = nullptr;

constexpr Verb kVerbs[] = {
    {.name = "write down",
     .pattern = "write down {text+}",
     .group = Group::write,
     .label = phrase("write down"),
     .help = phrase("Write down what was found, before anything is reset or changed."),
     .minutes = 0.5,
     .book = note_book,
     .open_ended = true},
    {.name = "suspects",
     .pattern = "suspects",
     .group = Group::write,
     .label = phrase("Open the list of suspects"),
     .help = phrase("Opens the list of who still fits what was read; the call is practice from "
                    "then on."),
     .minutes = 0,
     .book = suspects_book},
    write_verb<remark_book, remark_resolve>(
        "remark", "remark {number} {text+}", phrase("remark"),
        phrase("A remark on a tag: remark 3 back-fed through the heater.")),
    write_verb<text_book<&WriteUp::stopped_by>, stopped_resolve>(
        "write up stopped by", "write up stopped by {part+}", phrase("write up stopped by"),
        phrase("The open device, or the load that is fed and does nothing.")),
    write_verb<finding_book<&WriteUp::part>, finding_resolve>(
        "write up part", "write up part {finding+}", phrase("write up part"),
        phrase("The part that failed, and how: write up part HPC: doing its work.")),
    write_verb<finding_book<&WriteUp::root>, finding_resolve>(
        "write up root", "write up root {finding+}", phrase("write up root"),
        phrase("Why: write up root condenser: plugged inside.")),
    write_verb<sure_book, sure_resolve>("write up sure", "write up sure {number}",
                                        phrase("write up sure"),
                                        phrase("What you would bet in a hundred: 50 to 99.")),
    write_verb<text_book<&WriteUp::product>, product_resolve>(
        "write up product", "write up product {choice+}", phrase("write up product"),
        phrase("What becomes of the product: keep, move, hold, discard.")),
    write_verb<text_book<&WriteUp::watch>, watch_resolve>(
        "write up watch", "write up watch {choice+}", phrase("write up watch"),
        phrase("Who watches the box tonight: stay, site, tomorrow, nobody.")),
    write_verb<text_book<&WriteUp::told>, kNone>("write up told", "write up told {text+}",
                                                 phrase("write up told"),
                                                 phrase("What the site was told.")),
    write_verb<text_book<&WriteUp::done>, kNone>("write up done", "write up done {text+}",
                                                 phrase("write up done"), phrase("What was done.")),
    write_verb<text_book<&WriteUp::verified>, kNone>(
        "write up verified", "write up verified {text+}", phrase("write up verified"),
        phrase("What was seen to prove the repair.")),
    {.name = "sign off",
     .pattern = "sign off",
     .group = Group::write,
     .label = phrase("Sign off and leave"),
     .help = phrase("Hand over to the site and end the call. The write-up must be complete."),
     .minutes = 10,
     .refuse = sign_refuse,
     .book = sign_book,
     .offer = [](const Attempt&, std::vector<Line>& lines) { lines.push_back({}); }},
};

}  // namespace

std::span<const Verb> verbs_write() { return kVerbs; }

}  // namespace legwork::session
