#include "gui/screens/day_sheet.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "gui/kit.h"
#include "gui/screens/debrief.h"
#include "gui/screens/guide.h"
#include "gui/screens/on_site.h"
#include "gui/screens/screens.h"
#include "gui/screens/states.h"

namespace legwork::gui {
namespace {

std::string clock(int minute) { return fmt::format("{:02}:{:02}", minute / 60 % 24, minute % 60); }

// The first words of the complaint, cut at a word.
std::string first_words(const std::string& said, std::size_t most) {
  if (said.size() <= most) return said;
  std::size_t end = said.rfind(' ', most);
  if (end == std::string::npos) end = most;
  return said.substr(0, end) + " …";
}

std::vector<std::string> split(const std::string& list) {
  std::vector<std::string> out;
  for (std::size_t at = 0; at < list.size();) {
    const std::size_t comma = std::min(list.find(", ", at), list.size());
    out.push_back(list.substr(at, comma - at));
    at = comma + 2;
  }
  return out;
}

// A broken file: its name, and what is wrong with it.
void draw_broken(State& state, const session::TicketLine& line, float left, float width) {
  kit::at(left, kit::down());
  kit::mono(state, line.path);
  kit::at(left, kit::down());
  kit::caution(state, line.broken, width);
}

void draw_call(State& state, const session::TicketLine& line, float left, float width) {
  const float s = state.ink.scale;
  const float margin = 92 * s;  // the hour and the mark stand in it
  const float y = kit::down();
  if (!line.broken.empty()) {
    draw_broken(state, line, left, width);
    return;
  }
  kit::at(left, y + 3 * s);
  kit::mono(state, clock(line.ticket.starts_at_minute), kit::Tone::dim);
  if (!line.finished_logs.empty()) {
    kit::at(left, y + 24 * s);
    kit::small_words(state, fmt::format("✓ {:.0f} min", line.finished_minutes));
  }
  kit::at(left + margin, y);
  if (kit::choice(state, "open " + line.id, line.ticket.title))
    open_ticket(state, line.path, line.unfinished_log);
  ImGui::SameLine(0, 14 * s);
  kit::words(state, line.unit_name, kit::Tone::dim);
  if (!line.unfinished_log.empty()) {
    kit::at(left + margin, kit::down());
    kit::small_words(state, say(state, "day sheet.begun"), kit::Tone::pen);
  }
  kit::at(left + margin, kit::down());
  kit::words(state, "“" + first_words(spoken(state, line.ticket.said), 120) + "”", kit::Tone::ink,
             width - margin - 10 * s);
  kit::at(left + margin, kit::down());
  kit::small_words(state, fmt::format("{} · {}", line.ticket.difficulty, line.ticket.teaches));
  kit::at(left, kit::down() + 4 * s);
  kit::rule(state, width);
  kit::at(left, kit::down() + 4 * s);
}

// One line along the foot.
void draw_settings(State& state) {
  const float s = state.ink.scale;
  Settings& settings = state.settings;
  const auto next = [&](float room) { ImGui::SameLine(0, room * s); };
  const auto label = [&](const char* key, bool first = false) {
    if (!first) next(30);
    kit::small_words(state, say(state, key));
    next(10);
  };
  label("settings.paper", true);
  for (std::size_t i = 0; i < state.themes.size(); ++i) {
    const std::string& theme = state.themes[i].name;
    if (i > 0) next(12);
    if (kit::pick(state, "theme " + theme, say(state, "settings." + theme),
                  settings.theme == theme))
      settings.theme = theme;
  }
  label("settings.language");
  if (kit::pick(state, "english", "English", settings.language == "en")) settings.language = "en";
  next(12);
  if (kit::pick(state, "spanish", "Español", settings.language == "es")) settings.language = "es";
  label("settings.units");
  if (kit::pick(state, "fahrenheit", "°F", !settings.celsius)) settings.celsius = false;
  next(12);
  if (kit::pick(state, "celsius", "°C", settings.celsius)) settings.celsius = true;
  next(20);
  if (kit::pick(state, "psig", "psig", !settings.bar)) settings.bar = false;
  next(12);
  if (kit::pick(state, "bar", "bar", settings.bar)) settings.bar = true;
  label("settings.sound");
  if (kit::pick(state, "sound on", say(state, "settings.on"), settings.sound))
    settings.sound = true;
  next(12);
  if (kit::pick(state, "sound off", say(state, "settings.off"), !settings.sound))
    settings.sound = false;
  label("settings.text");
  if (kit::choice(state, "text smaller", "A −"))
    settings.scale = std::max(kLeastScale, settings.scale - 0.1F);
  next(12);
  if (kit::choice(state, "text larger", "A +"))
    settings.scale = std::min(kMostScale, settings.scale + 0.1F);
}

const session::TicketLine* ticket_of(const DaySheetState& mine, const std::string& id) {
  for (const session::TicketLine& line : mine.tickets) {
    if (line.id == id) return &line;
  }
  return nullptr;
}

void draw_past(State& state, DaySheetState& mine) {
  kit::strong(state, say(state, "day sheet.past"));
  if (mine.past.empty()) kit::small_words(state, say(state, "day sheet.none yet"));
  constexpr std::size_t kFew = 5;
  const std::size_t most = mine.all_past ? mine.past.size() : std::min(kFew, mine.past.size());
  for (std::size_t i = 0; i < most; ++i) {
    const session::PastShift& shift = mine.past[i];
    if (!shift.broken.empty()) {
      kit::words(state, shift.broken, kit::Tone::dim);
      continue;
    }
    const session::TicketLine* ticket = ticket_of(mine, shift.scenario_id);
    const std::string title = ticket != nullptr ? ticket->ticket.title : shift.site;
    if (kit::choice(state, "past " + shift.path,
                    fmt::format("{} · {:.0f} min", title, shift.minutes))) {
      if (shift.closed)
        open_debrief(state, shift.path);
      else if (ticket == nullptr)
        open_from_hat(state, shift.scenario_id, shift.path);
      else
        open_ticket(state, shift.scenario_id, shift.path);
      return;
    }
    if (!shift.closed) {
      ImGui::SameLine(0, 10 * state.ink.scale);
      kit::small_words(state, say(state, "day sheet.not signed"), kit::Tone::pen);
    }
  }
  if (mine.past.size() > kFew && !mine.all_past &&
      kit::choice(state, "all past",
                  fmt::format(fmt::runtime(say(state, "day sheet.more")), mine.past.size() - kFew)))
    mine.all_past = true;
}

void draw_practice(State& state, DaySheetState& mine) {
  kit::strong(state, say(state, "day sheet.practice"));
  std::vector<std::string> skills;
  for (const session::TicketLine& line : mine.tickets) {
    for (std::string& skill : split(line.ticket.teaches)) {
      if (std::find(skills.begin(), skills.end(), skill) == skills.end())
        skills.push_back(std::move(skill));
    }
  }
  std::sort(skills.begin(), skills.end());
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {12 * state.ink.scale, 0});
  const float right = ImGui::GetWindowPos().x + ImGui::GetContentRegionMax().x;
  const float gap = 14 * state.ink.scale;
  float end = 0;
  for (const std::string& skill : skills) {
    // As many in a line as there is room for.
    const float wide = ImGui::CalcTextSize(spoken(state, skill).c_str()).x;
    if (end > 0 && end + gap + wide < right) ImGui::SameLine(0, gap);
    if (kit::pick(state, "practice " + skill, skill, mine.teaches == skill))
      mine.teaches = mine.teaches == skill ? "" : skill;
    end = ImGui::GetItemRectMax().x;
  }
  ImGui::PopStyleVar();
}

// What is secure by now, in words: no bars for people.
void draw_skills(State& state, DaySheetState& mine) {
  if (mine.asking != nullptr) {
    if (const auto* skills = mine.asking->answer()) {
      mine.skills = *skills;
      mine.asking.reset();
    } else {
      state.look_in_s = 0.5;
    }
  }
  if (mine.skills.empty()) return;
  kit::gap(state, 10);
  kit::strong(state, say(state, "day sheet.skills"));
  for (const score::SkillLine& skill : mine.skills) {
    const char* how = skill.secure        ? "day sheet.secure"
                      : skill.calls < 3   ? "day sheet.few calls"
                      : skill.middle > .5 ? "day sheet.coming"
                                          : "day sheet.practise";
    kit::small_words(state, fmt::format("{}: {} ({})", skill.skill, say(state, how), skill.calls));
  }
}

// The number gives the same call to everybody.
void draw_hat(State& state, DaySheetState& mine) {
  const float s = state.ink.scale;
  if (mine.opening) {
    if (const auto* opening = mine.opening->answer()) {
      session::Opening made = std::move(**opening);
      mine.opening.reset();
      take_opening(state, std::move(made));
      return;
    }
    state.look_in_s = 0.1;
    kit::words(state,
               fmt::format(fmt::runtime(say(state, "day sheet.drawing")), mine.hat_tried->load()),
               kit::Tone::pen);
    ImGui::SameLine(0, 14 * s);
    if (kit::choice(state, "stop drawing", say(state, "day sheet.stop")))
      leave(state, mine.opening);
    return;
  }
  const bool drawn = kit::choice(state, "out of the hat", say(state, "day sheet.hat"));
  ImGui::SameLine(0, 14 * s);
  const bool typed =
      kit::field(state, "hat number", mine.hat_number, 110 * s, say(state, "day sheet.hat number"));
  if (drawn || typed) open_from_hat(state, mine.hat_number);
}

void draw_side(State& state, DaySheetState& mine) {
  if (kit::choice(state, "guide", say(state, "day sheet.guide"))) start_guide(state);
  draw_hat(state, mine);
  if (kit::choice(state, "lead", say(state, "day sheet.lead"))) state.screen = "lead";
  if (kit::choice(state, "symbols", say(state, "day sheet.symbols"))) state.screen = "symbols";
  kit::gap(state, 10);
  draw_past(state, mine);
  draw_skills(state, mine);
  kit::gap(state, 10);
  draw_practice(state, mine);
}

}  // namespace

void read_day_sheet(State& state) {
  DaySheetState& mine = state.screens->day_sheet;
  if (mine.read) return;
  mine.read = true;
  session::OpenOptions options;
  options.home = state.home;
  mine.tickets = session::tickets(options);
  mine.past = session::past_shifts(options);
  for (const session::TicketLine& line : mine.tickets) learn(state, line.texts);
  std::stable_sort(mine.tickets.begin(), mine.tickets.end(), [](const auto& a, const auto& b) {
    return a.ticket.starts_at_minute < b.ticket.starts_at_minute;
  });
  std::vector<std::string> closed;
  for (const session::PastShift& shift : mine.past) {
    if (shift.closed) closed.push_back(shift.path);
  }
  if (closed.empty() || mine.asking) return;
  score::DebriefOptions scoring;
  scoring.home = state.home;
  mine.asking = std::make_shared<Errand<std::vector<score::SkillLine>>>(
      [closed, scoring](const std::atomic<bool>& cancel) {
        score::DebriefOptions options = scoring;
        options.cancel = &cancel;
        return score::progress_of(closed, options);
      });
}

void open_from_hat(State& state, const std::string& number, const std::string& log) {
  DaySheetState& mine = state.screens->day_sheet;
  leave(state, mine.opening);
  std::string name = number.empty() ? std::to_string(std::random_device{}() % 9999 + 1) : number;
  if (name.rfind("hat-", 0) != 0) name = "hat-" + name;
  mine.hat_tried = std::make_shared<std::atomic<int>>(0);
  mine.opening = std::make_shared<Errand<std::shared_ptr<session::Opening>>>(
      [name, log, home = state.home, tried = mine.hat_tried](const std::atomic<bool>& cancel) {
        session::OpenOptions options;
        options.home = home;
        options.cancel = &cancel;
        options.tried = tried.get();
        return std::make_shared<session::Opening>(
            log.empty() ? session::Door::open(name, options) : session::Door::reopen(log, options));
      });
}

void draw_day_sheet(State& state) {
  DaySheetState& mine = state.screens->day_sheet;
  read_day_sheet(state);
  const float s = state.ink.scale;
  const ImVec2 all = ImGui::GetIO().DisplaySize;
  const float margin = std::max(28 * s, all.x * 0.05F);
  const float side = std::clamp(all.x * 0.26F, 330 * s, 430 * s);
  const float gap = 48 * s;
  const float width = all.x - 2 * margin - side - gap;
  kit::at(margin, 24 * s);
  kit::heading(state, say(state, "day sheet.title"));
  const float top = kit::down() + 12 * s;
  const float height = all.y - top - 96 * s;
  kit::at(margin, top);
  ImGui::BeginChild("calls", {width, height}, false, ImGuiWindowFlags_NavFlattened);
  kit::rule(state, width - 16 * s);
  kit::gap(state, 4);
  const float left = ImGui::GetWindowPos().x;
  for (const session::TicketLine& line : mine.tickets) {
    if (!mine.teaches.empty()) {
      const std::vector<std::string> skills = split(line.ticket.teaches);
      if (std::find(skills.begin(), skills.end(), mine.teaches) == skills.end()) continue;
    }
    draw_call(state, line, left, width - 16 * s);
    if (state.screen != "day sheet") break;
  }
  ImGui::EndChild();
  kit::at(margin + width + gap, top);
  ImGui::BeginChild("side", {side, height}, false, ImGuiWindowFlags_NavFlattened);
  draw_side(state, mine);
  ImGui::EndChild();
  if (state.screen != "day sheet") {
    mine.read = false;
    leave(state, mine.asking);
    leave(state, mine.opening);
  }
  kit::at(margin, all.y - 84 * s);
  kit::caution(state, say(state, "cautions.trainer only"), all.x - 2 * margin);
  kit::at(margin, all.y - 48 * s);
  draw_settings(state);
  if (!state.notice.empty()) {
    kit::at(margin, all.y - 20 * s);
    kit::small_words(state, state.notice, kit::Tone::pen);
  }
}

std::span<const Screen> screens_of_day_sheet() {
  static const Screen kScreens[] = {{"day sheet", draw_day_sheet, {}}};
  return kScreens;
}

}  // namespace legwork::gui
