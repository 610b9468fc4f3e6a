// What the shifts so far say of a learner (lead.h). What one shift says is worked out once and kept
// beside it, under a name made of all that it depends on.

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <chrono>
#include <filesystem>
#include <optional>
#include <string_view>

#include "engine/base/fingerprint.h"
#include "engine/base/source_stamp.h"
#include "engine/base/text_file.h"
#include "engine/score/lead.h"
#include "engine/score/progress.h"
#include "engine/session/door.h"
#include "engine/session/hat.h"
#include "engine/session/log.h"
#include "engine/session/provenance.h"
#include "engine/session/ticket_files.h"

namespace legwork::score {

namespace {

constexpr std::string_view kProgressMagic = "legwork progress 4";

// What one shift adds to a skill.
struct Point {
  std::string skill;
  double share = 0;    // 0 to 1
  double minutes = 1;  // of a direct route
};
struct Points {
  std::vector<Point> skills;
  double total = 0;
  bool scored = false, passed = false, practice = false;
};

Points points_of(const Debrief& d) {
  Points points{{}, d.account.total, d.account.scored, d.account.passed, d.account.practice};
  if (!points.scored) return points;
  const double minutes = std::max(1.0, d.route_minutes);
  const auto share = [&](Dim dim) {
    const Dimension& one = d.account.dimensions[static_cast<std::size_t>(dim)];
    return one.of > 0 ? one.points / one.of : 0;
  };
  const auto add = [&](std::string skill, double y) {
    points.skills.push_back({std::move(skill), y, minutes});
  };
  const bool safe = d.account.slip_points == 0 &&
                    std::all_of(d.account.gates.begin(), d.account.gates.end(),
                                [](const Gate& g) { return g.kind != GateKind::safe || g.met; });
  add("safe work", safe ? 1 : 0);
  // What ended the call says nothing of the rest.
  if (std::any_of(d.account.gates.begin(), d.account.gates.end(),
                  [](const Gate& g) { return g.kind == GateKind::safe && !g.met; }))
    return points;
  for (const std::string& skill : d.skills) add(skill, share(Dim::proof));
  add("why it failed, not only what", share(Dim::root));
  add("finding it without detours", share(Dim::route));
  add("proving the repair", share(Dim::verified));
  add("handing over", share(Dim::hand_over));
  add("knowing how sure one is", share(Dim::sureness));
  return points;
}

// The name of the file is made of all that its points depend on: another call's do not fit here.
std::string seal_of_points(const std::string& path, std::string_view body) {
  return sha256_hex(std::filesystem::path(path).filename().string().append(body));
}

// What it was worth, then a line a skill, tabs between; sealed.
std::string written(const Points& points, const std::string& path) {
  const char* outcome = points.passed     ? "passed"
                        : points.practice ? "practice"
                        : points.scored   ? "not passed"
                                          : "not scored";
  std::string out = fmt::format("{}\n{}\t{}\t1\n", kProgressMagic, outcome, points.total);
  for (const Point& p : points.skills)
    out += fmt::format("{}\t{}\t{}\n", p.skill, p.share, p.minutes);
  return out + seal_of_points(path, out) + "\n";
}

std::optional<Points> read(const std::string& path) {
  const Result<std::string> file = read_text_file(path);
  constexpr std::size_t kSeal = 65;
  if (!file || file->size() < kSeal) return std::nullopt;
  std::string_view body = std::string_view(*file).substr(0, file->size() - kSeal);
  if (seal_of_points(path, body) + "\n" != file->substr(body.size())) return std::nullopt;
  Points points;
  body.remove_prefix(std::min(body.size(), kProgressMagic.size() + 1));
  bool first = true;
  while (!body.empty()) {
    const std::string_view line = body.substr(0, body.find('\n'));
    body.remove_prefix(std::min(body.size(), line.size() + 1));
    const std::size_t one = line.find('\t');
    const std::size_t two = one == line.npos ? one : line.find('\t', one + 1);
    if (two == line.npos) return std::nullopt;
    Point p{std::string(line.substr(0, one)), 0, 1};
    const auto number = [](std::string_view text, double& value) {
      const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
      return error == std::errc() && end == text.data() + text.size();
    };
    if (!number(line.substr(one + 1, two - one - 1), p.share) ||
        !number(line.substr(two + 1), p.minutes))
      return std::nullopt;
    if (first) {
      first = false;
      if (!(p.share >= 0 && p.share <= 100)) return std::nullopt;
      points.total = p.share;
      points.passed = p.skill == "passed";
      points.practice = p.skill == "practice";
      points.scored = p.skill != "not scored";
      continue;
    }
    if (!(p.share >= -1 && p.share <= 1) || !(p.minutes >= 1 && p.minutes <= 2 * 24 * 60))
      return std::nullopt;
    points.skills.push_back(std::move(p));
  }
  if (first) return std::nullopt;
  return points;
}

// Of the log, the program, and the files that are not in the log.
std::string kept_at(const std::string& log_path, const std::string& home) {
  const std::string log = read_regular_file(log_path, session::kLargestLog).value_or("");
  std::string key = fmt::format("{}\n{}\n{}", kProgressMagic, source_stamp(), sha256_hex(log));
  for (const char* file : {"rubric.yaml", "priors.yaml"})
    key += "\n" + sha256_hex(read_text_file(home + "/assets/" + file).value_or(""));
  return fmt::format("{}/progress/{}.points", session::data_folder(), sha256_hex(key));
}

// Day on which a log was last written to: "2026-03-01"; "" if nobody knows.
std::string day_of(const std::string& path) {
  std::error_code error;
  const auto at = std::filesystem::last_write_time(path, error);
  if (error) return {};
  const auto day = std::chrono::floor<std::chrono::days>(std::chrono::file_clock::to_sys(at));
  const std::chrono::year_month_day date(day);
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
}

}  // namespace

std::vector<SkillLine> progress_of(const std::vector<std::string>& log_paths,
                                   const DebriefOptions& options, std::vector<ShiftScore>* scores) {
  // Only the first exposure to a scenario counts; a log that cannot be read is left out.
  Progress progress;
  std::vector<std::string> met;
  for (const std::string& path : log_paths) {
    const session::ReadLog read_log = session::read_log_file(path);
    if (!read_log.log || !read_log.log->closing) continue;
    const std::string& id = read_log.log->header.scenario;
    // Another call under a shipped one's name is not that call. (Hats are made again to tell: not
    // here.)
    const bool counts = std::find(met.begin(), met.end(), id) == met.end();
    if (!counts && scores == nullptr) continue;
    if (!session::hat_name(id) &&
        session::provenance_of(read_log.log->header, options.home).scenario ==
            session::Origin::changed)
      continue;
    const std::string kept = kept_at(path, session::home_or(options.home));
    std::optional<Points> points = options.use_cache ? read(kept) : std::nullopt;
    if (!points) {
      DebriefOptions plain = options;
      plain.with_better_steps = false;
      const DebriefResult result = debrief_file(path, plain);
      if (options.cancel != nullptr && options.cancel->load()) break;
      if (!result.debrief) continue;
      points = points_of(*result.debrief);
      if (options.use_cache) write_whole_file(kept, written(*points, kept));
    }
    const std::string day = day_of(path);
    if (scores != nullptr)
      scores->push_back(
          {path, day, points->total, points->scored, points->passed, points->practice});
    if (!counts || !points->scored) continue;
    met.push_back(id);
    for (const Point& p : points->skills)
      progress.add(p.skill, p.share, p.minutes, read_log.log->header.unit, day);
  }
  std::vector<SkillLine> out;
  for (const SkillRow& row : progress.rows()) {
    out.push_back(
        {row.skill, row.calls, row.middle, row.low, row.high, row.secure, row.machines, row.last});
  }
  return out;
}

}  // namespace legwork::score
