#include "engine/session/replay.h"

#include <fmt/format.h>

#include "engine/base/fingerprint.h"
#include "engine/session/begun_files.h"
#include "engine/session/ticket_files.h"

namespace legwork::session {
namespace {

std::string hex(std::uint64_t value) { return fmt::format("{:016x}", value); }

TicketFiles files_of(const Log& log, const std::string& home) {
  if (log.closing) {
    return load_ticket_texts(log.closing->scenario_text, log.header.scenario + ".yaml",
                             log.closing->unit_text, log.header.unit + ".yaml", home);
  }
  TicketFiles files = load_ticket(log.header.scenario, home);
  const LogHeader& begun = log.header;
  if (files.ok() && files.scenario->content_hash == begun.scenario_sha256 &&
      files.unit->content_hash == begun.unit_sha256)
    return files;
  const std::optional<std::string> scenario = begun_file(begun.scenario_sha256);
  const std::optional<std::string> unit = begun_file(begun.unit_sha256);
  if (!scenario || !unit) return files;
  return load_ticket_texts(*scenario, begun.scenario + ".yaml", *unit, begun.unit + ".yaml", home);
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
  step.seen = outcome.seen.observations;
  step.happened = outcome.seen.happenings;
  for (Happening& h : step.happened) h.tick -= attempt.arrival_tick;
  for (const Hazard& h : outcome.hazards) step.hazards.push_back({h.id, h.harm, facts_of(h.why)});
  step.fingerprint = hex(fingerprint(attempt.site));
  return step;
}

LogClosing log_closing(const Attempt& attempt) {
  return {attempt.site.world.tick() - attempt.arrival_tick, attempt.book.closed_why,
          attempt.book.write_up, attempt.unit->source_text, attempt.scenario->source_text};
}

Message difference(const LogStep& logged, const LogStep& again) {
  if (logged.step != again.step)
    return say("the step is '{now}', and was '{then}'",
               {{"now", Name{again.step}}, {"then", Name{logged.step}}});
  if (logged.place != again.place)
    return say("it was done at '{now}', not at '{then}'",
               {{"now", Name{again.place}}, {"then", Name{logged.place}}});
  if (logged.ticks != again.ticks || logged.tick != again.tick) {
    return say("it ends at tick {now} after {ticks}, and not at tick {then} after {other}",
               {{"now", Number{again.tick}},
                {"ticks", Number{again.ticks}},
                {"then", Number{logged.tick}},
                {"other", Number{logged.ticks}}});
  }
  const auto& a = logged.seen;
  const auto& b = again.seen;
  if (a.size() != b.size())
    return say("{now} things were seen, not {then}",
               {{"now", Number{b.size()}}, {"then", Number{a.size()}}});
  for (std::size_t i = 0; i < a.size(); ++i) {
    if (a[i].key != b[i].key)
      return say("'{now}' was seen, not '{then}'",
                 {{"now", Name{b[i].key}}, {"then", Name{a[i].key}}});
    if (!same_reading(a[i], b[i])) {
      return say("{key} shows '{now}', not '{then}'",
                 {{"key", Name{b[i].key}},
                  {"now", shown(b[i])},
                  {"then", a[i].state >= 0 ? Message(Number{a[i].state}) : shown(a[i])}});
    }
  }
  const auto& c = logged.happened;
  const auto& d = again.happened;
  if (c.size() != d.size())
    return say("{now} things happened, not {then}",
               {{"now", Number{d.size()}}, {"then", Number{c.size()}}});
  for (std::size_t i = 0; i < c.size(); ++i) {
    if (c[i].what != d[i].what || c[i].device != d[i].device || c[i].tick != d[i].tick) {
      return say("'{now}' happened at tick {tick}, not '{then}' at {other}",
                 {{"now", sentence(d[i])},
                  {"tick", Number{d[i].tick}},
                  {"then", sentence(c[i])},
                  {"other", Number{c[i].tick}}});
    }
  }
  if (logged.hazards.size() != again.hazards.size()) {
    return say("{now} hazards are found, not {then}",
               {{"now", Number{again.hazards.size()}}, {"then", Number{logged.hazards.size()}}});
  }
  for (std::size_t i = 0; i < logged.hazards.size(); ++i) {
    const LogHazard& h = logged.hazards[i];
    const LogHazard& k = again.hazards[i];
    if (h != k) {
      return say("the hazard is '{now}', not '{then}'",
                 {{"now", Name{k.id}}, {"then", Name{h.id}}});
    }
  }
  if (logged.fingerprint != again.fingerprint)
    return say("the machine stands otherwise (its fingerprint differs)");
  return {};
}

Replayed replay(const Log& log, const std::string& home, const ReplayListener& listener) {
  Replayed out;
  const auto bad = [&](int line, Message why) {
    out.bad_line = line;
    out.why = std::move(why);
    return std::move(out);
  };
  if (log.header.format < kLogFormat) {
    return bad(1, say("the log is of format {format}, of an earlier version: it can be read, but "
                      "not played again or scored",
                      {{"format", Number{log.header.format}}}));
  }
  if (log.closing) {
    const int closing_line = static_cast<int>(log.steps.size()) + 2;
    if (sha256_hex(log.closing->unit_text) != log.header.unit_sha256) {
      return bad(closing_line, say("the unit's text is not the one that the log was begun with"));
    }
    if (sha256_hex(log.closing->scenario_text) != log.header.scenario_sha256) {
      return bad(closing_line,
                 say("the scenario's text is not the one that the log was begun with"));
    }
  }
  TicketFiles files = files_of(log, home);
  if (!files.ok())
    return bad(1, say("the ticket does not load:\n{diagnostics}",
                      {{"diagnostics", files.found.message()}}));
  if (files.unit->content_hash != log.header.unit_sha256) {
    return bad(1, say("unit '{unit}' has changed since the log was begun",
                      {{"unit", Name{log.header.unit}}}));
  }
  if (files.scenario->content_hash != log.header.scenario_sha256) {
    return bad(1, say("scenario '{scenario}' has changed since the log was begun",
                      {{"scenario", Name{log.header.scenario}}}));
  }
  if (files.scenario->id != log.header.scenario || files.unit->id != log.header.unit) {
    return bad(1, say("the names of unit and scenario are not those of their files"));
  }
  out.attempt = begin(files.unit, files.scenario, log.header.seed);
  if (out.attempt == nullptr)
    return bad(1, say("the ticket's machine never shows what was found on arrival"));
  int line = 1;
  for (const LogStep& logged : log.steps) {
    ++line;
    const ParsedStep parsed = parse_step(logged.step);
    if (!parsed.step) return bad(line, parsed.why);
    const Outcome outcome = submit(*out.attempt, *parsed.step);
    if (!outcome.accepted)
      return bad(line, say("the step is refused: {why}", {{"why", outcome.why}}));
    Message differs = difference(logged, log_step(*out.attempt, outcome));
    if (!differs.empty()) return bad(line, std::move(differs));
    if (listener) listener(line, logged, *out.attempt, outcome);
  }
  if (log.closing) {
    ++line;
    const LogClosing again = log_closing(*out.attempt);
    if (!out.attempt->book.closed)
      return bad(line, say("the call is not closed by the steps before"));
    if (again.tick != log.closing->tick || again.why != log.closing->why)
      return bad(line, say("the call ends otherwise"));
    if (!(again.write_up == log.closing->write_up))
      return bad(line, say("the write-up is not the one that the steps wrote"));
  }
  return out;
}

}  // namespace legwork::session
