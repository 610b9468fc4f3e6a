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
#include "gui/screens/settings_line.h"
#include "gui/screens/states.h"

namespace legwork::gui {
namespace {

std::string clock(int minute) { return fmt::format("{:02}:{:02}", minute / 60 % 24, minute % 60); }

// A broken file: its name, and what is wrong with it.
void draw_broken(State& state, const session::TicketLine& line, float left, float width) {
  kit::at(left, kit::down());
  kit::mono(state, Name{line.path});
  kit::at(left, kit::down());
  kit::caution(state, line.broken, width);
}

// What a closed call was worth; nothing until it is worked out.
const score::ShiftScore* score_of(const DaySheetState& mine, const std::string& log) {
  for (const score::ShiftScore& it : mine.progress.scores) {
    if (it.path == log) return &it;
  }
  return nullptr;
}

Message score_words(const score::ShiftScore& it) {
  if (!it.scored) return say("not scored · {day}", {{"day", Name{it.day}}});
  const Phrase how = it.passed     ? phrase("passed")
                     : it.practice ? phrase("practice")
                                   : phrase("not passed");
  return say("{how}, {points} of 100 · {day}",
             {{"how", how}, {"points", Number{it.total, 1}}, {"day", Name{it.day}}});
}

void draw_call(State& state, const DaySheetState& mine, const session::TicketLine& line, float left,
               float width) {
  const float s = state.ink.scale;
  const float margin = 92 * s;  // the hour and the mark stand in it
  const float y = kit::down();
  if (!line.broken.empty()) {
    draw_broken(state, line, left, width);
    return;
  }
  const bool done = !line.finished_logs.empty();
  kit::at(left, y + 3 * s);
  kit::mono(state, Name{clock(line.ticket.starts_at_minute)}, kit::Tone::dim);
  if (done) {
    kit::tick(state, {left + 2 * s, y + 28 * s}, 12 * s);
    kit::at(left + 20 * s, y + 24 * s);
    kit::small_words(state, Name{fmt::format("{:.0f} min", line.finished_minutes)});
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
  const float room = width - margin - 10 * s;
  // Its marks stand beside it.
  const std::string said =
      kit::shortened(state.ink.fonts.body, spoken(state, line.ticket.said), room - 24 * s);
  kit::words(state, kit::quoted(Name{said}), kit::Tone::ink, room);
  kit::at(left + margin, kit::down());
  const score::ShiftScore* score = done ? score_of(mine, line.finished_logs.front()) : nullptr;
  if (score != nullptr) {
    kit::small_words(
        state, say("{difficulty} · {score} · {teaches}", {{"difficulty", line.ticket.difficulty},
                                                          {"score", score_words(*score)},
                                                          {"teaches", line.ticket.teaches}}));
  } else {
    kit::small_words(state, line.ticket.difficulty);
  }
  kit::at(left, kit::down() + 4 * s);
  kit::rule(state, width);
  kit::at(left, kit::down() + 4 * s);
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
      kit::small_words(state, phrase("not signed off"), kit::Tone::pen);
    } else if (const score::ShiftScore* score = score_of(mine, shift.path); score != nullptr) {
      kit::small_words(state, score_words(*score));
    }
  }
  if (mine.past.size() > kFew && !mine.all_past &&
      kit::choice(state, "all past",
                  say("and {n} earlier", {{"n", Number{mine.past.size() - kFew}}})))
    mine.all_past = true;
}

// Calls by how hard they are.
void draw_levels(State& state, DaySheetState& mine) {
  ImGui::AlignTextToFramePadding();
  kit::small_words(state, phrase("Calls by how hard they are"));
  const float gap = 18 * state.ink.scale;
  for (int level = 1; level <= 5; ++level) {
    const auto one = std::find_if(mine.tickets.begin(), mine.tickets.end(), [&](const auto& line) {
      return line.broken.empty() && line.ticket.level == level;
    });
    if (one == mine.tickets.end()) continue;
    ImGui::SameLine(0, gap);
    if (kit::pick(state, fmt::format("level {}", level), one->ticket.difficulty,
                  mine.level == level))
      mine.level = mine.level == level ? 0 : level;
  }
}

// The easiest call that nobody signed off yet; nothing once all are.
const session::TicketLine* next_call(const DaySheetState& mine) {
  const session::TicketLine* best = nullptr;
  for (const session::TicketLine& line : mine.tickets) {
    if (!line.broken.empty() || !line.finished_logs.empty() || !line.unfinished_log.empty())
      continue;
    if (best == nullptr || line.ticket.level < best->ticket.level ||
        (line.ticket.level == best->ticket.level && line.id < best->id))
      best = &line;
  }
  return best;
}

// For the newcomer where to start; for everybody else what is due: calls that are open, one that
// did not pass, the next one.
void draw_due(State& state, DaySheetState& mine) {
  const float width = ImGui::GetContentRegionAvail().x;
  const session::TicketLine* next = next_call(mine);
  const auto open = [&](const std::string& name, const Message& words,
                        const session::TicketLine& line) {
    if (kit::choice(state, name, words)) open_ticket(state, line.path, line.unfinished_log);
  };
  if (mine.past.empty()) {
    kit::strong(state, phrase("Start here"));
    kit::words(state,
               phrase("Two minutes with a guide show how to look, walk and measure. Then take an "
                      "easy call alone."),
               kit::Tone::ink, width);
    if (kit::choice(state, "guide", phrase("A first call, guided: two minutes"))) {
      start_guide(state);
      return;
    }
    if (next != nullptr)
      open("next", say("Then alone: {title}", {{"title", next->ticket.title}}), *next);
    return;
  }
  kit::strong(state, phrase("Due"));
  int shown = 0;
  for (const session::TicketLine& line : mine.tickets) {
    if (line.unfinished_log.empty() || shown == 3) continue;
    ++shown;
    double minutes = 0;
    for (const session::PastShift& shift : mine.past) {
      if (shift.path == line.unfinished_log) minutes = shift.minutes;
    }
    open("due " + line.id,
         say("Go on: {title}, {minutes} min in",
             {{"title", line.ticket.title}, {"minutes", Number{minutes, 0}}}),
         line);
  }
  const session::TicketLine* again = nullptr;
  std::string day;
  for (const session::TicketLine& line : mine.tickets) {
    const score::ShiftScore* it =
        line.finished_logs.empty() ? nullptr : score_of(mine, line.finished_logs.front());
    if (it == nullptr || it->passed || !line.unfinished_log.empty()) continue;
    if (again == nullptr || it->day < day) {
      again = &line;
      day = it->day;
    }
  }
  if (again != nullptr)
    open("again",
         say("Again: {title}, not passed on {day}",
             {{"title", again->ticket.title}, {"day", Name{day}}}),
         *again);
  if (next != nullptr)
    open("next", say("Not worked yet: {title}", {{"title", next->ticket.title}}), *next);
  if (kit::choice(state, "guide", phrase("A first call, guided: two minutes"))) start_guide(state);
}

// A ticket was asked for, and a call of it is open.
void draw_asking(State& state, DaySheetState& mine) {
  const session::TicketLine* line = ticket_of(mine, mine.asked_for);
  if (line == nullptr || line->unfinished_log.empty()) {
    mine.asked_for.clear();
    return;
  }
  const ImVec2 all = ImGui::GetIO().DisplaySize;
  const float s = state.ink.scale, wide = std::min(all.x - 40, 560 * s);
  ImGui::SetNextWindowPos({all.x / 2, all.y * 0.4F}, ImGuiCond_Always, {0.5F, 0.5F});
  ImGui::SetNextWindowSizeConstraints({wide, 0}, {wide, all.y});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1);
  ImGui::PushStyleColor(ImGuiCol_WindowBg, state.ink.theme.packed(Role::tag));
  ImGui::Begin("asked for", nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_AlwaysAutoResize |
                   ImGuiWindowFlags_NoSavedSettings);
  kit::heading(state, line->ticket.title);
  kit::words(
      state,
      phrase("A call of this ticket is open: it was begun and not signed off. It can go on at "
             "the minute where it stopped. Begun anew, the open one stays under the past "
             "shifts."),
      kit::Tone::ink, wide - 52 * s);
  const std::string path = line->path, log = line->unfinished_log;
  if (kit::choice(state, "go on", phrase("Go on with it"))) {
    mine.asked_for.clear();
    open_ticket(state, path, log);
  }
  if (kit::choice(state, "begin anew", phrase("Begin it anew"))) {
    mine.asked_for.clear();
    open_ticket(state, path);
  }
  if (kit::choice(state, "not now", phrase("Neither")) ||
      (!state.help && kit::pressed(Key::escape)))
    mine.asked_for.clear();
  ImGui::End();
  ImGui::PopStyleColor();
  ImGui::PopStyleVar();
}

// What is secure by now, in words: no bars for people.
void draw_skills(State& state, DaySheetState& mine) {
  if (mine.asking != nullptr) {
    if (const auto* progress = mine.asking->answer()) {
      mine.progress = *progress;
      mine.asking.reset();
    } else {
      state.look_in_s = 0.5;
    }
  }
  if (mine.progress.skills.empty()) return;
  kit::gap(state, 10);
  kit::strong(state, phrase("What the shifts so far say"));
  for (const score::SkillLine& skill : mine.progress.skills) {
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
  draw_due(state, mine);
  if (state.screen != "day sheet") return;
  kit::gap(state, 10);
  draw_hat(state, mine);
  if (kit::choice(state, "lead", phrase("For the shop lead: answers, and writing one yourself")))
    state.screen = "lead";
  if (kit::choice(state, "symbols", phrase("The symbols on our sheets"))) state.screen = "symbols";
  kit::gap(state, 10);
  draw_past(state, mine);
  draw_skills(state, mine);
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
  mine.asking = std::make_shared<Errand<DaySheetState::Progress>>(
      [closed, scoring](const std::atomic<bool>& cancel) {
        score::DebriefOptions options = scoring;
        options.cancel = &cancel;
        DaySheetState::Progress out;
        out.skills = score::progress_of(closed, options, &out.scores);
        return out;
      });
}

void open_from_hat(State& state, const std::string& number, const std::string& log) {
  if (back_to_open_call(state, log)) return;
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
  kit::at(margin, kit::down() + 2 * s);
  draw_levels(state, mine);
  const float top = kit::down() + 8 * s;
  // Caution, settings and a notice.
  const Phrase caution = phrase(
      "A trainer only. Local codes and the site's lockout procedure rule; licensed "
      "people do the work.");
  const float warned = ImGui::CalcTextSize(spoken(state, caution).c_str(), nullptr, false,
                                           all.x - 2 * margin - 38 * s)
                           .y +
                       14 * s;
  const float foot = warned + settings_high(state, all.x - 2 * margin) + 26 * s;
  const float height = all.y - top - foot - 10 * s;
  kit::at(margin, top);
  ImGui::BeginChild("calls", {width, height}, false, ImGuiWindowFlags_NavFlattened);
  kit::rule(state, width - 16 * s);
  kit::gap(state, 4);
  const float left = ImGui::GetWindowPos().x;
  for (const session::TicketLine& line : mine.tickets) {
    if (mine.level > 0 && line.broken.empty() && line.ticket.level != mine.level) continue;
    draw_call(state, mine, line, left, width - 16 * s);
    if (state.screen != "day sheet") break;
  }
  ImGui::EndChild();
  kit::at(margin + width + gap, top);
  ImGui::BeginChild("side", {side, height}, false, ImGuiWindowFlags_NavFlattened);
  draw_side(state, mine);
  ImGui::EndChild();
  kit::at(margin, all.y - foot);
  kit::caution(state, caution, all.x - 2 * margin);
  kit::at(margin, all.y - foot + warned);
  draw_settings(state, all.x - 2 * margin);
  if (!state.notice.empty()) {
    kit::at(margin, all.y - 22 * s);
    kit::small_words(state, state.notice, kit::Tone::pen);
  }
  if (!mine.asked_for.empty()) draw_asking(state, mine);
}

void ask_or_open(State& state, const std::string& ticket) {
  read_day_sheet(state);
  DaySheetState& mine = state.screens->day_sheet;
  const session::TicketLine* line = ticket_of(mine, ticket);
  if (line == nullptr || line->unfinished_log.empty()) {
    open_ticket(state, ticket);
    return;
  }
  state.screen = "day sheet";
  mine.asked_for = ticket;
}

void leave_day_sheet(State& state) {
  DaySheetState& mine = state.screens->day_sheet;
  mine.read = false;
  mine.asked_for.clear();
  leave(state, mine.asking);
  leave(state, mine.opening);
}

namespace {
std::vector<Message> day_sheet_in_hand(const State&) {
  return {
      phrase("The day's calls by the hour. Choose one and you are on site; whatever you do is "
             "kept, and a call that is left goes on where it stopped."),
      phrase("A tick marks what is signed off, with its score. A call out of the hat is made by "
             "its number, the same for whoever takes that number.")};
}
}  // namespace

std::span<const Screen> screens_of_day_sheet() {
  static const Screen kScreens[] = {{"day sheet", draw_day_sheet, {}, day_sheet_in_hand}};
  return kScreens;
}

}  // namespace legwork::gui
