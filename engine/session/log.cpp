#include "engine/session/log.h"

#include <filesystem>

#include "engine/base/fingerprint.h"
#include "engine/base/text_file.h"
#include "engine/session/log_file.h"
#include "engine/session/log_lines.h"

namespace legwork::session {
namespace {

constexpr std::size_t kLongestLogLine = 4u << 20;

void add_facts(const Argument& argument, std::vector<std::pair<std::string, std::string>>& facts) {
  if (const auto* message = std::get_if<Message>(&argument.value);
      message != nullptr && !message->what().empty()) {
    for (const Argument& inner : message->arguments()) add_facts(inner, facts);
    return;
  }
  facts.emplace_back(argument.name, english(say("{it}", {{"it", argument.value}})));
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

}  // namespace

std::vector<std::pair<std::string, std::string>> facts_of(const Message& message) {
  std::vector<std::pair<std::string, std::string>> facts;
  for (const Argument& argument : message.arguments()) add_facts(argument, facts);
  return facts;
}

Message located(const std::string& file, int line, const Message& why) {
  if (line <= 0) return say("{file}: {why}", {{"file", Name{file}}, {"why", why}});
  return say("{file}:{line}: {why}", {{"file", Name{file}}, {"line", Number{line}}, {"why", why}});
}

bool same_reading(const Observation& a, const Observation& b) {
  if (a.state != b.state || a.not_read != b.not_read || a.over_range != b.over_range ||
      a.source != b.source)
    return false;
  // A reading over the range has neither number nor unit in the log.
  const bool has_number = a.state < 0 && a.not_read == NotRead::read && !a.over_range;
  return !has_number || (a.number == b.number && a.unit == b.unit);
}

ReadLog read_log(std::string_view text) {
  ReadLog out;
  out.bytes = text.size();
  out.unbegun = is_unbegun_log(text);
  Log log;
  std::size_t from = 0;
  int number = 0;
  const auto bad = [&](Message why) {
    out.bad_line = number;
    out.why = std::move(why);
    return out;
  };
  while (from < text.size()) {
    ++number;
    const std::size_t end = text.find('\n', from);
    if (end == text.npos) {
      if (number == 1) return bad(say("the header is torn off"));
      out.torn = true;
      break;
    }
    std::string_view line = text.substr(from, end - from);
    if (line.ends_with('\r')) line.remove_suffix(1);
    if (line.size() > kLongestLogLine) return bad(say("the line is too long"));
    std::string chain;
    const std::string body = unsealed(line, chain);
    if (body.empty()) return bad(say("expected a line with its seal at the end"));
    if (sha256_hex(out.tail_chain + body) != chain) {
      return bad(say("the seal does not fit: this line, or the one before it, was altered"));
    }
    if (Message why = take_line(body, log, number); !why.empty()) return bad(std::move(why));
    out.tail_chain = chain;
    from = end + 1;
    out.good_bytes = from;
  }
  if (number == 0) {
    number = 1;
    return bad(say("the file is empty"));
  }
  out.log = std::move(log);
  return out;
}

ReadLog read_log_file(const std::string& path) {
  ReadLog out;
  const Result<std::string> text = read_regular_file(path, kLargestLog);
  if (!text) {
    std::error_code none;
    const std::filesystem::file_status there = std::filesystem::status(path, none);
    out.why = !std::filesystem::exists(there)            ? say("no such file")
              : !std::filesystem::is_regular_file(there) ? say("no regular file")
                                                         : say("cannot be opened");
    return out;
  }
  if (text->size() > kLargestLog) {
    out.why = say("larger than any shift log");
    return out;
  }
  return read_log(*text);
}

}  // namespace legwork::session
