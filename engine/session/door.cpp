#include "engine/session/door.h"
#include "engine/session/aliases.h"
#include "engine/session/verbs.h"

#include <fmt/format.h>
#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "engine/base/our_bug.h"
#include "engine/base/plain_text.h"
#include "engine/base/text_file.h"
#include "engine/session/attempt.h"
#include "engine/session/call_book.h"
#include "engine/session/clocks.h"
#include "engine/session/hat.h"
#include "engine/session/log_writer.h"
#include "engine/session/prompting.h"
#include "engine/session/proving.h"
#include "engine/session/replay.h"
#include "engine/session/salvage.h"
#include "engine/session/settings.h"
#include "engine/session/sights.h"
#include "engine/session/ticket_files.h"
#include "engine/session/unit_files.h"

namespace legwork::session {
namespace {

namespace fs = std::filesystem;

std::string shifts_folder() { return data_folder() + "/shifts"; }

// The first free name of the ticket: shifts/mb-004-001.jsonl.
std::string new_log_path(const std::string& scenario) {
  std::error_code error;
  for (int number = 1; number < 100000; ++number) {
    const std::string path = fmt::format("{}/{}-{:03}.jsonl", shifts_folder(), scenario, number);
    if (!fs::exists(path, error)) return path;
  }
  return {};
}

}  // namespace

struct Door::Inside {
  std::unique_ptr<Attempt> attempt;
  std::unique_ptr<LogWriter> writer;  // null: no log is kept, or the call is closed
  std::string log_path;
  Message log_trouble;

  // `typed`: the line it was given as; empty if it came as a step.
  Outcome submit(const Step& step, std::string_view typed);
  // The log stops here: what it holds is good, and what follows is not kept.
  void lose_log() {
    log_trouble =
        say("The shift log cannot be written (is the disk full?); what follows is not kept.");
    writer.reset();
  }
};

std::string data_folder() {
  const auto from = [](const char* name) {
    const char* value = std::getenv(name);
    return std::string(value == nullptr ? "" : value);
  };
  if (const std::string own = from("LEGWORK_DATA"); !own.empty()) return own;
  if (const std::string xdg = from("XDG_DATA_HOME"); !xdg.empty()) return xdg + "/legwork";
  if (const std::string home = from("HOME"); !home.empty()) return home + "/.local/share/legwork";
  return "legwork-data";
}

Door::Door(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Door::~Door() = default;

Opening Door::open(std::string_view scenario, const OpenOptions& options) {
  Opening out;
  const std::optional<HatName> hat = hat_name(scenario);
  TicketFiles files = hat ? hat_ticket(*hat, options.home, {options.cancel, options.tried})
                          : load_ticket(scenario, options.home);
  if (!files.ok()) {
    out.why = files.found.message();
    return out;
  }
  auto inside = std::make_unique<Inside>();
  inside->attempt = begin(files.unit, files.scenario, options.seed);
  if (inside->attempt == nullptr) {
    out.why = say("{file}: error: the machine never shows what 'found' says",
                  {{"file", Name{files.scenario->source_name}}});
    return out;
  }
  if (options.log_path != "-") {
    inside->log_path =
        options.log_path.empty() ? new_log_path(files.scenario->id) : options.log_path;
    auto writer = LogWriter::create(inside->log_path, log_header(*inside->attempt));
    if (!writer) {
      out.why = writer.failure().what;
      return out;
    }
    inside->writer = *std::move(writer);
    say_where_the_log_is(inside->log_path);
    book_call(CallEvent::begun, log_header(*inside->attempt), {});
  }
  out.door = std::unique_ptr<Door>(new Door(std::move(inside)));
  return out;
}

Opening Door::reopen(const std::string& log_path, const OpenOptions& options) {
  Opening out;
  ReadLog read = read_log_file(log_path);
  if (can_be_salvaged(read)) {
    const Number damaged{read.bad_line};
    const Result<std::string> aside = salvage(log_path, read);
    if (!aside) {
      out.why = aside.failure().what;
      return out;
    }
    out.notice =
        say("The log was damaged at line {line} and is opened up to the line before; such a call "
            "cannot "
            "pass. The damaged one is kept as {file}.",
            {{"line", damaged}, {"file", Name{*aside}}});
    read = read_log_file(log_path);
  }
  if (!read.log) {
    out.why = located(log_path, read.bad_line, read.why);
    return out;
  }
  Replayed again = replay(*read.log, options.home, nullptr);
  if (again.bad_line > 0) {
    out.why = located(log_path, again.bad_line, again.why);
    return out;
  }
  auto inside = std::make_unique<Inside>();
  inside->attempt = std::move(again.attempt);
  inside->log_path = log_path;
  if (read.torn) out.notice = say("The last line of the log was torn off; the step in it is lost.");
  if (!read.log->closing) {
    auto writer = LogWriter::append_to(log_path, read);
    if (!writer) {
      out.why = writer.failure().what;
      return out;
    }
    inside->writer = *std::move(writer);
    say_where_the_log_is(log_path);
    // Killed between the last step and the closing line.
    if (inside->attempt->book.closed) {
      if (!inside->writer->write(log_closing(*inside->attempt))) inside->lose_log();
      inside->writer.reset();
      book_call(CallEvent::ended, log_header(*inside->attempt), inside->attempt->book.closed_why);
    }
  }
  out.door = std::unique_ptr<Door>(new Door(std::move(inside)));
  return out;
}

Outcome Door::submit(const Step& step) { return inside_->submit(step, {}); }

Outcome Door::Inside::submit(const Step& step, std::string_view typed) {
  Outcome outcome = session::submit(*attempt, step);
  if (!outcome.accepted || writer == nullptr) return outcome;
  LogStep line = log_step(*attempt, outcome);
  if (!typed.empty() && typed != line.step) line.typed = typed;
  bool written = writer->write(line);
  if (written && outcome.closed) {
    written = writer->write(log_closing(*attempt));
    writer.reset();
    book_call(CallEvent::ended, log_header(*attempt), attempt->book.closed_why);
  }
  if (!written) {
    lose_log();
    outcome.seen.said.push_back(log_trouble);
  }
  return outcome;
}

Outcome Door::submit_line(std::string_view line) {
  const std::string meant = canonical_line(line, *inside_->attempt);
  const ParsedStep parsed = parse_step(meant);
  Outcome outcome;
  if (!parsed.step || parsed.step->verb == "repair") {
    outcome.why = how_it_goes_on(*inside_->attempt, meant);
    if (!outcome.why.empty()) return outcome;
  }
  if (parsed.step) return inside_->submit(*parsed.step, line);
  outcome.why = parsed.why;
  return outcome;
}

namespace {
// The steps that make the draft what `w` is.
std::vector<std::string> lines_of_draft(const WriteUp& w, const WriteUp& draft) {
  std::vector<std::string> lines;
  const auto write = [&](const char* field, const std::string& now, const std::string& before) {
    if (now != before && !now.empty()) lines.push_back(fmt::format("write up {} {}", field, now));
  };
  const auto finding = [](const Finding& f) {
    return f.empty() ? std::string() : f.what + ": " + f.how;
  };
  write("stopped by", w.stopped_by, draft.stopped_by);
  write("part", finding(w.part), finding(draft.part));
  write("root", finding(w.root), finding(draft.root));
  if (w.sureness != draft.sureness) lines.push_back(fmt::format("write up sure {}", w.sureness));
  write("product", w.product, draft.product);
  write("watch", w.watch, draft.watch);
  write("told", w.told, draft.told);
  write("done", w.done, draft.done);
  write("verified", w.verified, draft.verified);
  return lines;
}
}  // namespace

void Door::keep_draft(const WriteUp& w) {
  if (inside_->attempt->book.closed) return;
  for (const std::string& line : lines_of_draft(w, inside_->attempt->book.write_up)) {
    const ParsedStep parsed = parse_step(line);
    if (parsed.step && would(*parsed.step).accepted) submit_line(line);
  }
}

Outcome Door::write(const WriteUp& w) {
  Outcome last;
  last.accepted = true;
  for (const std::string& line : lines_of_draft(w, inside_->attempt->book.write_up)) {
    last = submit_line(line);
    if (!last.accepted) break;
  }
  return last;
}

View Door::view() const {
  View view = view_of(*inside_->attempt);
  view.log_path = inside_->log_path;
  return view;
}

Outcome Door::would(const Step& step) const { return session::would(*inside_->attempt, step); }

namespace {

// Did the trainee prove this terminal dead?
bool is_proven(const Attempt& attempt, circuit::TerminalId t) {
  if (is_marked_dead(attempt, t)) return true;
  const circuit::Circuit& wiring = attempt.unit->circuit;
  const circuit::DeviceId part = wiring.terminals[t.slot()].device;
  const std::vector<std::string>& parts = attempt.book.proven_dead;
  return part.valid() &&
         std::find(parts.begin(), parts.end(), wiring.devices[part.slot()].name) != parts.end();
}

// Did a voltmeter on this pair show it dead, with nothing moved since?
bool reads_dead(const Attempt& attempt, circuit::TerminalId a, circuit::TerminalId b) {
  const circuit::Circuit& wiring = attempt.unit->circuit;
  const std::string &first = wiring.terminals[a.slot()].name,
                    &second = wiring.terminals[b.slot()].name;
  const std::vector<HeldReading>& held = attempt.book.held;
  return std::any_of(held.begin(), held.end(), [&](const HeldReading& it) {
    const Line& at = it.step.arguments;
    return (it.step.verb == "volts" || it.step.verb == "lowz") && at.size() == 2 &&
           ((at[0] == first && at[1] == second) || (at[0] == second && at[1] == first)) &&
           !it.last.empty() && it.last.front().value < kDeadVolts &&
           changed_since(attempt, it.taken_minute).empty();
  });
}

}  // namespace

Message Door::ask_before(std::string_view line) const {
  const Attempt& attempt = *inside_->attempt;
  const ParsedStep parsed = parse_step(canonical_line(line, attempt));
  const Verb* verb = parsed.step ? find_verb(parsed.step->verb) : nullptr;
  if (verb != nullptr && verb->name == "sign off" && would(*parsed.step).accepted)
    return clocks_to_set(attempt, {});
  if (verb == nullptr || verb->touches == nullptr ||
      (verb->touch != Touch::hands && verb->touch != Touch::dead_leads) ||
      !would(*parsed.step).accepted)
    return {};
  Line names = parsed.step->arguments;
  if (verb->resolve != nullptr) verb->resolve(attempt, names);
  Touched touched;
  verb->touches(attempt, names, touched);
  const circuit::Circuit& wiring = attempt.unit->circuit;
  const auto open = std::find_if(touched.terminals.begin(), touched.terminals.end(),
                                 [&](circuit::TerminalId t) { return !is_proven(attempt, t); });
  if (open == touched.terminals.end()) return {};
  const std::string& screw = wiring.terminals[open->slot()].name;
  if (verb->touch == Touch::hands) {
    if (!touched.works) return {};
    return say("Hands would be on {terminal}. You have not proven it dead.",
               {{"terminal", Name{screw}}});
  }
  if (touched.terminals.size() < 2 ||
      is_in_hand(attempt.site, touched.terminals[0], touched.terminals[1]) ||
      reads_dead(attempt, touched.terminals[0], touched.terminals[1]))
    return {};
  return say(
      "{terminal} is not proven dead, and no reading of volts on this pair stands. {Function}: on "
      "a "
      "dead circuit only.",
      {{"terminal", Name{screw}}, {"function", Term{std::string(verb->name)}}});
}
std::vector<SetPoint> Door::set_points(std::string_view part) const {
  const circuit::Circuit& wiring = inside_->attempt->unit->circuit;
  return set_points_of(wiring, wiring.find_device(part));
}
const std::string& Door::log_path() const { return inside_->log_path; }
const Message& Door::log_trouble() const { return inside_->log_trouble; }

std::vector<PastShift> past_shifts(const OpenOptions&) {
  std::vector<PastShift> out;
  for (const std::string& path : files_in(shifts_folder(), ".jsonl")) {
    PastShift shift;
    shift.path = path;
    const ReadLog read = read_log_file(path);
    if (read.unbegun) continue;  // a kill came before there was anything to keep
    if (!read.log) {
      shift.broken =
          say("line {line}: {why}", {{"line", Number{read.bad_line}}, {"why", read.why}});
    } else {
      shift.scenario_id = shift.site = read.log->header.scenario;
      shift.closed = read.log->closing.has_value();
      const std::int64_t ticks = shift.closed              ? read.log->closing->tick
                                 : read.log->steps.empty() ? 0
                                                           : read.log->steps.back().tick;
      shift.minutes = static_cast<double>(ticks) / static_cast<double>(sim::kTicksPerMinute);
    }
    out.push_back(std::move(shift));
  }
  const auto written = [](const PastShift& shift) {
    std::error_code error;
    return fs::last_write_time(shift.path, error);
  };
  std::stable_sort(out.begin(), out.end(),
                   [&](const PastShift& a, const PastShift& b) { return written(a) > written(b); });
  return out;
}

Message help_of(std::string_view verb) {
  const Verb* row = find_verb(verb);
  return row == nullptr ? Message() : Message(row->help);
}

std::string copy_ticket(const std::string& scenario_path) {
  const Result<std::string> source = read_text_file(scenario_path);
  if (!source) return {};
  std::error_code error;
  fs::create_directories(own_scenarios(), error);
  for (int number = 1; number < 1000; ++number) {
    const std::string id = fmt::format("own-{}", number);
    const std::string path = fmt::format("{}/{}.yaml", own_scenarios(), id);
    if (fs::exists(path, error)) continue;
    std::string text = *source;
    const std::size_t key = text.rfind("\nscenario:") != std::string::npos
                                ? text.rfind("\nscenario:") + 1
                                : text.find("scenario:");
    if (key == std::string::npos) return {};
    text.replace(key, text.find('\n', key) - key, "scenario: " + id);
    std::ofstream file(path, std::ios::binary);
    file << text;
    return file.flush() ? path : std::string();
  }
  return {};
}

std::vector<TicketLine> tickets(const OpenOptions& options) {
  std::vector<TicketLine> out;
  const std::vector<PastShift> past = past_shifts(options);
  std::vector<std::string> files = files_in(home_or(options.home) + "/scenarios", ".yaml");
  for (std::string& own : files_in(own_scenarios(), ".yaml")) files.push_back(std::move(own));
  UnitShelf units;
  for (const std::string& path : files) {
    TicketLine line;
    line.path = path;
    line.id = fs::path(path).stem().string();
    TicketFiles ticket = load_ticket(path, options.home, &units);
    if (!is_plain_name(line.id)) {
      line.id = printable(line.id);
      ticket.found.file_error(path, say("unexpected name of a file"), kNameRule);
    }
    if (!ticket.ok()) {
      line.broken = ticket.found.message();
    } else {
      line.ticket = ticket_view(*ticket.scenario);
      line.unit_id = ticket.unit->id;
      line.unit_name = ticket.unit->name;
    }
    for (const PastShift& shift : past) {
      if (shift.scenario_id != line.id) continue;
      if (!shift.closed) {
        if (line.unfinished_log.empty()) line.unfinished_log = shift.path;
      } else {
        if (line.finished_logs.empty()) line.finished_minutes = shift.minutes;
        line.finished_logs.push_back(shift.path);
      }
    }
    out.push_back(std::move(line));
  }
  return out;
}

}  // namespace legwork::session
