// Going about, the senses, asking, waiting.

#include <algorithm>

#include "engine/base/parse_quantity.h"
#include "engine/base/suggest.h"
#include "engine/session/clocks.h"
#include "engine/session/names.h"
#include "engine/session/shop.h"
#include "engine/session/verbs.h"

namespace legwork::session {
namespace {

using unit::Sense;

// --- go ---

Message go_resolve(const Attempt& a, Line& line) { return names::place(a, line[0]); }

Message go_refuse(const Attempt& a, const Line& line) {
  if (line[0] == a.book.place)
    return say("You are there already: {place}.", {{"place", names::place_name(a, line[0])}});
  if (!a.book.pushed.empty()) {
    return say("Your hand holds {part} in; let go of it first (release {part}).",
               {{"part", Name{a.book.pushed}}});
  }
  return {};
}

double go_cost(const Attempt& a, const Line& line) {
  const unit::Place* place = names::find_place(a, line[0]);
  return names::holds(a.book.been, line[0]) ? place->walk_minutes : place->first_walk_minutes;
}

void go_book(Attempt& a, const Line& line, Outcome& out) {
  if (Message clocks = clocks_to_set(a, a.book.place); !clocks.empty())
    out.seen.said.push_back(std::move(clocks));
  a.book.place = line[0];
  names::keep(a.book.been, line[0]);
  for (const std::string& caution : names::find_place(a, line[0])->cautions) {
    out.seen.said.push_back(caution_words(caution));
  }
}

void go_offer(const Attempt& a, std::vector<Line>& lines) {
  for (const unit::Place& place : a.unit->places) {
    if (place.id != a.book.place) lines.push_back({place.id});
  }
}

// --- the senses ---

std::string need_of(const std::string& argument) {
  return argument.empty() ? argument : argument.substr(5);  // "with lamp" -> "lamp"
}

template <Sense S>
Message sense_resolve(const Attempt& a, Line& line) {
  std::vector<std::string> targets;
  const unit::Look* first = nullptr;
  bool as_asked = false;
  for (const unit::Look& look : a.unit->looks) {
    if (look.sense != S) continue;
    names::keep(targets, look.target);
    const bool same =
        look.target == line[0] ||
        std::equal(look.target.begin(), look.target.end(), line[0].begin(), line[0].end(),
                   [](char x, char y) { return std::tolower(x) == std::tolower(y); });
    if (!same) continue;
    if (first == nullptr || (look.place == a.book.place && first->place != a.book.place))
      first = &look;
    as_asked = as_asked || look.needs == need_of(line[1]);
  }
  if (first == nullptr) {
    const Message unknown = say("unknown thing '{thing}'", {{"thing", Name{line[0]}}});
    if (const Message hint = suggestion(line[0], targets); !hint.empty())
      return with_hint(unknown, hint);
    if (targets.empty()) return say("There is nothing on this unit to be found out that way.");
    return say("{unknown}. There are: {things}.",
               {{"unknown", unknown}, {"things", listed(targets)}});
  }
  line[0] = first->target;
  if (!as_asked) {
    if (!line[1].empty())
      return say("{Thing} shows no more {how}.",
                 {{"thing", Term{line[0]}}, {"how", Term{line[1]}}});
    line[1] = "with " + first->needs;
  }
  return {};
}

template <Sense S, class Do>
void each_look(const Attempt& a, const Line& line, Do act) {
  for (const unit::Look& look : a.unit->looks) {
    if (look.sense == S && look.target == line[0] && look.needs == need_of(line[1])) act(look);
  }
}

template <Sense S>
Message sense_refuse(const Attempt& a, const Line& line) {
  Message why;
  bool here = false;
  each_look<S>(a, line, [&](const unit::Look& look) {
    if (look.place.empty() || look.place == a.book.place) {
      here = true;
    } else {
      why = names::reach_place(a, look.place, Term{line[0]});
    }
  });
  if (!here) return why;
  // A part behind a cover can be heard, but not seen or touched.
  const bool part = S != Sense::listen && names::id(a, line[0]).valid();
  return part ? names::reach_inside(a, line[0]) : Message();
}

template <Sense S>
double sense_cost(const Attempt& a, const Line& line) {
  double minutes = 0;
  each_look<S>(a, line, [&](const unit::Look& look) { minutes = std::max(minutes, look.minutes); });
  return minutes + (need_of(line[1]) == "guard off" ? 5 : 0);
}

template <Sense S>
void sense_read(Site& site, const Line& line, Seen& seen) {
  take_looks(site, S, line[0], need_of(line[1]), seen);
}

template <Sense S>
void sense_offer(const Attempt& a, std::vector<Line>& lines) {
  for (const unit::Look& look : a.unit->looks) {
    if (look.sense != S || (!look.place.empty() && look.place != a.book.place)) continue;
    Line line{look.target, look.needs.empty() ? std::string() : "with " + look.needs};
    if (std::find(lines.begin(), lines.end(), line) == lines.end())
      lines.push_back(std::move(line));
  }
}

template <Sense S>
constexpr Verb sense_verb(std::string_view name, std::string_view pattern, Phrase label,
                          Phrase help) {
  Verb v;
  v.name = name;
  v.pattern = pattern;
  v.group = Group::look;
  v.label = label;
  v.help = help;
  v.minutes = 1;
  v.resolve = sense_resolve<S>;
  v.refuse = sense_refuse<S>;
  v.cost = sense_cost<S>;
  v.read = sense_read<S>;
  v.offer = sense_offer<S>;
  return v;
}

// --- asking ---

// The scenario format's questions, and one about locks.
std::vector<std::string_view> all_questions() {
  std::vector<std::string_view> all = fault::questions();
  if (std::find(all.begin(), all.end(), "whose lock") == all.end()) all.push_back("whose lock");
  return all;
}

Message ask_resolve(const Attempt&, Line& line) {
  const std::vector<std::string_view> all = all_questions();
  for (char& c : line[0]) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  if (!line[0].empty() && line[0].back() == '?') line[0].pop_back();
  if (std::find(all.begin(), all.end(), line[0]) != all.end()) return {};
  const Message unknown = say("unknown question '{question}'", {{"question", Name{line[0]}}});
  if (const Message hint = suggestion(line[0], all); !hint.empty()) return with_hint(unknown, hint);
  return say("{unknown}. You can ask: {questions}.",
             {{"unknown", unknown}, {"questions", listed({all.begin(), all.end()})}});
}

void ask_book(Attempt& a, const Line& line, Outcome& out) {
  names::keep(a.book.asked, line[0]);
  for (const fault::Answer& answer : a.scenario->answers) {
    if (answer.question == line[0]) {
      out.seen.said.push_back(answer.says);
      return;
    }
  }
  if (line[0] == "whose lock") {
    out.seen.said.push_back(a.book.other_locks.empty()
                                ? say("There is no lock here but yours.")
                                : say("Somebody left it on; nobody here knows who."));
    return;
  }
  out.seen.said.push_back(say("They would not know."));
}

void ask_offer(const Attempt& a, std::vector<Line>& lines) {
  for (std::string_view question : all_questions()) {
    if (!names::holds(a.book.asked, question)) lines.push_back({std::string(question)});
  }
}

void shop_book(Attempt& a, const Line&, Outcome& out) {
  ++a.book.shop_calls;
  out.seen.said.push_back(shop_question(a));
}

void shop_about_book(Attempt& a, const Line& line, Outcome& out) {
  ++a.book.shop_calls;
  out.seen.said.push_back(say("What would {reading} tell you, and what do you expect of it?",
                              {{"reading", Name{line[0]}}}));
}

void one_offer(const Attempt&, std::vector<Line>& lines) { lines.push_back({}); }

// --- waiting ---

constexpr double kLongestWaitMinutes = 12 * 60;

Message span_resolve(const Attempt&, Line& line) {
  const Result<double> span = parse_quantity(line[0], Dimension::time);
  if (!span) {
    const Failure& failure = span.failure();
    return failure.hint.empty()
               ? say("{error}. For example: let it run 5 min.", {{"error", failure.what}})
               : failure.sentence();
  }
  if (*span < 1 || *span > kLongestWaitMinutes * 60)
    return say("out of range: between 1 s and 12 h can be waited.");
  return {};
}

double span_cost(const Attempt&, const Line& line) {
  return *parse_quantity(line[0], Dimension::time) / 60;
}

void span_offer(const Attempt&, std::vector<Line>& lines) {
  for (const char* span : {"1 min", "5 min", "10 min", "20 min"}) lines.push_back({span});
}

void change_book(Attempt&, const Line&, Outcome& out) {
  if (out.seen.happenings.empty())
    out.seen.said.push_back(say("Nothing was heard to change from where you stand."));
}

constexpr Verb kVerbs[] = {
    {.name = "go",
     .pattern = "go {place+}",
     .group = Group::walk,
     .label = phrase("Go to: {it}"),
     .help = phrase(
         "Walk to another place of the site. The first time the tools are carried there, which "
         "takes longer."),
     .resolve = go_resolve,
     .refuse = go_refuse,
     .cost = go_cost,
     .book = go_book,
     .offer = go_offer},
    sense_verb<Sense::look>(
        "look", "look {thing+} [with lamp|with guard off]", phrase("Look at: {it}"),
        phrase("Look at a thing where you stand. A lamp behind a coil shows what its face hides; "
               "with a guard off it takes five minutes more.")),
    sense_verb<Sense::listen>(
        "listen", "listen {thing+} [with lamp|with guard off]", phrase("Listen to: {it}"),
        phrase("Listen: a hum that does not start, a chatter, a growl, nothing at all.")),
    sense_verb<Sense::feel>(
        "feel", "feel {thing+} [with lamp|with guard off]", phrase("Feel: {it}"),
        phrase("Feel with the back of a hand: air off a fan, a hot shell, a cold drier.")),
    sense_verb<Sense::smell>("smell", "smell {thing+} [with lamp|with guard off]",
                             phrase("Smell: {it}"), phrase("Smell: burnt varnish, oil, product.")),
    {.name = "ask",
     .pattern = "ask {question+}",
     .group = Group::ask,
     .label = phrase("Ask the site: {it}"),
     .help = phrase("Ask the people there. What they saw is so; what they make of it may not be."),
     .minutes = 1,
     .resolve = ask_resolve,
     .book = ask_book,
     .offer = ask_offer},
    {.name = "ring the shop",
     .pattern = "ring the shop",
     .group = Group::ask,
     .label = phrase("Ring the shop"),
     .help = phrase(
         "Ring the shop for help. It takes three minutes and costs three points of the route; "
         "the answer is a question."),
     .minutes = 3,
     .book = shop_book,
     .offer = one_offer},
    // What it is about comes from the suspects, which this folder does not know.
    {.name = "ring the shop about",
     .pattern = "ring the shop about {reading+}",
     .group = Group::ask,
     .label = phrase("Ring the shop"),
     .help =
         phrase("The same, about a reading that is on your mind; 'ring the shop' alone is enough."),
     .minutes = 3,
     .book = shop_about_book},
    {.name = "let it run",
     .pattern = "let it run {span+}",
     .group = Group::wait,
     .label = phrase("Let it run {it}"),
     .help = phrase("Stand by for a span: let it run 5 min. The machine goes on living."),
     .resolve = span_resolve,
     .cost = span_cost,
     .offer = span_offer},
    {.name = "let it run until change",
     .pattern = "let it run until change",
     .group = Group::wait,
     .label = phrase("Let it run until something changes"),
     .help = phrase(
         "Stand by until something is heard to change from where you stand, thirty minutes at "
         "most."),
     .minutes = 30,
     .book = change_book,
     .offer = one_offer,
     .until_change = true},
};

}  // namespace

std::span<const Verb> verbs_look() { return kVerbs; }

}  // namespace legwork::session
