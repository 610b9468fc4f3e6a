#include "engine/session/log_lines.h"

#include <cstdint>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <utility>

#include "engine/base/fingerprint.h"
#include "engine/base/plain_text.h"

namespace legwork::session {
namespace {

using Json = nlohmann::ordered_json;

std::string dump(const Json& json) {
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::string_view harm_name(Harm harm) {
  switch (harm) {
    case Harm::slip:
      return "slip";
    case Harm::caution:
      return "caution";
    case Harm::serious:
      return "serious";
    case Harm::ends_the_call:
      return "ends the call";
  }
  return "";
}

Harm harm_of(const std::string& name) {
  for (Harm harm : {Harm::slip, Harm::caution, Harm::serious}) {
    if (name == harm_name(harm)) return harm;
  }
  return Harm::ends_the_call;
}

constexpr std::pair<NotRead, std::string_view> kNotRead[] = {
    {NotRead::live, "live"},
    {NotRead::charged, "charged"},
    {NotRead::not_isolated, "not isolated"}};
constexpr std::pair<Source, std::string_view> kSources[] = {{Source::glance, "glance"},
                                                            {Source::live_lead, "live lead"}};

// The name of a value in such a table, "" if it has none; and back, the first row for none.
template <class Table>
std::string_view name_in(const Table& table, decltype(table[0].first) value) {
  for (const auto& row : table) {
    if (row.first == value) return row.second;
  }
  return {};
}
template <class Table, class Value>
Value value_in(const Table& table, const std::string& name, Value otherwise) {
  for (const auto& row : table) {
    if (row.second == name) return row.first;
  }
  return otherwise;
}

Json json_of(const LogHeader& h) {
  return {{"kind", "header"},
          {"format", h.format},
          {"program", h.program},
          {"unit", h.unit},
          {"unit_sha256", h.unit_sha256},
          {"scenario", h.scenario},
          {"scenario_sha256", h.scenario_sha256},
          {"seed", h.seed}};
}

Json json_of(const Observation& o) {
  Json out = {{"key", o.key}};
  if (o.state >= 0) {
    out["state"] = o.state;
  } else if (o.not_read != NotRead::read) {
    out["not_read"] = name_in(kNotRead, o.not_read);
  } else if (o.over_range) {
    out["over"] = true;
  } else {
    out["value"] = o.number;
    out["unit"] = o.unit;
  }
  if (o.source != Source::step) out["source"] = name_in(kSources, o.source);
  return out;
}

Json json_of(const LogHazard& h) {
  Json facts = Json::object();
  for (const auto& [name, value] : h.facts) facts[name] = value;
  return {{"id", h.id}, {"harm", harm_name(h.harm)}, {"facts", std::move(facts)}};
}

Json json_of(const LogStep& s) {
  Json out = {{"kind", "step"}, {"tick", s.tick}, {"step", s.step}};
  if (!s.typed.empty()) out["typed"] = s.typed;
  out["ticks"] = s.ticks;
  out["place"] = s.place;
  out["seen"] = Json::array();
  for (const Observation& o : s.seen) out["seen"].push_back(json_of(o));
  for (const Happening& h : s.happened) {
    out["happened"].push_back({{"tick", h.tick}, {"what", name_of(h.what)}, {"device", h.device}});
  }
  for (const LogHazard& h : s.hazards) out["hazards"].push_back(json_of(h));
  out["fingerprint"] = s.fingerprint;
  return out;
}

Json json_of(const WriteUp& w) {
  return {{"stopped_by", w.stopped_by},
          {"part", {{"what", w.part.what}, {"how", w.part.how}}},
          {"root", {{"what", w.root.what}, {"how", w.root.how}}},
          {"sureness", w.sureness},
          {"product", w.product},
          {"watch", w.watch},
          {"told", w.told},
          {"done", w.done},
          {"verified", w.verified}};
}

Json json_of(const LogClosing& c) {
  return {{"kind", "closing"},
          {"tick", c.tick},
          {"why", c.why},
          {"write_up", json_of(c.write_up)},
          {"unit_text", c.unit_text},
          {"scenario_text", c.scenario_text}};
}

// A whole number that fits; a number beyond it or a broken one would be cast to anything.
template <class Int>
Int whole(const Json& number) {
  const auto fits = [&](auto value) {
    if (!std::in_range<Int>(value)) throw std::out_of_range("a whole number that fits is expected");
    return static_cast<Int>(value);
  };
  if (number.is_number_unsigned()) return fits(number.get<std::uint64_t>());
  if (number.is_number_integer()) return fits(number.get<std::int64_t>());
  throw std::out_of_range("a whole number is expected");
}

LogHeader header_of(const Json& j) {
  LogHeader h;
  h.format = whole<int>(j.at("format"));
  h.program = j.at("program").get<std::string>();
  h.unit = j.at("unit").get<std::string>();
  h.unit_sha256 = j.at("unit_sha256").get<std::string>();
  h.scenario = j.at("scenario").get<std::string>();
  h.scenario_sha256 = j.at("scenario_sha256").get<std::string>();
  h.seed = whole<std::uint64_t>(j.at("seed"));
  return h;
}

// Sentences of format 1, in the order in which they were said.
void take_as_written(const Json& j, LogStep& s) {
  for (const Json& one : j.at("seen")) s.as_written.push_back(one.at("shown").get<std::string>());
  for (const Json& one : j.value("happened", Json::array()))
    s.as_written.push_back(one.at("what").get<std::string>());
  for (const Json& one : j.value("said", Json::array()))
    s.as_written.push_back(one.get<std::string>());
  for (const Json& one : j.value("hazards", Json::array()))
    s.as_written.push_back(one.at("why").get<std::string>());
}

Observation observation_of(const Json& j) {
  Observation o;
  o.key = j.at("key").get<std::string>();
  o.state = j.contains("state") ? whole<int>(j.at("state")) : -1;
  o.not_read = value_in(kNotRead, j.value("not_read", std::string()), NotRead::read);
  o.over_range = j.value("over", false);
  o.number = j.value("value", 0.0);
  o.unit = j.value("unit", std::string());
  o.source = value_in(kSources, j.value("source", std::string()), Source::step);
  return o;
}

LogHazard hazard_of(const Json& j) {
  LogHazard h;
  h.id = j.at("id").get<std::string>();
  h.harm = harm_of(j.at("harm").get<std::string>());
  for (const auto& [name, value] : j.at("facts").items())
    h.facts.emplace_back(name, value.get<std::string>());
  return h;
}

// False: it names something that happened and that this program does not know.
bool take_happened(const Json& j, LogStep& s) {
  const std::optional<Happens> what = happens_of(j.at("what").get<std::string>());
  if (what)
    s.happened.push_back(
        {whole<std::int64_t>(j.at("tick")), *what, j.at("device").get<std::string>()});
  return what.has_value();
}

bool take_step(const Json& j, int format, Log& log) {
  LogStep s;
  s.tick = whole<std::int64_t>(j.at("tick"));
  s.step = j.at("step").get<std::string>();
  s.typed = j.value("typed", std::string());
  s.ticks = whole<std::int64_t>(j.at("ticks"));
  s.place = j.at("place").get<std::string>();
  s.fingerprint = j.at("fingerprint").get<std::string>();
  if (format == 1) {
    take_as_written(j, s);
  } else {
    for (const Json& one : j.at("seen")) s.seen.push_back(observation_of(one));
    for (const Json& one : j.value("happened", Json::array())) {
      if (!take_happened(one, s)) return false;
    }
    for (const Json& one : j.value("hazards", Json::array())) s.hazards.push_back(hazard_of(one));
  }
  log.steps.push_back(std::move(s));
  return true;
}

LogClosing closing_of(const Json& j) {
  LogClosing c;
  c.tick = whole<std::int64_t>(j.at("tick"));
  c.why = j.at("why").get<std::string>();
  const Json& w = j.at("write_up");
  c.write_up.stopped_by = w.at("stopped_by").get<std::string>();
  c.write_up.part = {w.at("part").at("what").get<std::string>(),
                     w.at("part").at("how").get<std::string>()};
  c.write_up.root = {w.at("root").at("what").get<std::string>(),
                     w.at("root").at("how").get<std::string>()};
  c.write_up.sureness = whole<int>(w.at("sureness"));
  c.write_up.product = w.at("product").get<std::string>();
  c.write_up.watch = w.at("watch").get<std::string>();
  c.write_up.told = w.at("told").get<std::string>();
  c.write_up.done = w.at("done").get<std::string>();
  c.write_up.verified = w.at("verified").get<std::string>();
  c.unit_text = j.at("unit_text").get<std::string>();
  c.scenario_text = j.at("scenario_text").get<std::string>();
  return c;
}

// Whether a key or text anywhere in the line would steer a terminal. A line is no deeper than a
// step's hazards.
constexpr int kDeepest = 8;
Message control_in(const Json& json, int depth = 0) {
  if (depth > kDeepest) return say("not a line of a shift log");
  const auto check = [](const std::string& text) {
    const std::size_t at = first_control(text);
    return at == text.npos ? Message()
                           : say("unexpected control character {character}",
                                 {{"character", Name{control_name(text, at)}}});
  };
  if (json.is_string()) return check(json.get_ref<const std::string&>());
  if (!json.is_structured()) return {};
  for (const auto& [key, value] : json.items()) {
    if (json.is_object()) {
      if (Message why = check(key); !why.empty()) return why;
    }
    if (Message why = control_in(value, depth + 1); !why.empty()) return why;
  }
  return {};
}

Message take(const Json& json, Log& log, int number) {
  if (Message why = control_in(json); !why.empty()) return why;
  const std::string kind = json.value("kind", std::string());
  if (number == 1) {
    if (kind != "header") return say("expected a header");
    log.header = header_of(json);
    if (log.header.format < 1 || log.header.format > kLogFormat) {
      return say("format {format} is not one that this program reads (1 to {newest})",
                 {{"format", Number{log.header.format}}, {"newest", Number{kLogFormat}}});
    }
    if (!is_plain_name(log.header.unit) || !is_plain_name(log.header.scenario))
      return say("unexpected name of a unit or scenario");
    return {};
  }
  if (log.closing) return say("unexpected line after the closing one");
  if (kind == "step")
    return take_step(json, log.header.format, log) ? Message() : say("unknown thing that happened");
  if (kind == "closing") {
    log.closing = closing_of(json);
    return {};
  }
  if (kind == "salvaged") {
    log.salvaged_at = std::max(1, whole<int>(json.at("line")));
    return {};
  }
  return say("unknown kind of line '{kind}'", {{"kind", Name{cut(kind, 40)}}});
}

}  // namespace

std::string line_of(const LogHeader& header) { return dump(json_of(header)); }
std::string line_of(const LogStep& step) { return dump(json_of(step)); }
std::string line_of(const LogClosing& closing) { return dump(json_of(closing)); }
std::string line_of_salvage(int bad_line) {
  return dump({{"kind", "salvaged"}, {"line", bad_line}});
}

std::string sealed_line(std::string body, const std::string& chain_before, std::string& chain) {
  chain = sha256_hex(chain_before + body);
  body.pop_back();
  return body + ",\"chain\":\"" + chain + "\"}\n";
}

Message take_line(const std::string& line, Log& log, int number) {
  try {
    return take(Json::parse(line), log, number);
  } catch (const Json::exception&) {
    return say("not a line of a shift log");
  } catch (const std::out_of_range&) {
    return say("not a line of a shift log");
  }
}

}  // namespace legwork::session
