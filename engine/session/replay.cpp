#include "engine/session/replay.h"

#include <fmt/format.h>

#include "engine/base/fingerprint.h"
#include "engine/session/ticket_files.h"

namespace legwork::session {
namespace {

std::string hex(std::uint64_t value) { return fmt::format("{:016x}", value); }

TicketFiles files_of(const Log& log, const std::string& home) {
  if (log.closing) {
    return load_ticket_texts(log.closing->scenario_text, log.header.scenario + ".yaml",
                             log.closing->unit_text, log.header.unit + ".yaml", home);
  }
  return load_ticket(log.header.scenario, home);
}

}  // namespace

LogHeader log_header(const Attempt& attempt) {
  LogHeader header;
  header.program = LEGWORK_VERSION;
  header.unit = attempt.unit->id;
  header.unit_sha256 = attempt.unit->content_hash;
  header.scenario = attempt.scenario->id;
  header.scenario_sha256 = attempt.scenario->content_hash;
  header.seed = attempt.seed;
  return header;
}

LogStep log_step(const Attempt& attempt, const Outcome& outcome) {
  LogStep step;
  step.tick = attempt.site.world.tick() - attempt.arrival_tick;
  step.step = text(attempt.book.last_act.step);
  step.ticks = attempt.book.last_act.ticks;
  step.place = attempt.book.last_act.place;
  step.seen = outcome.seen;
  for (Happening& h : step.seen.happenings) h.tick -= attempt.arrival_tick;
  step.hazards = outcome.hazards;
  step.fingerprint = hex(fingerprint(attempt.site));
  return step;
}

LogClosing log_closing(const Attempt& attempt) {
  return {attempt.site.world.tick() - attempt.arrival_tick, attempt.book.closed_why,
          attempt.book.write_up, attempt.unit->source_text, attempt.scenario->source_text};
}

std::string difference(const LogStep& logged, const LogStep& again) {
  if (logged.step != again.step)
    return fmt::format("the step is '{}', and was '{}'", again.step, logged.step);
  if (logged.place != again.place)
    return fmt::format("it was done at '{}', not at '{}'", again.place, logged.place);
  if (logged.ticks != again.ticks || logged.tick != again.tick) {
    return fmt::format("it ends at tick {} after {}, and not at tick {} after {}", again.tick,
                       again.ticks, logged.tick, logged.ticks);
  }
  const auto& a = logged.seen.observations;
  const auto& b = again.seen.observations;
  if (a.size() != b.size()) return fmt::format("{} things were seen, not {}", b.size(), a.size());
  for (std::size_t i = 0; i < a.size(); ++i) {
    if (a[i].key != b[i].key) return fmt::format("'{}' was seen, not '{}'", b[i].key, a[i].key);
    if (a[i].shown != b[i].shown || a[i].state != b[i].state) {
      return fmt::format("{} shows '{}', not '{}'", b[i].key, b[i].shown, a[i].shown);
    }
  }
  const auto& c = logged.seen.happenings;
  const auto& d = again.seen.happenings;
  if (c.size() != d.size()) return fmt::format("{} things happened, not {}", d.size(), c.size());
  for (std::size_t i = 0; i < c.size(); ++i) {
    if (c[i].what != d[i].what || c[i].tick != d[i].tick) {
      return fmt::format("'{}' happened at tick {}, not '{}' at {}", d[i].what, d[i].tick,
                         c[i].what, c[i].tick);
    }
  }
  if (logged.seen.said != again.seen.said) return "something else was said";
  if (logged.hazards.size() != again.hazards.size()) {
    return fmt::format("{} hazards are found, not {}", again.hazards.size(), logged.hazards.size());
  }
  for (std::size_t i = 0; i < logged.hazards.size(); ++i) {
    const Hazard& h = logged.hazards[i];
    const Hazard& k = again.hazards[i];
    if (h.id != k.id || h.harm != k.harm || h.why != k.why || h.reference != k.reference) {
      return fmt::format("the hazard is '{}', not '{}'", k.id, h.id);
    }
  }
  if (logged.fingerprint != again.fingerprint)
    return "the machine stands otherwise (its fingerprint differs)";
  return {};
}

Replayed replay(const Log& log, const std::string& home, const ReplayListener& listener) {
  Replayed out;
  const auto bad = [&](int line, std::string why) {
    out.bad_line = line;
    out.why = std::move(why);
    return std::move(out);
  };
  if (log.closing) {
    const int closing_line = static_cast<int>(log.steps.size()) + 2;
    if (sha256_hex(log.closing->unit_text) != log.header.unit_sha256) {
      return bad(closing_line, "the unit's text is not the one that the log was begun with");
    }
    if (sha256_hex(log.closing->scenario_text) != log.header.scenario_sha256) {
      return bad(closing_line, "the scenario's text is not the one that the log was begun with");
    }
  }
  TicketFiles files = files_of(log, home);
  if (!files.ok()) return bad(1, "the ticket does not load:\n" + files.found.text());
  if (files.unit->content_hash != log.header.unit_sha256) {
    return bad(1, fmt::format("unit '{}' has changed since the log was begun", log.header.unit));
  }
  if (files.scenario->content_hash != log.header.scenario_sha256) {
    return bad(
        1, fmt::format("scenario '{}' has changed since the log was begun", log.header.scenario));
  }
  if (files.scenario->id != log.header.scenario || files.unit->id != log.header.unit) {
    return bad(1, "the names of unit and scenario are not those of their files");
  }
  out.attempt = begin(files.unit, files.scenario, log.header.seed);
  if (out.attempt == nullptr)
    return bad(1, "the ticket's machine never shows what was found on arrival");
  int line = 1;
  for (const LogStep& logged : log.steps) {
    ++line;
    const ParsedStep parsed = parse_step(logged.step);
    if (!parsed.step) return bad(line, parsed.why);
    const Outcome outcome = submit(*out.attempt, *parsed.step);
    if (!outcome.accepted) return bad(line, "the step is refused: " + outcome.why);
    std::string differs = difference(logged, log_step(*out.attempt, outcome));
    if (!differs.empty()) return bad(line, std::move(differs));
    if (listener) listener(line, logged, *out.attempt, outcome);
  }
  if (log.closing) {
    ++line;
    const LogClosing again = log_closing(*out.attempt);
    if (!out.attempt->book.closed) return bad(line, "the call is not closed by the steps before");
    if (again.tick != log.closing->tick || again.why != log.closing->why)
      return bad(line, "the call ends otherwise");
    if (!(again.write_up == log.closing->write_up))
      return bad(line, "the write-up is not the one that the steps wrote");
  }
  return out;
}

}  // namespace legwork::session
