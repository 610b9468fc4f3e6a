#include "gui/screens/lead_bench.h"

#include <fmt/format.h>
#include <imgui.h>
#include <spawn.h>
#include <sys/wait.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <random>
#include <thread>

#include "engine/base/fingerprint.h"
#include "engine/base/home.h"
#include "engine/base/plain_text.h"
#include "engine/config/page_colours.h"
#include "engine/session/door.h"
#include "gui/kit.h"

extern char** environ;

namespace legwork::gui {
namespace {

constexpr std::size_t kLeastCode = 4;  // characters

std::string code_path() { return session::data_folder() + "/lead-code"; }

bool code_is_chosen() {
  std::error_code error;
  return std::filesystem::exists(code_path(), error);
}

bool keep_code(const std::string& code) {
  std::random_device device;
  const std::string salt = fmt::format("{:08x}{:08x}", device(), device());
  std::ofstream file(code_path(), std::ios::binary);
  file << salt << "\n" << sha256_hex(salt + code) << "\n";
  return static_cast<bool>(file.flush());
}

bool code_fits(const std::string& code) {
  std::ifstream file(code_path(), std::ios::binary);
  std::string salt, sum;
  return std::getline(file, salt) && std::getline(file, sum) && salt.size() < 100 &&
         sha256_hex(salt + code) == sum;
}

void draw_day_pane(State& state, const commission::ChartPane& pane, float width, float high) {
  const float s = state.ink.scale;
  kit::small_words(state,
                   say("{title}, {unit}", {{"title", pane.title}, {"unit", Name{pane.unit}}}));
  // The curves' names beside it, clear of the curves.
  const float names_y = ImGui::GetItemRectMin().y;
  float names_x = ImGui::GetItemRectMax().x + 30 * s;
  const ImVec2 at = ImGui::GetCursorScreenPos();
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float left = at.x + 52 * s, right = at.x + width;
  const auto y_of = [&](double value) {
    const double share = (value - pane.low) / (pane.high - pane.low);
    return at.y + high - static_cast<float>(std::clamp(share, 0.0, 1.0)) * high;
  };
  for (const double value : {pane.low, 0.5 * (pane.low + pane.high), pane.high}) {
    const float y = y_of(value);
    list.AddLine({left, y}, {right, y}, state.ink.theme.packed(Role::rule));
    const std::string label = fmt::format("{:.4g}", value);
    list.AddText({at.x, y - ImGui::GetTextLineHeight() / 2}, state.ink.theme.packed(Role::dim),
                 label.c_str());
  }
  constexpr Role kRoles[] = {Role::pen, Role::dim, Role::ink};
  const std::size_t skip = 3 - std::min<std::size_t>(3, pane.curves.size());
  std::vector<ImVec2> points;
  for (std::size_t c = 0; c < pane.curves.size() && c < 3; ++c) {
    const std::vector<double>& y = pane.curves[c].y;
    points.clear();
    const std::size_t step = 1 + y.size() / 700;
    for (std::size_t i = 0; i < y.size(); i += step) {
      const float x = left + (right - left) * static_cast<float>(i) / (24 * 60);
      points.push_back({x, y_of(y[i])});
    }
    list.AddPolyline(points.data(), static_cast<int>(points.size()),
                     state.ink.theme.packed(kRoles[c + skip]), 0, c + skip == 2 ? 2 * s : 1 * s);
    ImFont* small = state.ink.fonts.small;
    const std::string name = spoken(state, pane.curves[c].name);
    list.AddText(small, small->FontSize, {names_x, names_y},
                 state.ink.theme.packed(kRoles[c + skip]), name.c_str());
    names_x += small->CalcTextSizeA(small->FontSize, 1e9F, 0, name.c_str()).x + 20 * s;
  }
  ImGui::Dummy({width, high + 10 * s});
}

void draw_day_strip(State& state, const commission::ChartStrip& strip, float width) {
  const float s = state.ink.scale;
  kit::small_words(state, strip.name);
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float left = at.x + 52 * s, right = at.x + width;
  for (const auto& [from, to] : strip.spans) {
    const auto x = [&](double minute) {
      return left + (right - left) * static_cast<float>(minute / (24 * 60));
    };
    ImGui::GetWindowDrawList()->AddRectFilled({x(from), at.y},
                                              {std::max(x(to), x(from) + 1), at.y + 4 * s},
                                              state.ink.theme.packed(Role::ink));
  }
  ImGui::Dummy({width, 6 * s});
}

}  // namespace

bool draw_lead_gate(State& state, LeadBench& bench, float width) {
  if (bench.open) return true;
  const float s = state.ink.scale;
  const bool chosen = code_is_chosen();
  kit::words(state,
             chosen ? phrase("This page shows the answers. Your code?")
                    : phrase("This page shows the answers. Choose a code, so that trainees do not "
                             "come by them with one click: four letters or digits at least."),
             kit::Tone::ink, width);
  bool given = kit::field(state, "lead code", bench.code, 220 * s);
  if (!chosen) {
    kit::words(state, phrase("The same once more"), kit::Tone::dim);
    given = kit::field(state, "lead code again", bench.again, 220 * s) || given;
  }
  given = kit::choice(state, "open lead", phrase("Open")) || given;
  if (!bench.wrong.empty()) kit::words(state, bench.wrong, kit::Tone::pen, width);
  if (!given) return false;
  bench.wrong = {};
  if (chosen && !code_fits(bench.code)) {
    bench.wrong = phrase(
        "That is not the code. Who forgot it deletes the file lead-code in the data folder.");
  } else if (!chosen && (bench.code.size() < kLeastCode || bench.code != bench.again)) {
    bench.wrong = phrase("Twice the same, and four letters or digits at least.");
  } else if (!chosen && !keep_code(bench.code)) {
    bench.wrong = phrase("It could not be saved.");
  } else {
    bench.open = true;
  }
  bench.code.clear();
  bench.again.clear();
  return bench.open;
}

void draw_unit_days(State& state, LeadBench& bench, const std::string& unit_path, float width) {
  if (bench.unit != unit_path) {
    leave(state, bench.living);
    bench.days = {};
    bench.day = 0;
    bench.unit.clear();
    if (!kit::choice(state, "live days", phrase("Live three healthy days"))) return;
    bench.unit = unit_path;
    const commission::DayOptions how{state.home, {}, speech(state)};
    bench.living =
        std::make_shared<Errand<commission::DayCharts>>([unit_path, how](const std::atomic<bool>&) {
          return commission::day_charts(unit_path, how);
        });
  }
  if (bench.living) {
    if (const commission::DayCharts* days = bench.living->answer()) {
      bench.days = *days;
      bench.living.reset();
    } else {
      state.look_in_s = 0.1;
      kit::words(state, phrase("The days are being lived …"));
      return;
    }
  }
  if (bench.days.found.has_errors()) {
    kit::caution(state, Name{bench.days.found.text(speech(state))}, width);
    return;
  }
  const float s = state.ink.scale;
  for (std::size_t i = 0; i < bench.days.charts.size(); ++i) {
    if (kit::pick(state, fmt::format("day {}", i + 1), bench.days.charts[i].title, bench.day == i))
      bench.day = i;
  }
  if (bench.day >= bench.days.charts.size()) return;
  const commission::DayChart& chart = bench.days.charts[bench.day];
  for (const commission::ChartPane& pane : chart.panes)
    draw_day_pane(state, pane, width, (pane.curves.size() > 1 ? 130.0F : 60.0F) * s);
  for (const commission::ChartStrip& strip : chart.strips) draw_day_strip(state, strip, width);
  for (const commission::ChartFact& fact : chart.facts)
    kit::small_words(state, say("{name}: {value}", {{"name", fact.name}, {"value", fact.value}}));
}

std::string draw_scenario_form(State& state, LeadBench& bench, float width) {
  const float s = state.ink.scale;
  commission::ScenarioForm& form = bench.form;
  const float left = ImGui::GetWindowPos().x;
  const auto row = [&](const Phrase& title, const char* name, std::string& text, float wide,
                       const char* hint) {
    // Beside its title, so that the whole form is in sight.
    const float y = kit::down() + 2 * s;
    kit::at(left, y);
    kit::words(state, title, kit::Tone::dim, 280 * s);
    const float under = ImGui::GetItemRectMax().y;
    kit::at(left + 290 * s, y);
    kit::field(state, name, text, std::min(wide * s, width - 300 * s), Name{hint});
    if (const float more = under - kit::down(); more > 0) ImGui::Dummy({0, more});
  };
  row(phrase("Id: small letters, digits and -"), "form id", form.id, 220, "my-call");
  row(phrase("Unit"), "form unit", form.unit, 220, "wf-208");
  row(phrase("Title"), "form title", form.title, 420, "Corner grocery");
  row(phrase("Site"), "form site", form.site, 420, "corner grocery");
  row(phrase("Said"), "form said", form.said, 700, "");
  row(phrase("Outdoors"), "form outdoor", form.outdoor, 120, "80 °F");
  row(phrase("Time of day on arrival"), "form time", form.time, 120, "14:30");
  row(phrase("What is wrong: THING: HOW, or THING: HOW: HOW BAD"), "form fault", bench.fault, 420,
      "HPC: stuck open");
  row(phrase("A second fault, if any"), "form second", bench.second, 420, "");
  row(phrase("Box on arrival, or nothing; of several: box 2: 24 °F ± 4"), "form box", form.box, 220,
      "24 °F ± 4");
  row(phrase("Minutes that a good technician needs"), "form par", form.par, 120, "40 min");
  row(phrase("Skills, with commas between"), "form skills", form.skills, 420, "is it being called");
  kit::words(state, phrase("Compressor on arrival"), kit::Tone::dim);
  for (const char* word : {"off", "running", "cycling"}) {
    if (kit::pick(state, std::string("form compressor ") + word, Name{word},
                  form.compressor == word))
      form.compressor = form.compressor == word ? "" : word;
  }
  kit::words(state, phrase("Difficulty, 1 to 5"), kit::Tone::dim);
  for (int i = 1; i <= 5; ++i) {
    if (i > 1) ImGui::SameLine(0, 14 * s);
    if (kit::pick(state, fmt::format("form difficulty {}", i), Name{std::to_string(i)},
                  form.difficulty == i))
      form.difficulty = i;
  }
  kit::gap(state, 6);
  if (!kit::choice(state, "write form", phrase("Write the file"))) return {};
  const bool is_id =
      !form.id.empty() && form.id.size() <= 64 &&
      form.id.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-") == std::string::npos;
  const std::string folder = session::data_folder() + "/scenarios";
  const std::string path = folder + "/" + form.id + ".yaml";
  std::error_code error;
  if (!is_id || std::filesystem::exists(path, error)) {
    state.notice = is_id ? phrase("A scenario of that id is there already.")
                         : phrase("An id has small letters, digits and -.");
    return {};
  }
  form.faults.clear();
  for (const std::string& fault : {bench.fault, bench.second}) {
    if (!fault.empty()) form.faults.push_back(fault);
  }
  std::filesystem::create_directories(folder, error);
  std::ofstream file(path, std::ios::binary);
  file << commission::scenario_text(form);
  if (!file.flush()) {
    state.notice = phrase("It could not be saved.");
    return {};
  }
  bench.writing = false;
  return path;
}

bool open_outside(const std::string& path) {
  std::string program = "xdg-open", argument = path;
  char* arguments[] = {program.data(), argument.data(), nullptr};
  pid_t child = 0;
  if (posix_spawnp(&child, program.c_str(), nullptr, nullptr, arguments, environ) != 0)
    return false;
  // It hands the file on and ends; nobody waits for that with the page.
  std::thread([child] {
    int status = 0;
    waitpid(child, &status, 0);
  }).detach();
  return true;
}

std::string write_answer_sheet(const score::LeadPage& page, const Speech& speech) {
  const std::string path = session::data_folder() + "/" + page.scenario + "-answer.html";
  std::ofstream file(path, std::ios::binary);
  file << "<!doctype html><meta charset=utf-8><title>" << escaped_html(page.scenario)
       << "</title><style>" << page_colours(home_folder())
       << "@page{margin:16mm}body{background:var(--paper);color:var(--ink);font:11pt/1.4 'DejaVu "
          "Sans Mono',monospace;"
          "white-space:pre-wrap;max-width:52rem;margin:2rem auto}@media "
          "print{body{margin:0;background:none}}"
          "</style><body>"
       << escaped_html(score::as_text(page, speech)) << "</body>\n";
  return file.flush() ? path : std::string();
}

}  // namespace legwork::gui
