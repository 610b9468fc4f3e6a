#include "engine/session/log.h"

#include <cstdio>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "engine/base/fingerprint.h"
#include "engine/base/text_file.h"

namespace legwork::session {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t kLongestLogLine = 4u << 20;

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

Json json_of(const LogStep& s) {
  Json out = {
      {"kind", "step"}, {"tick", s.tick}, {"step", s.step}, {"ticks", s.ticks}, {"place", s.place}};
  Json seen = Json::array();
  for (const Observation& o : s.seen.observations) {
    Json one = {{"key", o.key}, {"shown", o.shown}};
    if (o.state >= 0) one["state"] = o.state;
    if (o.source != Source::step)
      one["source"] = o.source == Source::glance ? "glance" : "live lead";
    seen.push_back(std::move(one));
  }
  out["seen"] = std::move(seen);
  if (!s.seen.happenings.empty()) {
    Json list = Json::array();
    for (const Happening& h : s.seen.happenings) {
      list.push_back({{"tick", h.tick}, {"what", h.what}, {"device", h.device}});
    }
    out["happened"] = std::move(list);
  }
  if (!s.seen.said.empty()) out["said"] = s.seen.said;
  if (!s.hazards.empty()) {
    Json list = Json::array();
    for (const Hazard& h : s.hazards) {
      list.push_back(
          {{"id", h.id}, {"harm", harm_name(h.harm)}, {"why", h.why}, {"reference", h.reference}});
    }
    out["hazards"] = std::move(list);
  }
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

// The chain goes last in its line, so that the sealed text is the line up to it.
std::string sealed_line(const Json& json, const std::string& chain_before, std::string& chain) {
  std::string body = dump(json);
  chain = sha256_hex(chain_before + body);
  body.pop_back();
  return body + ",\"chain\":\"" + chain + "\"}\n";
}

// Takes the seal off a line; empty if there is none.
std::string unsealed(std::string_view line, std::string& chain) {
  constexpr std::string_view kOpen = ",\"chain\":\"";
  constexpr std::size_t kTail = kOpen.size() + 64 + 2;
  if (line.size() <= kTail || line.substr(line.size() - 2) != "\"}") return {};
  const std::string_view tail = line.substr(line.size() - kTail);
  if (tail.substr(0, kOpen.size()) != kOpen) return {};
  chain = tail.substr(kOpen.size(), 64);
  return std::string(line.substr(0, line.size() - kTail)) + "}";
}

LogHeader header_of(const Json& j) {
  LogHeader h;
  h.format = j.at("format").get<int>();
  h.program = j.at("program").get<std::string>();
  h.unit = j.at("unit").get<std::string>();
  h.unit_sha256 = j.at("unit_sha256").get<std::string>();
  h.scenario = j.at("scenario").get<std::string>();
  h.scenario_sha256 = j.at("scenario_sha256").get<std::string>();
  h.seed = j.at("seed").get<std::uint64_t>();
  return h;
}

LogStep step_of(const Json& j) {
  LogStep s;
  s.tick = j.at("tick").get<std::int64_t>();
  s.step = j.at("step").get<std::string>();
  s.ticks = j.at("ticks").get<std::int64_t>();
  s.place = j.at("place").get<std::string>();
  for (const Json& one : j.at("seen")) {
    Observation o;
    o.key = one.at("key").get<std::string>();
    o.shown = one.at("shown").get<std::string>();
    o.state = one.value("state", -1);
    s.seen.observations.push_back(std::move(o));
  }
  for (const Json& one : j.value("happened", Json::array())) {
    s.seen.happenings.push_back({one.at("tick").get<std::int64_t>(),
                                 one.at("what").get<std::string>(),
                                 one.at("device").get<std::string>()});
  }
  for (const Json& one : j.value("said", Json::array()))
    s.seen.said.push_back(one.get<std::string>());
  for (const Json& one : j.value("hazards", Json::array())) {
    Hazard h;
    h.id = one.at("id").get<std::string>();
    h.harm = harm_of(one.at("harm").get<std::string>());
    h.why = one.at("why").get<std::string>();
    h.reference = one.at("reference").get<std::string>();
    h.step = s.step;
    h.tick = s.tick;
    s.hazards.push_back(std::move(h));
  }
  s.fingerprint = j.at("fingerprint").get<std::string>();
  return s;
}

LogClosing closing_of(const Json& j) {
  LogClosing c;
  c.tick = j.at("tick").get<std::int64_t>();
  c.why = j.at("why").get<std::string>();
  const Json& w = j.at("write_up");
  c.write_up.stopped_by = w.at("stopped_by").get<std::string>();
  c.write_up.part = {w.at("part").at("what").get<std::string>(),
                     w.at("part").at("how").get<std::string>()};
  c.write_up.root = {w.at("root").at("what").get<std::string>(),
                     w.at("root").at("how").get<std::string>()};
  c.write_up.sureness = w.at("sureness").get<int>();
  c.write_up.product = w.at("product").get<std::string>();
  c.write_up.watch = w.at("watch").get<std::string>();
  c.write_up.told = w.at("told").get<std::string>();
  c.write_up.done = w.at("done").get<std::string>();
  c.write_up.verified = w.at("verified").get<std::string>();
  c.unit_text = j.at("unit_text").get<std::string>();
  c.scenario_text = j.at("scenario_text").get<std::string>();
  return c;
}

// One line into the log; what is wrong with it, or "".
std::string take(const Json& json, Log& log, int number) {
  const std::string kind = json.value("kind", std::string());
  if (number == 1) {
    if (kind != "header") return "expected a header";
    log.header = header_of(json);
    if (log.header.format != kLogFormat) {
      return "format " + std::to_string(log.header.format) +
             " is not one that this program reads (" + std::to_string(kLogFormat) + ")";
    }
    return {};
  }
  if (log.closing) return "unexpected line after the closing one";
  if (kind == "step") {
    log.steps.push_back(step_of(json));
    return {};
  }
  if (kind == "closing") {
    log.closing = closing_of(json);
    return {};
  }
  return "unknown kind of line '" + kind.substr(0, 40) + "'";
}

}  // namespace

ReadLog read_log(std::string_view text) {
  ReadLog out;
  Log log;
  std::size_t from = 0;
  int number = 0;
  const auto bad = [&](std::string why) {
    out.bad_line = number;
    out.why = std::move(why);
    return out;
  };
  while (from < text.size()) {
    ++number;
    const std::size_t end = text.find('\n', from);
    if (end == text.npos) {
      if (number == 1) return bad("the header is torn off");
      out.torn = true;
      break;
    }
    const std::string_view line = text.substr(from, end - from);
    if (line.size() > kLongestLogLine) return bad("the line is too long");
    std::string chain;
    const std::string body = unsealed(line, chain);
    if (body.empty()) return bad("expected a line with its seal at the end");
    if (sha256_hex(out.tail_chain + body) != chain) {
      return bad("the seal does not fit: this line, or the one before it, was altered");
    }
    try {
      const std::string why = take(Json::parse(body), log, number);
      if (!why.empty()) return bad(why);
    } catch (const Json::exception& e) {
      return bad("not a line of a shift log");
    }
    out.tail_chain = chain;
    from = end + 1;
    out.good_bytes = from;
  }
  if (number == 0) {
    number = 1;
    return bad("the file is empty");
  }
  out.log = std::move(log);
  return out;
}

ReadLog read_log_file(const std::string& path) {
  ReadLog out;
  std::error_code error;
  if (!std::filesystem::is_regular_file(path, error)) {
    out.why = "no such file";
    return out;
  }
  if (std::filesystem::file_size(path, error) > kLargestLog) {
    out.why = "larger than any shift log";
    return out;
  }
  std::FILE* file = std::fopen(path.c_str(), "rb");
  if (file == nullptr) {
    out.why = "cannot be opened";
    return out;
  }
  std::string text;
  char buffer[65536];
  std::size_t n = 0;
  while ((n = std::fread(buffer, 1, sizeof buffer, file)) > 0 && text.size() <= kLargestLog) {
    text.append(buffer, n);
  }
  std::fclose(file);
  return read_log(text);
}

struct LogWriter::File {
  std::FILE* handle = nullptr;
  std::string chain;
  ~File() {
    if (handle != nullptr) std::fclose(handle);
  }
  bool put(const Json& json) {
    std::string next;
    const std::string line = sealed_line(json, chain, next);
    if (std::fwrite(line.data(), 1, line.size(), handle) != line.size() ||
        std::fflush(handle) != 0) {
      return false;
    }
    chain = next;
    return true;
  }
};

LogWriter::LogWriter(std::unique_ptr<File> file) : file_(std::move(file)) {}
LogWriter::~LogWriter() = default;

std::unique_ptr<LogWriter> LogWriter::create(const std::string& path, const LogHeader& header,
                                             std::string& why) {
  auto file = std::make_unique<File>();
  const std::filesystem::path folder = std::filesystem::path(path).parent_path();
  std::error_code error;
  if (!folder.empty()) std::filesystem::create_directories(folder, error);
  file->handle = std::fopen(path.c_str(), "wbx");
  if (file->handle == nullptr) {
    why = std::filesystem::exists(path, error)
              ? path + ": is there already; a shift log is never overwritten"
              : path + ": cannot be written";
    return nullptr;
  }
  if (!file->put(json_of(header))) {
    why = path + ": cannot be written (is the disk full?)";
    return nullptr;
  }
  return std::unique_ptr<LogWriter>(new LogWriter(std::move(file)));
}

std::unique_ptr<LogWriter> LogWriter::append_to(const std::string& path, const ReadLog& read,
                                                std::string& why) {
  std::error_code error;
  if (read.torn) std::filesystem::resize_file(path, read.good_bytes, error);
  auto file = std::make_unique<File>();
  file->chain = read.tail_chain;
  file->handle = error ? nullptr : std::fopen(path.c_str(), "ab");
  if (file->handle == nullptr) {
    why = path + ": cannot be written";
    return nullptr;
  }
  return std::unique_ptr<LogWriter>(new LogWriter(std::move(file)));
}

bool LogWriter::write(const LogStep& step) { return file_->put(json_of(step)); }
bool LogWriter::write(const LogClosing& closing) { return file_->put(json_of(closing)); }

}  // namespace legwork::session
