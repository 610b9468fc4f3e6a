// A debrief as plain text: what `legwork debrief LOG` prints (debrief.h).

#include <fmt/format.h>

#include <algorithm>

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

std::string joined(const std::vector<std::string>& list, std::string_view between) {
  std::string out;
  for (const std::string& s : list) {
    if (!out.empty()) out += out.back() == '.' ? " " : std::string(between);
    out += s;
  }
  return out;
}

// Each name once, its severities together: "condenser, face dirty (mostly covered, matted)".
std::vector<std::string> short_names(const Debrief& d, const std::vector<int>& which) {
  std::vector<std::pair<std::string, std::string>> named;  // "condenser, face dirty"; severities
  for (const int i : which) {
    const std::string& name = d.suspects[static_cast<std::size_t>(i)].name;
    const std::size_t open = name.find(" (");
    const std::string bare = name.substr(0, open);
    const std::string severity =
        open == std::string::npos ? "" : name.substr(open + 2, name.rfind(')') - open - 2);
    const auto known = std::find_if(named.begin(), named.end(),
                                    [&bare](const auto& n) { return n.first == bare; });
    if (known == named.end())
      named.emplace_back(bare, severity);
    else if (!severity.empty())
      known->second += (known->second.empty() ? "" : ", ") + severity;
  }
  std::vector<std::string> out;
  for (const auto& [bare, severities] : named)
    out.push_back(severities.empty() ? bare : fmt::format("{} ({})", bare, severities));
  return out;
}

}  // namespace

std::string account_text(const Debrief& d) {
  if (!d.closed) return "The call is not closed yet: there is nothing to score.\n";
  std::string out;
  if (!d.account.scored) {
    out += "Not scored.\n";
    for (const std::string& remark : d.account.remarks) out += "  " + wrapped(remark, 2) + "\n";
    return out;
  }
  for (const Dimension& dim : d.account.dimensions) {
    out += fmt::format("  {:<14} {:>5} of {:>2.0f}  {}\n", name(dim.dim), points(dim.points),
                       dim.of, wrapped(dim.sentence, 30));
  }
  for (const std::string& remark : d.account.remarks) out += "  " + wrapped(remark, 2) + "\n";
  out += fmt::format("  {:<14} {:>5} of 100  {}\n", "In all", points(d.account.total),
                     d.account.passed ? "Passed." : "Not passed.");
  if (!d.account.passed) {
    std::string open;
    for (const Gate& gate : d.account.gates) {
      if (!gate.met) open += (open.empty() ? "" : " ") + gate.sentence;
    }
    out += "  " + wrapped("What kept it from passing: " + open, 2) + "\n";
  }
  return out;
}

std::string as_text(const Debrief& d) {
  std::string out = fmt::format("{}, {} ({}), {} outdoors, {}\n", d.site, d.unit_name, d.scenario,
                                d.outdoor, d.clock);
  out += wrapped(fmt::format("“{}”", d.said), 0) + "\n";
  if (!d.opening.empty()) out += "\n" + wrapped(d.opening, 0) + "\n";
  if (d.closed) {
    heading(out, "What it was");
    out += wrapped(d.truth, 0) + "\n";
    if (!d.wrote.empty()) {
      heading(out, "What you wrote");
      for (const std::string& line : d.wrote) out += "  " + wrapped(line, 4) + "\n";
    }
  }
  heading(out, "The log");
  const auto possible = static_cast<int>(std::count_if(
      d.suspects.begin(), d.suspects.end(), [](const SuspectLine& s) { return s.struck_by != 0; }));
  out += wrapped(fmt::format("The ticket alone left {} of {}: {}.",
                             count_of(possible, "suspect", "suspects"), d.suspects.size(),
                             d.repairs.size() == 1
                                 ? "one repair"
                                 : fmt::format("{} different repairs",
                                               number_word(static_cast<int>(d.repairs.size())))),
                 0) +
         "\n";
  for (const Page& page : d.pages) {
    if (d.closed && page.line.rfind("write up ", 0) == 0) continue;  // stands above
    out += fmt::format("\n{:>3}  {:>5.1f} min  {}", page.number, page.at_minute, page.words);
    if (!page.shown.empty()) out += ": " + joined(page.shown, "; ");
    out += "\n";
    const auto line = [&](const std::string& text) {
      out += std::string(16, ' ') + wrapped(text, 16) + "\n";
    };
    if (!page.happened.empty()) line("Heard: " + joined(page.happened, ", ") + ".");
    for (const std::string& hazard : page.hazards) line("! " + hazard);
    if (!page.verdict.empty() && page.step_class != StepClass::unsafe) {
      const std::string_view label = word(page.step_class);
      line(label.empty() ? page.verdict : fmt::format("[{}] {}", label, page.verdict));
    }
    if (!page.struck.empty() && page.struck.size() <= 12) {
      line("Struck: " + joined(short_names(d, page.struck), "; ") + ".");
    }
    if (!page.back.empty()) line("Back: " + joined(short_names(d, page.back), "; ") + ".");
  }
  if (!d.closed) {
    out += "\nThe call is not closed yet: no account.\n";
    return out;
  }
  heading(out, "Account");
  out += account_text(d);
  if (!d.changes.empty()) {
    heading(out, "Worth changing");
    for (const Change& change : d.changes) {
      out += fmt::format("  Page {}: {}\n", change.page, wrapped(change.sentence, 4));
    }
  }
  if (!d.route.empty()) {
    heading(out, fmt::format("Another way ({} of searching)", minutes_text(d.route_minutes)));
    for (const RouteStep& step : d.route) {
      std::string line = step.words;
      if (!step.shown.empty()) line += ": " + step.shown;
      out += fmt::format("  {:>5.1f} min  {}", step.at_minute, wrapped(line, 13));
      if (!step.shown.empty())
        out += fmt::format("  ({} left)", count_of(step.repairs_left, "repair", "repairs"));
      out += "\n";
    }
  }
  heading(out, "Next time");
  out += wrapped(d.goal, 0) + "\n\n" + wrapped(d.caution, 0) + "\n";
  return out;
}

}  // namespace legwork::score
