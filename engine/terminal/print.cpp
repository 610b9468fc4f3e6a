#include "engine/terminal/print.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <fstream>

#include "engine/base/home.h"
#include "engine/base/quantity.h"
#include "engine/base/text_file.h"
#include "engine/session/unit_files.h"
#include "engine/sim/world.h"
#include "engine/terminal/commands.h"
#include "engine/unit/unit.h"

namespace legwork::terminal {
namespace {

using session::Harm;

Speech current_speech;  // of this run of the program

constexpr std::string_view kMargin = "       ";

Message harm_words(Harm harm) {
  switch (harm) {
    case Harm::slip:
      return phrase("slip");
    case Harm::caution:
      return phrase("caution");
    case Harm::serious:
      return phrase("serious");
    case Harm::ends_the_call:
      return phrase("this ends the call");
  }
  return {};
}

// The same sound many times is told once, with its count.
std::string heard_text(const std::vector<session::Happening>& happenings) {
  constexpr std::size_t kMany = 3;
  const auto same = [](const session::Happening& a, const session::Happening& b) {
    return a.what == b.what && a.device == b.device;
  };
  std::string out;
  std::vector<session::Happening> told;
  for (const session::Happening& h : happenings) {
    std::vector<std::int64_t> at;
    for (const session::Happening& other : happenings) {
      if (same(other, h)) at.push_back(other.tick);
    }
    if (at.size() < kMany) {
      out += fmt::format("{}{}\n", kMargin, spoken(say("heard: {what}", {{"what", sentence(h)}})));
      continue;
    }
    if (std::any_of(told.begin(), told.end(), [&](const auto& t) { return same(t, h); })) continue;
    told.push_back(h);
    const double seconds = static_cast<double>(at.back() - at.front()) /
                           static_cast<double>(at.size() - 1) /
                           static_cast<double>(sim::kTicksPerSecond);
    const bool short_one = seconds < 90;
    const Name every{short_one ? fmt::format("{:.0f} s", seconds)
                               : fmt::format("{:.0f} min", seconds / 60)};
    out += fmt::format(
        "{}{}\n", kMargin,
        spoken(say("heard: {what} ({n} times, about every {span})",
                   {{"what", sentence(h)}, {"n", Number{at.size()}}, {"span", every}})));
  }
  return out;
}

// "CC" of the glance "CC position", "TC" of "display TC".
std::string thing_of(const session::View& view, const session::Observation& o) {
  for (const unit::Look& look : view.unit->glances) {
    if (look.id == o.key) return look.target;
  }
  return o.key.substr(o.key.find(' ') + 1);
}

}  // namespace

std::string minutes_text(double minutes) {
  if (minutes <= 0) return "";
  return minutes == static_cast<double>(static_cast<int>(minutes))
             ? fmt::format("{:.0f} min", minutes)
             : fmt::format("{:.1f} min", minutes);
}

std::string wrapped(std::string_view text, std::string_view margin, std::size_t width) {
  std::string out;
  std::size_t column = 0;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find(' ', at), text.size());
    const std::string_view word = text.substr(at, end - at);
    at = end + 1;
    if (word.empty()) continue;
    if (column > 0 && column + 1 + word.size() > width) {
      out += '\n';
      column = 0;
    }
    if (column == 0) {
      out += margin;
      column = margin.size();
    } else {
      out += ' ';
      ++column;
    }
    out += word;
    column += word.size();
  }
  return out + "\n";
}

const Speech& speech() { return current_speech; }
void speak(Speech speech) { current_speech = std::move(speech); }
std::string spoken(const Message& message) { return render(message, current_speech); }
void tell(const Message& line) { fmt::print("{}\n", spoken(line)); }

int complain(const Message& what, int code) {
  fmt::print(stderr, "{}\n", spoken(say("error: {what}", {{"what", what}})));
  return code;
}

int complain(const Diagnostics& found) {
  fmt::print(stderr, "{}", found.text(current_speech));
  return kFindings;
}

int write_out(const std::string& path, std::string_view bytes) {
  namespace fs = std::filesystem;
  std::error_code error;
  // Into a pipe or a device as it is; a file as a whole, where a link leads.
  const bool stream = fs::exists(path, error) && !fs::is_regular_file(path, error);
  const bool good = stream ? static_cast<bool>((std::ofstream(path) << bytes).flush())
                           : write_whole_file(fs::weakly_canonical(path, error).string(), bytes);
  if (!good) return complain(say("{file} cannot be written", {{"file", Name{path}}}), kFindings);
  fmt::print("{}\n", path);
  return kFine;
}

unit::UnitPtr unit_named(const std::string& name, std::string& home) {
  home = home_folder();
  Diagnostics found;
  unit::UnitPtr unit;
  if (home.empty())
    found.file_error("legwork", home_help());
  else
    unit = session::load_unit(name, home, {}, found);
  if (unit == nullptr) complain(found);
  return unit;
}

std::string clock(int minute) {
  const int of_day = ((minute % 1440) + 1440) % 1440;
  return fmt::format("{:02}:{:02}", of_day / 60, of_day % 60);
}

std::string ticket_text(const session::View& view) {
  std::string out =
      clock(view.clock_minute) + "  " +
      spoken(
          say("{id}, {title}. {outdoor} outdoors.",
              {{"id", Name{view.ticket.id}},
               {"title", view.ticket.title},
               {"outdoor", amount(view.ticket.outdoor_c + 273.15, Dimension::temperature, 0)}})) +
      "\n";
  if (view.unit != nullptr) out += fmt::format("{}{}\n", kMargin, spoken(view.unit->name));
  out += wrapped(spoken(say("They say: \"{said}\"", {{"said", view.ticket.said}})), kMargin);
  for (const session::PlaceView& place : view.places) {
    if (place.here)
      out += fmt::format("{}{}\n", kMargin,
                         spoken(say("You stand at: {place}.", {{"place", place.name}})));
  }
  return out;
}

std::string step_text(const session::View& after, const std::string& line,
                      const session::Outcome& outcome) {
  if (!outcome.accepted) {
    return fmt::format("{}{}\n", kMargin, spoken(say("not done: {why}", {{"why", outcome.why}})));
  }
  std::string out;
  for (const session::Hazard& hazard : outcome.hazards) {
    out += wrapped(
        spoken(say("! {harm}: {why} ({reference})", {{"harm", harm_words(hazard.harm)},
                                                     {"why", hazard.why},
                                                     {"reference", Name{hazard.reference}}})),
        kMargin);
  }
  const std::string head = fmt::format("{}  {}", clock(after.clock_minute), line);
  const std::string spent = minutes_text(outcome.minutes);
  std::vector<session::Observation> seen;  // by the step itself
  std::string glances, leads;
  for (const session::Observation& o : outcome.seen.observations) {
    if (o.source == session::Source::step) seen.push_back(o);
    if (o.tick > 0) {
      const std::int64_t s = after.ticket.starts_at_minute * 60 + o.tick / sim::kTicksPerSecond;
      leads += fmt::format("{}{:02}:{:02}:{:02}  {}: {}\n", kMargin, s / 3600 % 24, s / 60 % 60,
                           s % 60, o.key, spoken(shown(o)));
      continue;
    }
    if (o.source == session::Source::glance)
      glances +=
          fmt::format(" {}: {}{}", thing_of(after, o), spoken(shown(o)), o.state >= 0 ? "" : ".");
    if (o.source == session::Source::live_lead)
      leads += fmt::format(
          "{}{}\n", kMargin,
          spoken(say("{reading} now: {shown}", {{"reading", Name{o.key}}, {"shown", shown(o)}})));
  }
  if (seen.size() == 1 && seen[0].state < 0) {
    out = head + ": " + spoken(shown(seen[0])) + "\n" + out;
  } else {
    out = head + (spent.empty() ? "" : " (" + spent + ")") + "\n" + out;
    for (const session::Observation& o : seen) {
      if (!outcome.proofs.empty()) break;  // told in a line a part
      out += o.state >= 0 ? wrapped(spoken(shown(o)), kMargin)
                          : fmt::format("{}{}: {}\n", kMargin, o.key, spoken(shown(o)));
    }
  }
  out += heard_text(outcome.seen.happenings);
  out += leads;
  if (!glances.empty()) out += wrapped(spoken(phrase("At a glance:")) + glances, kMargin);
  for (const Message& said : outcome.seen.said) out += wrapped(spoken(said), kMargin);
  return out;
}

std::string tags_text(const session::View& view) {
  std::string out;
  for (const session::Tag& tag : view.tags) {
    std::string at;
    for (const std::string& one : tag.at) at += " " + one;
    out += fmt::format("{:3}  {}  {}{}: {}{}\n", tag.number,
                       clock(view.ticket.starts_at_minute + static_cast<int>(tag.at_minute)),
                       tag.function, at, spoken(tag.shown),
                       tag.remark.empty() ? "" : "  (" + tag.remark + ")");
  }
  return out.empty() ? spoken(say("Nothing has been read yet.")) + "\n" : out;
}

}  // namespace legwork::terminal
