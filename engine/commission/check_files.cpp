#include "engine/commission/check_files.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <memory>
#include <mutex>
#include <utility>

#include "engine/base/fingerprint.h"
#include "engine/base/source_stamp.h"
#include "engine/base/suggest.h"
#include "engine/base/text_file.h"
#include "engine/commission/judge.h"
#include "engine/commission/showing.h"
#include "engine/commission/trial.h"
#include "engine/score/lead.h"
#include "engine/session/ticket_files.h"
#include "engine/suspects/parallel.h"
#include "engine/unit/unit.h"

namespace legwork::commission {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMostFiles = 10000;

// YAML files below a folder, sorted; a file itself.
std::vector<std::string> files_of(const std::string& path) {
  std::error_code error;
  if (!fs::is_directory(path, error)) return {path};
  std::vector<std::string> out;
  for (fs::recursive_directory_iterator
           it(path, fs::directory_options::skip_permission_denied, error),
       end;
       !error && it != end && out.size() < kMostFiles; it.increment(error)) {
    const std::string ending = it->path().extension().string();
    if (ending == ".yaml" || ending == ".yml") out.push_back(it->path().string());
  }
  std::sort(out.begin(), out.end());
  return out;
}

enum class FileKind { unit, scenario, other };

// By the key that only that kind of file begins a line with.
FileKind kind_of(const std::string& text) {
  const auto has = [&](std::string_view key) {
    for (std::size_t at = text.find(key); at != text.npos; at = text.find(key, at + 1)) {
      if (at == 0 || text[at - 1] == '\n') return true;
    }
    return false;
  };
  if (has("scenario:") || has("ticket:")) return FileKind::scenario;
  if (has("unit:") || has("devices:") || has("rungs:")) return FileKind::unit;
  return FileKind::other;
}

// Where a key of the first level has its value.
Mark mark_of_key(const Source& source, std::string_view key) {
  const std::string& text = source.text();
  for (std::size_t at = text.find(key); at != text.npos; at = text.find(key, at + 1)) {
    if (at > 0 && text[at - 1] != '\n') continue;
    const std::size_t value = text.find_first_not_of(" :", at + key.size());
    return source.mark_of_byte(value == text.npos ? at : value);
  }
  return {};
}

bool same_file(const std::string& a, const std::string& b) {
  std::error_code error;
  return fs::equivalent(a, b, error);
}

// An id is its file's name, and stands for one file.
void check_unit_id(const unit::Unit& unit, const std::string& file, const CheckOptions& options,
                   Diagnostics& found) {
  const Mark mark = mark_of_key(unit.circuit.source, "unit");
  const std::string stem = fs::path(file).stem().string();
  if (unit.id != stem) {
    found.error(unit.circuit.source, mark,
                say("the unit's id '{id}' is not its file's name '{file}'",
                    {{"id", Name{unit.id}}, {"file", Name{stem}}}),
                say("units are found by their file's name: rename the one or the other"));
    return;
  }
  const std::string shipped = options.home + "/circuits/" + unit.id + ".yaml";
  std::error_code error;
  if (fs::exists(shipped, error) && !same_file(shipped, file)) {
    found.error(unit.circuit.source, mark, say("duplicate id '{id}'", {{"id", Name{unit.id}}}),
                say("a shipped unit has it, and that one is found: take another"));
  }
}

const std::vector<std::string>& shipped_skills(const std::string& home) {
  static std::map<std::string, std::vector<std::string>> by_home;
  auto [it, is_new] = by_home.try_emplace(home);
  if (!is_new) return it->second;
  for (const std::string& file : files_of(home + "/scenarios")) {
    Diagnostics unread;
    const auto scenario = fault::load_scenario_file(file, unread);
    if (!scenario) continue;
    for (const std::string& skill : scenario->skills) {
      if (std::find(it->second.begin(), it->second.end(), skill) == it->second.end())
        it->second.push_back(skill);
    }
  }
  return it->second;
}

void check_scenario_words(const fault::Scenario& scenario, const std::string& file,
                          const CheckOptions& options, Diagnostics& found) {
  const std::string stem = fs::path(file).stem().string();
  const Mark mark = mark_of_key(scenario.source, "scenario");
  if (scenario.id != stem) {
    found.error(scenario.source, mark,
                say("the scenario's id '{id}' is not its file's name '{file}'",
                    {{"id", Name{scenario.id}}, {"file", Name{stem}}}),
                say("scenarios are found by their file's name: rename the one or the other"));
  }
  const std::string shipped = options.home + "/scenarios/" + scenario.id + ".yaml";
  std::error_code error;
  if (fs::exists(shipped, error) && !same_file(shipped, file)) {
    found.error(scenario.source, mark, say("duplicate id '{id}'", {{"id", Name{scenario.id}}}),
                say("a shipped scenario has it, and that one is found: take another"));
    return;
  }
  if (fs::exists(shipped, error)) return;
  // A new skill is welcome; one that is all but a known one was misspelt.
  const std::vector<std::string>& known = shipped_skills(options.home);
  for (const std::string& skill : scenario.skills) {
    if (std::find(known.begin(), known.end(), skill) != known.end()) continue;
    const Message hint = suggestion(skill, known);
    if (hint.empty()) continue;
    found.error(scenario.source, mark_of_key(scenario.source, "skills"),
                say("unknown skill '{skill}'", {{"skill", Name{skill}}}), hint);
  }
}

// A file that was read without errors, to be run.
struct Job {
  std::size_t file = 0;
  unit::UnitPtr unit;
  std::shared_ptr<const fault::Scenario> scenario;  // null: the unit itself
};

void run_unit(const Job& job, const CheckOptions& options, Diagnostics& found) {
  judge_wiring(*job.unit, found);
  if (found.has_errors()) return;
  judge_trial(*job.unit, try_unit(job.unit, {options.kept_in, 1}), found);
}

void run_scenario(const Job& job, const CheckOptions& options, Diagnostics& found) {
  const std::string name =
      sha256_hex(fmt::format("showing 1\n{}\n{}\n{}\n", source_stamp(), job.unit->content_hash,
                             job.scenario->content_hash))
          .substr(0, 40) +
      ".showing";
  std::optional<Showing> showing;
  if (!options.kept_in.empty()) {
    if (const auto numbers = kept_numbers(options.kept_in, name))
      showing = showing_of(*numbers, job.scenario->found_marks.lines.size());
  }
  if (!showing) {
    showing = run_showing(job.unit, *job.scenario);
    if (!options.kept_in.empty()) keep_numbers(options.kept_in, name, numbers_of(*showing));
  }
  judge_showing(*job.scenario, *showing, found);
}

// A route without a finding is kept under what it was worked out from, and sealed with it: a file
// of another scenario does not fit. What has findings is worked out again, for they are said in the
// reader's words.
std::string seal_of_route(const Job& job, const std::string& home) {
  std::string inputs = fmt::format("route 1\n{}\n{}\n{}\n", source_stamp(), job.unit->content_hash,
                                   job.scenario->content_hash);
  for (const char* table : {"/assets/rubric.yaml", "/assets/priors.yaml"}) {
    const Result<std::string> text = read_text_file(home + table);
    inputs += sha256_hex(text ? *text : "") + "\n";
  }
  return sha256_hex(inputs);
}

// Whatever `legwork route` calls an error is one here.
void run_route(const Job& job, const std::string& file, const CheckOptions& options,
               Diagnostics& found) {
  const std::string seal = seal_of_route(job, options.home);
  const std::string kept = options.kept_in + "/" + seal.substr(0, 40) + ".route";
  const bool keeps = !options.kept_in.empty();
  if (keeps) {
    const Result<std::string> text = read_regular_file(kept, seal.size());
    if (text && *text == seal) return;
  }
  score::DebriefOptions how;
  how.home = options.home;
  how.use_cache = keeps;
  const std::string name = fs::path(file).is_absolute() ? file : "./" + file;
  score::LeadPage page = score::lead_page_in_short(name, how);
  if (page.broken()) page = score::lead_page(name, how);
  const Source& source = job.scenario->source;
  if (!page.why.empty()) found.error(source, mark_of_key(source, "wrong"), page.why);
  if (page.broken()) {
    const Message whole =
        say("the whole of it: {command}", {{"command", Name{"legwork route " + file}}});
    for (const score::PageFinding& finding : page.findings) {
      const Mark mark = mark_of_key(source, finding.key);
      const Message& hint = finding.hint.empty() ? whole : finding.hint;
      switch (finding.severity) {
        case Severity::error:
          found.error(source, mark, finding.what, hint);
          break;
        case Severity::warning:
          found.warning(source, mark, finding.what, hint);
          break;
        case Severity::note:
          found.note(source, mark, finding.what, hint);
          break;
      }
    }
  }
  if (!keeps || !page.why.empty() || page.broken()) return;
  std::error_code error;
  fs::create_directories(options.kept_in, error);
  write_whole_file(kept, seal);  // if it cannot be kept, the next check takes longer, no more
}

}  // namespace

Checked check_files(const std::vector<std::string>& paths, const CheckOptions& options) {
  Checked checked;
  std::vector<Diagnostics> found;
  std::vector<std::string> names;
  std::vector<Job> jobs;
  session::UnitShelf units;
  for (const std::string& path : paths) {
    for (const std::string& file : files_of(path)) {
      Diagnostics& own = found.emplace_back();
      names.push_back(file);
      const Result<std::string> text = read_text_file(file);
      if (!text) {
        own.file_error(file, text.failure());
        continue;
      }
      switch (kind_of(*text)) {
        case FileKind::scenario: {
          session::TicketFiles ticket = session::load_ticket(
              fs::path(file).is_absolute() ? file : "./" + file, options.home, &units);
          own.append(ticket.found);
          if (ticket.ok()) check_scenario_words(*ticket.scenario, file, options, own);
          if (ticket.ok()) jobs.push_back({found.size() - 1, ticket.unit, ticket.scenario});
          break;
        }
        case FileKind::unit: {
          auto unit = unit::load_file(file, options.home + "/assets", own);
          if (unit) check_unit_id(*unit, file, options, own);
          if (unit)
            jobs.push_back(
                {found.size() - 1, std::make_shared<const unit::Unit>(std::move(*unit)), nullptr});
          break;
        }
        case FileKind::other:
          own.file_error(file, say("neither a unit nor a scenario"),
                         say("a unit begins with 'unit: ID', a scenario with 'scenario: ID'"));
          break;
      }
    }
  }
  // The longest first: units live three days, and a large machine has more that can be wrong.
  std::stable_sort(jobs.begin(), jobs.end(), [](const Job& a, const Job& b) {
    const auto length = [](const Job& job) {
      return std::pair(job.scenario == nullptr, job.unit->circuit.devices.size());
    };
    return length(a) > length(b);
  });
  if (!options.quick) {
    const auto of_scenario = [](const Job& job) { return job.scenario != nullptr; };
    const auto scenarios = std::count_if(jobs.begin(), jobs.end(), of_scenario);
    const int all =
        static_cast<int>(jobs.size()) + (options.routes ? static_cast<int>(scenarios) : 0);
    std::mutex telling;
    int begun = 0;
    const auto tell_of = [&](const Job& job) {
      if (!options.progress) return;
      const std::lock_guard<std::mutex> lock(telling);
      options.progress(begun++, all, names[job.file]);
    };
    suspects::for_each_index(jobs.size(), options.threads, [&](std::size_t i) {
      const Job& job = jobs[i];
      tell_of(job);
      if (job.scenario == nullptr) {
        run_unit(job, options, found[job.file]);
      } else {
        run_scenario(job, options, found[job.file]);
      }
    });
    // A route has threads of its own for its suspects; beside them much is done by one.
    suspects::for_each_index(jobs.size(), options.threads, [&](std::size_t i) {
      const Job& job = jobs[i];
      if (!options.routes || job.scenario == nullptr) return;
      tell_of(job);
      if (!found[job.file].has_errors()) run_route(job, names[job.file], options, found[job.file]);
    });
  }
  checked.files = static_cast<int>(found.size());
  for (const Diagnostics& own : found) checked.found.append(own);
  return checked;
}

}  // namespace legwork::commission
