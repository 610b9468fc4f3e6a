// A debrief as plain text: what `legwork debrief LOG` prints (debrief.h).

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "engine/score/debrief.h"
#include "engine/score/words.h"

namespace legwork::score {

namespace {

constexpr std::size_t kWidth = 92;

// Breaks text at spaces; later lines are indented.
std::string wrapped(std::string_view text, std::size_t indent) {
  std::string out;
  std::size_t column = indent;
  std::size_t from = 0;
  const auto width = [](std::string_view word) {
    std::size_t n = 0;
    for (const char c : word) n += (static_cast<unsigned char>(c) & 0xC0) != 0x80;
    return n;
  };
  while (from < text.size()) {
    std::size_t end = text.find(' ', from);
    if (end == std::string_view::npos) end = text.size();
    const std::string_view one = text.substr(from, end - from);
    const std::size_t w = width(one);
    if (column > indent && column + 1 + w > kWidth) {
      out += "\n" + std::string(indent, ' ');
      column = indent;
    } else if (column > indent) {
      out += ' ';
      ++column;
    }
    out += one;
    column += w;
    from = end + 1;
  }
  return out;
}

std::string points(double p) { return fmt::format("{:.1f}", p); }

void heading(std::string& out, std::string_view title) { out += fmt::format("\n{}\n", title); }

std::string joined(const std::vector<Message>& list, std::string_view between,
                   const Speech& speech) {
  std::string out;
  for (const Message& message : list) {
    if (!out.empty()) out += out.back() == '.' ? " " : std::string(between);
    out += render(message, speech);
  }
  return out;
}

constexpr std::size_t kMostNamed = 12;  // of a list that is read
constexpr std::size_t kMostWires = 2;   // more of them are counted

// Each name once, its severities together: "condenser, face dirty (mostly covered, matted)". Of
// many wires: how many.
std::vector<Message> short_names(const Debrief& d, const std::vector<int>& which) {
  std::vector<std::pair<Message, List>> named;
  std::set<std::string> wires;
  for (const int i : which) {
    const SuspectLine& line = d.suspects[static_cast<std::size_t>(i)];
    if (line.wire) wires.insert(line.what);
  }
  const bool counted = wires.size() > kMostWires;
  for (const int i : which) {
    const SuspectLine& line = d.suspects[static_cast<std::size_t>(i)];
    if (line.wire && counted) continue;
    auto known = std::find_if(named.begin(), named.end(),
                              [&](const auto& n) { return n.first == line.bare; });
    if (known == named.end()) known = named.insert(named.end(), {line.bare, {}});
    if (!line.severity.empty()) known->second.items.push_back(line.severity);
  }
  std::vector<Message> out;
  for (auto& [bare, severities] : named) {
    out.push_back(
        severities.items.empty()
            ? bare
            : say("{fault} ({severity})", {{"fault", bare}, {"severity", std::move(severities)}}));
  }
  if (counted)
    out.push_back(say_many("one wire", "{n} wires", static_cast<std::int64_t>(wires.size())));
  return out;
}

}  // namespace

Message outcome_word(const Account& account) {
  return account.passed     ? phrase("Passed.")
         : account.practice ? phrase("Practice.")
                            : phrase("Not passed.");
}

std::string account_text(const Debrief& d, const Speech& speech) {
  const auto said = [&](const Message& message) { return render(message, speech); };
  if (!d.closed) return said(say("The call is not closed yet: there is nothing to score.")) + "\n";
  std::string out;
  if (!d.account.scored) {
    out += said(say("Not scored.")) + "\n";
    for (const Message& remark : d.account.remarks) out += "  " + wrapped(said(remark), 2) + "\n";
    return out;
  }
  for (const Dimension& dim : d.account.dimensions) {
    out += fmt::format("  {:<14} {:>5} of {:>2.0f}  {}\n", said(name(dim.dim)), points(dim.points),
                       dim.of, wrapped(said(dim.sentence), 30));
  }
  for (const Message& remark : d.account.remarks) out += "  " + wrapped(said(remark), 2) + "\n";
  out += fmt::format("  {:<14} {:>5} of 100  {}\n", said(phrase("In all")), points(d.account.total),
                     said(outcome_word(d.account)));
  if (!d.account.passed) {
    List open{{}, Joined::by_spaces};
    for (const Gate& gate : d.account.gates) {
      if (!gate.met) open.items.push_back(gate.sentence);
    }
    out +=
        "  " +
        wrapped(said(say("What kept it from passing: {gates}", {{"gates", std::move(open)}})), 2) +
        "\n";
  }
  return out;
}

std::string as_text(const Debrief& d, const Speech& speech) {
  const auto said = [&](const Message& message) { return render(message, speech); };
  std::string out = said(say("{site}, {unit} ({scenario}), {outdoor} outdoors, {clock}",
                             {{"site", d.site},
                              {"unit", d.unit_name},
                              {"scenario", Name{d.scenario}},
                              {"outdoor", d.outdoor},
                              {"clock", Name{d.clock}}})) +
                    "\n";
  out += wrapped(said(say("“{text}”", {{"text", d.said}})), 0) + "\n";
  if (!d.opening.empty()) out += "\n" + wrapped(said(d.opening), 0) + "\n";
  if (d.closed) {
    heading(out, said(phrase("What it was")));
    out += wrapped(said(d.truth), 0) + "\n";
    if (!d.wrote.empty()) {
      heading(out, said(phrase("What you wrote")));
      for (const Message& line : d.wrote) out += "  " + wrapped(said(line), 4) + "\n";
      for (const Message& line : d.done)
        out += "  " + wrapped(said(say("Log: {line}", {{"line", line}})), 4) + "\n";
    }
  }
  heading(out, said(phrase("The log")));
  const auto possible = static_cast<int>(std::count_if(
      d.suspects.begin(), d.suspects.end(), [](const SuspectLine& s) { return s.struck_by != 0; }));
  out += wrapped(said(say("The ticket alone left {suspects} of {all}: {repairs}.",
                          {{"suspects", say_many("one suspect", "{n} suspects", possible)},
                           {"all", Number{d.suspects.size()}},
                           {"repairs", say_many("one repair", "{n} repairs",
                                                static_cast<std::int64_t>(d.repairs.size()))}})),
                 0) +
         "\n";
  for (const Page& page : d.pages) {
    if (d.closed && page.line.rfind("write up ", 0) == 0) continue;  // stands above
    std::string first = said(page.words);
    if (!page.shown.empty()) first += ": " + joined(page.shown, "; ", speech);
    out +=
        fmt::format("\n{:>3}  {:>5.1f} min  {}\n", page.number, page.at_minute, wrapped(first, 16));
    const auto line = [&](const std::string& text) {
      out += std::string(16, ' ') + wrapped(text, 16) + "\n";
    };
    if (!page.happened.empty())
      line(said(say("Heard: {what}.", {{"what", List{page.happened, Joined::by_commas}}})));
    for (const Message& hazard : page.hazards) line("! " + said(hazard));
    if (!page.verdict.empty() && page.step_class != StepClass::unsafe) {
      const Message label = word(page.step_class);
      line(label.empty() ? said(page.verdict)
                         : fmt::format("[{}] {}", said(label), said(page.verdict)));
    }
    std::vector<Message> struck = short_names(d, page.struck);
    if (!struck.empty() && struck.size() <= kMostNamed)
      line(said(
          say("Struck: {names}.", {{"names", List{std::move(struck), Joined::by_semicolons}}})));
    if (!page.back.empty())
      line(said(say("Back: {names}.",
                    {{"names", List{short_names(d, page.back), Joined::by_semicolons}}})));
  }
  if (!d.closed) {
    out += "\n" + said(say("The call is not closed yet: no account.")) + "\n";
    return out;
  }
  heading(out, said(phrase("Account")));
  out += account_text(d, speech);
  if (!d.changes.empty()) {
    heading(out, said(phrase("Worth changing")));
    for (const Change& change : d.changes) {
      out += "  " +
             wrapped(said(say("{Step}: {sentence}",
                              {{"step", change.step}, {"sentence", change.sentence}})),
                     4) +
             "\n";
    }
  }
  if (!d.route.empty()) {
    heading(out, said(say("Another way, in hindsight ({minutes} of searching)",
                          {{"minutes", minutes_words(d.route_minutes)}})));
    for (const RouteStep& step : d.route) {
      std::string line = said(step.words);
      if (!step.shown.empty()) line += ": " + said(step.shown);
      out += fmt::format("  {:>5.1f} min  {}", step.at_minute, wrapped(line, 13));
      if (!step.shown.empty())
        out += fmt::format(
            "  ({})", said(say_many("one repair left", "{n} repairs left", step.repairs_left)));
      out += "\n";
    }
  }
  if (!d.stages.empty()) {
    heading(out, said(d.lead_wrote ? phrase("By stages: you, and the lead")
                                   : phrase("By stages: you, and the direct route")));
    for (const Stage& stage : d.stages) {
      out += "  " + said(stage.name) + "\n";
      if (!stage.own.empty())
        out +=
            "    " +
            wrapped(said(say("You: {steps}.", {{"steps", List{stage.own, Joined::by_semicolons}}})),
                    6) +
            "\n";
      for (const LeadStepView& step : stage.lead) {
        out += "    " +
               wrapped(said(step.remark.en.empty()
                                ? step.words
                                : say("{step}. “{remark}”",
                                      {{"step", step.words}, {"remark", step.remark}})),
                       6) +
               "\n";
      }
    }
  }
  heading(out, said(phrase("Next time")));
  out += wrapped(said(d.goal), 0) + "\n\n" + wrapped(said(d.caution), 0) + "\n";
  return out;
}

}  // namespace legwork::score
