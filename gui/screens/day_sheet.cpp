#include "gui/screens/day_sheet.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "engine/base/catalogue.h"
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

// What a theme of assets/themes.yaml is called; one that somebody added, by its own name.
Message paper_words(const std::string& theme) {
  if (theme == "paper-light") return phrase("light");
  if (theme == "paper-dark") return phrase("dark");
  return Name{theme};
}

// A broken file: its name, and what is wrong with it.
void draw_broken(State& state, const session::TicketLine& line, float left, float width) {
  kit::at(left, kit::down());
  kit::mono(state, Name{line.path});
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
  kit::mono(state, Name{clock(line.ticket.starts_at_minute)}, kit::Tone::dim);
  if (!line.finished_logs.empty()) {
    kit::at(left, y + 24 * s);
    kit::small_words(state, Name{fmt::format("✓ {:.0f} min", line.finished_minutes)});
  }
  kit::at(left + margin, y);
  if (kit::choice(state, "open " + line.id, line.ticket.title))
    open_ticket(state, line.path, line.unfinished_log);
  ImGui::SameLine(0, 14 * s);
  kit::words(state, line.unit_name, kit::Tone::dim);
  if (!line.unfinished_log.empty()) {
    kit::at(left + margin, kit::down());
    kit::small_words(state, phrase("begun, goes on where it stopped"), kit::Tone::pen);
  }
  kit::at(left + margin, kit::down());
  kit::words(state, kit::quoted(Name{first_words(spoken(state, line.ticket.said), 120)}),
             kit::Tone::ink, width - margin - 10 * s);
  kit::at(left + margin, kit::down());
  kit::small_words(state, say("{difficulty} · {teaches}", {{"difficulty", line.ticket.difficulty},
                                                           {"teaches", line.ticket.teaches}}));
  kit::at(left, kit::down() + 4 * s);
  kit::rule(state, width);
  kit::at(left, kit::down() + 4 * s);
}

// One line along the foot.
void draw_settings(State& state) {
  const float s = state.ink.scale;
  Settings& settings = state.settings;
  const auto next = [&](float room) { ImGui::SameLine(0, room * s); };
  const auto label = [&](const Phrase& text, bool first = false) {
    if (!first) next(30);
    kit::small_words(state, text);
    next(10);
  };
  label(phrase("Paper"), true);
  for (std::size_t i = 0; i < state.themes.size(); ++i) {
    const std::string& theme = state.themes[i].name;
    if (i > 0) next(12);
    if (kit::pick(state, "theme " + theme, paper_words(theme), settings.theme == theme))
      settings.theme = theme;
  }
  label(phrase("Language"));
  for (std::size_t i = 0; i < languages().size(); ++i) {
    const Language& language = languages()[i];
    if (i > 0) next(12);
    if (kit::pick(state, "language " + language.tag, Name{language.native_name},
                  settings.language == language.tag))
      settings.language = language.tag;
  }
  label(phrase("Units"));
  if (kit::pick(state, "fahrenheit", Name{"°F"}, !settings.celsius)) settings.celsius = false;
  next(12);
  if (kit::pick(state, "celsius", Name{"°C"}, settings.celsius)) settings.celsius = true;
  next(20);
  if (kit::pick(state, "psig", Name{"psig"}, !settings.bar)) settings.bar = false;
  next(12);
  if (kit::pick(state, "bar", Name{"bar"}, settings.bar)) settings.bar = true;
  label(phrase("Sound"));
  if (kit::pick(state, "sound on", phrase_in("a sound", "on"), settings.sound))
    settings.sound = true;
  next(12);
  if (kit::pick(state, "sound off", phrase_in("a sound", "off"), !settings.sound))
    settings.sound = false;
  label(phrase("Text"));
  if (kit::choice(state, "text smaller", Name{"A −"}))
    settings.scale = std::max(kLeastScale, settings.scale - 0.1F);
  next(12);
  if (kit::choice(state, "text larger", Name{"A +"}))
    settings.scale = std::min(kMostScale, settings.scale + 0.1F);
}

const session::TicketLine* ticket_of(const DaySheetState& mine, const std::string& id) {
  for (const session::TicketLine& line : mine.tickets) {
    if (line.id == id) return &line;
  }
  return nullptr;
}

void draw_past(State& state, DaySheetState& mine) {
  kit::strong(state, phrase("Past shifts"));
  if (mine.past.empty()) kit::small_words(state, phrase("None yet."));
  constexpr std::size_t kFew = 5;
  const std::size_t most = mine.all_past ? mine.past.size() : std::min(kFew, mine.past.size());
  for (std::size_t i = 0; i < most; ++i) {
    const session::PastShift& shift = mine.past[i];
    if (!shift.broken.empty()) {
      kit::words(state, shift.broken, kit::Tone::dim);
      continue;
    }
    const session::TicketLine* ticket = ticket_of(mine, shift.scenario_id);
    const Message title = ticket != nullptr ? ticket->ticket.title : Message(Name{shift.site});
    if (kit::choice(state, "past " + shift.path,
                    say("{title} · {minutes} min",
                        {{"title", title}, {"minutes", Number{shift.minutes, 0}}}))) {
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
      kit::small_words(state, phrase("not signed off"), kit::Tone::pen);
    }
  }
  if (mine.past.size() > kFew && !mine.all_past &&
      kit::choice(state, "all past",
                  say("and {n} earlier", {{"n", Number{mine.past.size() - kFew}}})))
    mine.all_past = true;
}

void draw_practice(State& state, DaySheetState& mine) {
  kit::strong(state, phrase("Practice by what it teaches"));
  std::vector<std::string> skills;
  for (const session::TicketLine& line : mine.tickets) {
    for (const std::string& skill : line.ticket.skills) {
      if (std::find(skills.begin(), skills.end(), skill) == skills.end()) skills.push_back(skill);
    }
  }
  std::sort(skills.begin(), skills.end());
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {12 * state.ink.scale, 0});
  const float right = ImGui::GetWindowPos().x + ImGui::GetContentRegionMax().x;
  const float gap = 14 * state.ink.scale;
  float end = 0;
  for (const std::string& skill : skills) {
    // As many in a line as there is room for.
    const float wide = ImGui::CalcTextSize(spoken(state, Term{skill}).c_str()).x;
    if (end > 0 && end + gap + wide < right) ImGui::SameLine(0, gap);
    if (kit::pick(state, "practice " + skill, Term{skill}, mine.teaches == skill))
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
  kit::strong(state, phrase("What the shifts so far say"));
  for (const score::SkillLine& skill : mine.skills) {
    const Phrase how = skill.secure        ? phrase("secure")
                       : skill.calls < 3   ? phrase("too few calls to say")
                       : skill.middle > .5 ? phrase("coming along")
                                           : phrase("to practise");
    kit::small_words(
        state, say("{skill}: {how} ({calls})",
                   {{"skill", Term{skill.skill}}, {"how", how}, {"calls", Number{skill.calls}}}));
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
               say("Drawing a call: {n} put back …", {{"n", Number{mine.hat_tried->load()}}}),
               kit::Tone::pen);
    ImGui::SameLine(0, 14 * s);
    if (kit::choice(state, "stop drawing", phrase("Stop"))) leave(state, mine.opening);
    return;
  }
  const bool drawn = kit::choice(state, "out of the hat", phrase("A call out of the hat"));
  ImGui::SameLine(0, 14 * s);
  const bool typed = kit::field(state, "hat number", mine.hat_number, 110 * s, phrase("number"));
  if (drawn || typed) open_from_hat(state, mine.hat_number);
}

void draw_side(State& state, DaySheetState& mine) {
  if (kit::choice(state, "guide", phrase("A first call, guided: two minutes"))) start_guide(state);
  draw_hat(state, mine);
  if (kit::choice(state, "lead", phrase("For the shop lead: answers, and writing one yourself")))
    state.screen = "lead";
  if (kit::choice(state, "symbols", phrase("The symbols on our sheets"))) state.screen = "symbols";
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
  kit::heading(state, phrase("Marrow Bay: the day's calls"));
  const float top = kit::down() + 12 * s;
  const float height = all.y - top - 96 * s;
  kit::at(margin, top);
  ImGui::BeginChild("calls", {width, height}, false, ImGuiWindowFlags_NavFlattened);
  kit::rule(state, width - 16 * s);
  kit::gap(state, 4);
  const float left = ImGui::GetWindowPos().x;
  for (const session::TicketLine& line : mine.tickets) {
    if (!mine.teaches.empty()) {
      const std::vector<std::string>& skills = line.ticket.skills;
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
  kit::caution(state,
               phrase("A trainer only. Local codes and the site's lockout procedure rule; licensed "
                      "people do the work."),
               all.x - 2 * margin);
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
