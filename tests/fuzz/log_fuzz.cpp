// Any bytes as a shift log. As they are; and with a good seal put on each line, so that what is
// behind the seal is reached: {"kind":…} lines without their chain. Steps in it are given to a
// machine.
#include "engine/base/fingerprint.h"
#include "engine/base/message.h"
#include "engine/session/log.h"
#include "engine/session/step.h"
#include "tests/fuzz/target.h"

namespace {

using namespace legwork;

std::string in_words(const Message& why) { return english(why); }

std::string sealed(std::string_view lines) {
  std::string out, chain;
  while (!lines.empty()) {
    std::string body(lines.substr(0, lines.find('\n')));
    lines.remove_prefix(std::min(lines.size(), body.size() + 1));
    if (body.empty()) continue;
    chain = sha256_hex(chain + body);
    body.pop_back();
    out += body + ",\"chain\":\"" + chain + "\"}\n";
  }
  return out;
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const session::Attempt begun = fuzz::somebody_at(fuzz::shipped("rf-115"));
  const std::string_view bytes = fuzz::text_of(data, size);
  for (const std::string& text : {std::string(bytes), sealed(bytes)}) {
    const session::ReadLog read = session::read_log(text);
    if (!read.log) {
      fuzz::must(!in_words(read.why).empty(), "a log that is refused is refused with a sentence");
      fuzz::must(in_words(read.why).size() < 2000, "the sentence is bounded");
      continue;
    }
    fuzz::must(read.good_bytes <= text.size(), "good bytes are bytes of the file");
    session::Attempt attempt = begun;
    int given = 0;
    for (const session::LogStep& step : read.log->steps) {
      if (++given > 12) break;
      const session::ParsedStep parsed = session::parse_step(step.step);
      if (!parsed.step || session::would(attempt, *parsed.step).minutes > 40) continue;
      session::submit(attempt, *parsed.step);
    }
  }
  return 0;
}
