// The reference searcher's work on a ticket, kept in a file: a line each, sealed at the end.

#include <fmt/format.h>

#include <charconv>
#include <string_view>
#include <vector>

#include "engine/base/fingerprint.h"
#include "engine/base/split.h"
#include "engine/base/text_file.h"
#include "engine/score/reference.h"
#include "engine/score/words.h"
#include "engine/suspects/resolutions_text.h"

namespace legwork::score {

namespace {

constexpr std::string_view kReferenceMagic = "legwork reference 6";

template <class T>
bool number(std::string_view text, T& value) {
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  return error == std::errc() && end == text.data() + text.size();
}

std::string one_line(std::string text) {
  for (char& c : text) {
    if (c == '\t' || c == '\n') c = ' ';
  }
  return text;
}

// Of what it was worked out from, and of what came out: a file of another call, put in the place of
// this one's, fits as little as one that was altered.
std::string seal(const std::string& inputs, std::string_view body) {
  return sha256_hex(sha256_hex(inputs).append(body));
}

// Minutes that a searcher may need: within two days.
bool minutes_of(std::string_view text, double& value) {
  return number(text, value) && value >= 0 && value <= 2 * 24 * 60;
}

std::string written(const Reference& reference, const ReferenceWay& way,
                    const std::string& inputs) {
  std::string out = fmt::format("{}\nM\t{}\t{}\t{}\t{}\t{}\n", kReferenceMagic, reference.minutes,
                                reference.mean_minutes, way.search_minutes, way.found_minutes,
                                way.settled ? 1 : 0);
  for (const std::string& name : reference.look_alikes) out += "A\t" + one_line(name) + "\n";
  for (const session::Finding& f : reference.same)
    out += fmt::format("E\t{}\t{}\n", one_line(f.what), one_line(f.how));
  for (const RouteStep& s : way.steps) {
    out += fmt::format("S\t{}\t{}\t{}\t{}\t{}\t{}\n", one_line(s.line), one_line(english(s.shown)),
                       s.minutes, s.at_minute, s.repairs_left, s.condemns ? 1 : 0);
  }
  return sealed_reference(std::move(out), inputs);
}

// A kept way has its readings as they were shown, in English: walked again, they are spoken in the
// reader's language and units. False: it cannot be walked on this call.
bool walked_again(const session::Attempt& on_arrival, ReferenceWay& way) {
  session::Attempt attempt = on_arrival;
  for (RouteStep& step : way.steps) {
    const session::ParsedStep parsed = session::parse_step(step.line);
    if (!parsed.step) return false;
    const session::Outcome outcome = session::submit(attempt, *parsed.step);
    if (!outcome.accepted) return false;
    step.shown = shown_by_step(outcome);
  }
  return true;
}

}  // namespace

std::string sealed_reference(std::string body, const std::string& inputs) {
  const std::string sealed = seal(inputs, body);
  return std::move(body) + sealed + "\n";
}

bool read_reference(const std::string& text, const std::string& inputs, Reference& reference,
                    ReferenceWay& way) {
  constexpr std::size_t kSeal = 65;
  if (text.size() < kSeal) return false;
  const std::string_view body = std::string_view(text).substr(0, text.size() - kSeal);
  if (seal(inputs, body) + "\n" != text.substr(body.size())) return false;
  bool has_minutes = false;
  for (const std::string_view line : split(body, '\n')) {
    if (line.empty()) continue;
    const std::vector<std::string_view> field = split(line, '\t');
    if (field[0] == "M" && field.size() == 6) {
      int settled = 0;
      if (!minutes_of(field[1], reference.minutes) ||
          !minutes_of(field[2], reference.mean_minutes) ||
          !minutes_of(field[3], way.search_minutes) || !minutes_of(field[4], way.found_minutes) ||
          !number(field[5], settled))
        return false;
      has_minutes = true;
      way.settled = settled != 0;
    } else if (field[0] == "A" && field.size() == 2) {
      reference.look_alikes.emplace_back(field[1]);
    } else if (field[0] == "E" && field.size() == 3) {
      reference.same.push_back({std::string(field[1]), std::string(field[2])});
    } else if (field[0] == "S" && field.size() == 7) {
      RouteStep s;
      s.line = field[1];
      if (const session::ParsedStep parsed = session::parse_step(s.line); parsed.step)
        s.words = heading(*parsed.step);
      s.shown = Name{std::string(field[2])};
      if (!minutes_of(field[3], s.minutes) || !minutes_of(field[4], s.at_minute) ||
          !number(field[5], s.repairs_left) || s.repairs_left < 0)
        return false;
      s.condemns = field[6] == "1";
      way.steps.push_back(std::move(s));
    } else if (line != kReferenceMagic) {
      return false;
    }
  }
  return has_minutes;
}

Reference kept_reference(const suspects::LineupPtr& lineup, const session::Attempt& on_arrival,
                         const std::string& folder, int threads, ReferenceWay& way,
                         const std::atomic<bool>* cancel, double enough) {
  const std::string inputs = fmt::format("{}\n{}\n{}\n{}", kReferenceMagic,
                                         suspects::kResolutionsText, lineup->key, on_arrival.seed);
  const std::string path =
      folder.empty() ? "" : fmt::format("{}/{}.reference", folder, sha256_hex(inputs));
  Reference kept;
  ReferenceWay kept_way;
  const Result<std::string> file = read_text_file(path);
  if (file && read_reference(*file, inputs, kept, kept_way) && walked_again(on_arrival, kept_way)) {
    way = std::move(kept_way);
    return kept;
  }
  way = reference_way(std::make_shared<session::Attempt>(on_arrival), lineup, threads, cancel,
                      enough);
  const Reference reference = reference_for(*lineup, on_arrival, way, threads, cancel);
  // If it cannot be kept, the next time takes longer, no more.
  if (!path.empty() && way.found_minutes > enough && (cancel == nullptr || !cancel->load()))
    write_whole_file(path, written(reference, way, inputs));
  return reference;
}

}  // namespace legwork::score
