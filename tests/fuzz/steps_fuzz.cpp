// Any bytes as lines typed at the door, at one of the units (first byte).
#include "engine/session/aliases.h"
#include "engine/session/prompting.h"
#include "engine/session/step.h"
#include "engine/session/verbs.h"
#include "tests/fuzz/target.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace legwork;
  static const session::Attempt kBegun[] = {
      fuzz::somebody_at(fuzz::shipped("wf-208")), fuzz::somebody_at(fuzz::shipped("rf-115")),
      fuzz::somebody_at(fuzz::shipped("mt-460")), fuzz::somebody_at(fuzz::shipped("wc-230")),
      fuzz::somebody_at(fuzz::shipped("rk-460"))};
  if (size == 0) return 0;
  session::Attempt attempt = kBegun[data[0] % std::size(kBegun)];
  std::string_view rest = fuzz::text_of(data + 1, size - 1);
  for (int line = 0; line < 24 && !rest.empty(); ++line) {
    const std::string_view typed = rest.substr(0, rest.find('\n'));
    rest.remove_prefix(std::min(rest.size(), typed.size() + 1));
    // In other words, and what is said to a line that stops too soon.
    const std::string meant = session::canonical_line(typed, attempt);
    fuzz::must(english(session::how_it_goes_on(attempt, meant)).size() < 8000,
               "what is said is bounded");
    const session::ParsedStep parsed = session::parse_step(typed);
    if (!parsed.step) {
      fuzz::must(!parsed.why.empty(), "a line that is no step is refused with a sentence");
      continue;
    }
    const std::string spelt = session::text(*parsed.step);
    const session::ParsedStep again = session::parse_step(spelt);
    fuzz::must(again.step && *again.step == *parsed.step, "a step is read again as it is spelt");
    const session::Outcome may = session::would(attempt, *parsed.step);
    fuzz::must(may.accepted == may.why.empty(), "what is refused is refused with a sentence");
    if (may.minutes > 40) continue;  // hours of a machine are for other tests
    const session::Outcome done = session::submit(attempt, *parsed.step);
    fuzz::must(done.accepted == may.accepted, "what may be done can be done");
  }
  return 0;
}
