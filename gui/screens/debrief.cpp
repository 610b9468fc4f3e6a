#include "gui/screens/debrief.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <chrono>
#include <thread>

#include "gui/kit.h"
#include "gui/screens/lead_bench.h"
#include "gui/screens/on_site.h"
#include "gui/screens/screens.h"
#include "gui/screens/states.h"
#include "gui/sheet/ladder.h"

namespace legwork::gui {
namespace {

// The sheet, in the language of the settings.
void lay_sheet(State& state, DebriefState& mine) {
  if (!mine.unit && mine.head) mine.unit = mine.head->unit;
  if (!mine.unit || mine.diagram_language == state.settings.language) return;
  mine.diagram_language = state.settings.language;
  // Beside the ink list there is room for the legs and one column of rungs.
  mine.diagram = ladder(
      *mine.unit, {.shape = 1.3, .across = 1270, .speech = speech(state), .with_legend = false});
  mine.marked_page = -1;
}

// Takes over what has been worked out by now.
void take_result(State& state, DebriefState& mine) {
  if (mine.debrief || !mine.why.empty()) return;
  const score::Making& making = making_of(state, mine.log);
  const auto result = making.result();  // the head is there before it
  mine.head = making.head();
  if (result) {
    mine.debrief = result->debrief;
    mine.why = result->why;
    leave_making(state);
  } else {
    state.look_in_s = 0.1;
  }
}

// How far it is, and the way out.
void draw_working(State& state) {
  const score::Making& making = *state.screens->beside.making;
  kit::heading(state, phrase("Going through the readings …"));
  if (making.suspects_of() > 0 && !making.line_up_ready()) {
    kit::at(24 * state.ink.scale, kit::down());
    kit::words(state, say("{done} of {all} faults that it could be are worked out.",
                          {{"done", Number{making.suspects_done()}},
                           {"all", Number{making.suspects_of()}}}));
  }
}

// Before anything is shown: what do they still suspect, and what would they have read next?
void draw_asking(State& state, DebriefState& mine) {
  const float s = state.ink.scale;
  const ImVec2 all = ImGui::GetIO().DisplaySize;
  const float width = std::min(all.x * 0.7F, 820 * s), left = (all.x - width) / 2;
  kit::at(left, all.y * 0.22F);
  kit::heading(state, mine.debrief ? mine.debrief->site : mine.head->site);
  kit::at(left, kit::down() + 8 * s);
  kit::words(state, mine.debrief ? mine.debrief->ask_first : mine.head->ask_first, kit::Tone::ink,
             width);
  kit::at(left, kit::down() + 14 * s);
  kit::lines(state, "own answer", mine.own_answer, width, 3);
  kit::at(left, kit::down() + 18 * s);
  const bool on = !state.help && ImGui::GetIO().KeyCtrl && kit::pressed(Key::enter);
  if (kit::choice(state, "show pages", phrase("Turn to the first step")) || on) mine.asked = true;
  ImGui::SameLine(0, 30 * s);
  if (kit::choice(state, "show account", phrase("The account"))) mine.asked = mine.account = true;
}

constexpr double kPageSeconds = 2.5;  // when pages turn by themselves

void turn_pages(State& state, DebriefState& mine, int last) {
  if (!state.help && kit::keys_free()) {
    const int before = mine.page;
    if (kit::pressed(Key::left) || kit::pressed(Key::page_up)) --mine.page;
    if (kit::pressed(Key::right) || kit::pressed(Key::page_down)) ++mine.page;
    if (kit::pressed(Key::home)) mine.page = 0;
    if (kit::pressed(Key::end)) mine.page = last;
    if (mine.page != before) mine.running_on = mine.account = false;
    if (kit::pressed(Key::r)) mine.running_on = !mine.running_on;
    if (kit::pressed(Key::s)) mine.account = !mine.account;
  }
  if (!mine.running_on) return;
  state.moving = true;
  mine.turned_s += static_cast<double>(ImGui::GetIO().DeltaTime);
  if (mine.turned_s < kPageSeconds) return;
  mine.turned_s = 0;
  if (++mine.page >= last) mine.running_on = false;
}

// Returns how far down it reaches.
float draw_head(State& state, DebriefState& mine, int last) {
  const float s = state.ink.scale;
  const float left = ImGui::GetCursorScreenPos().x, top = kit::down();
  const auto next = [&](float room) { ImGui::SameLine(0, room * s); };
  if (kit::pick(state, "pages", phrase("The call step by step"), !mine.account))
    mine.account = false;
  next(24);
  if (kit::pick(state, "account page", phrase("The account"), mine.account)) mine.account = true;
  next(24);
  if (kit::choice(state, "save html", phrase("Save as a page"))) {
    mine.saved_path = debrief::save_html(state, mine);
    mine.saved = mine.saved_path.empty() ? Message(phrase("It could not be saved."))
                                         : Message(Name{mine.saved_path});
  }
  float bottom = kit::down();
  if (!mine.account) {
    // Beside the rest, or under it where the corner is in the way.
    const auto wide = [&](const Message& words) {
      return ImGui::CalcTextSize(spoken(state, words).c_str()).x;
    };
    const float pages = 130 * s + wide(phrase("Run on")) + 90 * s;
    next(40);
    if (ImGui::GetCursorScreenPos().x + pages > corner_left(state)) {
      kit::at(left, top + std::max(30 * s, 28.0F));
      bottom += std::max(30 * s, 28.0F);
    }
    if (kit::choice(state, "page back", Name{"←"})) --mine.page;
    next(10);
    kit::mono(state, Name{fmt::format("{} / {}", mine.page + 1, last + 1)});
    next(10);
    if (kit::choice(state, "page on", Name{"→"})) ++mine.page;
    next(18);
    if (kit::pick(state, "run on", phrase("Run on"), mine.running_on))
      mine.running_on = !mine.running_on;
  }
  return bottom;
}

// Where the page went, and the way to it: on the line under the head, in the corner's own colour.
void draw_saved(State& state, DebriefState& mine, float left, float top) {
  const float s = state.ink.scale;
  kit::at(left, top);
  if (!mine.saved_path.empty()) {
    if (kit::choice(state, "open saved", phrase("Open it")) && !open_outside(mine.saved_path))
      mine.saved =
          say("{file}: nothing on this machine opens it.", {{"file", Name{mine.saved_path}}});
    ImGui::SameLine(0, 14 * s);
  }
  kit::small_words(state, mine.saved);
}

// What the points do not say; while the page stands.
void take_beside(State& state, DebriefState& mine) {
  if (mine.asking_beside == nullptr) return;
  if (const auto* answer = mine.asking_beside->answer()) {
    mine.beside = *answer;
    mine.asking_beside.reset();
  } else {
    state.look_in_s = 0.5;
  }
}

}  // namespace

void open_debrief(State& state, const std::string& log_path) {
  DebriefState& mine = state.screens->debrief;
  leave(state, mine.asking_beside);
  mine = DebriefState{};
  mine.log = log_path;
  mine.asking_beside = std::make_shared<Errand<std::vector<Message>>>(
      [log_path, home = state.home](const std::atomic<bool>&) {
        return score::beside_the_points(log_path, home);
      });
  // Who looks before the write-up practises: the log says so.
  session::Door* door = state.screens->on_site.door.get();
  if (door != nullptr && door->log_path() == log_path && !state.screens->on_site.view.closed)
    door->submit_line("suspects");
  making_of(state, log_path, true).finish();
  state.screen = "debrief";
}

void wait_for_debrief(State& state) {
  DebriefState& mine = state.screens->debrief;
  if (mine.log.empty()) {
    if (state.screens->on_site.door) open_debrief(state, state.screens->on_site.door->log_path());
    if (mine.log.empty()) return;
  }
  while (!mine.debrief && mine.why.empty()) {
    take_result(state, mine);
    std::this_thread::sleep_for(std::chrono::milliseconds(5));
  }
  if (mine.asking_beside) mine.asking_beside->wait();
  take_beside(state, mine);
}

void draw_debrief(State& state) {
  DebriefState& mine = state.screens->debrief;
  if (mine.log.empty()) {
    OnSiteState& site = state.screens->on_site;
    if (!site.door) {
      state.screen = "day sheet";
      return;
    }
    open_debrief(state, site.door->log_path());
  }
  const float s = state.ink.scale;
  const ImVec2 all = ImGui::GetIO().DisplaySize;
  const float margin = 24 * s;
  ImGui::SetCursorScreenPos({margin, 16 * s});
  take_result(state, mine);
  take_beside(state, mine);
  lay_sheet(state, mine);
  if (!state.help && kit::keys_free() && kit::pressed(Key::escape)) {
    go_home(state);
    return;
  }
  if (!mine.why.empty()) {
    kit::at(margin, 62 * s);
    kit::caution(state, mine.why);
    return;
  }
  if (!mine.asked && (mine.head || mine.debrief)) {
    draw_asking(state, mine);
    return;
  }
  if (!mine.debrief) {
    kit::at(margin, 62 * s);
    draw_working(state);
    return;
  }
  const int last = static_cast<int>(mine.debrief->pages.size()) - 1;
  const float head = draw_head(state, mine, last);
  turn_pages(state, mine, last);
  mine.page = std::clamp(mine.page, 0, std::max(0, last));
  float top = head + 6 * s;
  if (!mine.saved.empty()) {
    draw_saved(state, mine, margin, top);
    top = kit::down() + 6 * s;
  }
  const Place area{margin, top, all.x - margin, all.y - 14 * s};
  if (mine.account || last < 0)
    debrief::draw_account(state, mine, area);
  else
    debrief::draw_page(state, mine, area);
}

namespace {
std::vector<Message> debrief_in_hand(const State& state) {
  const DebriefState& mine = state.screens->debrief;
  if (!mine.asked)
    return {
        phrase("Write down first what you still suspected: what you knew is judged by yourself "
               "alone. Then turn to the steps or to the account.")};
  if (mine.account)
    return {
        phrase("The account: what it was, the points with a sentence each, the steps worth "
               "changing, and your steps beside the lead's by stages. A step that is underlined "
               "turns to its page.")};
  return {phrase("A page a step. On the sheet each conductor is marked by the leg that it followed "
                 "then; on the ink list the names that this step struck out, with its number."),
          phrase("M shows the machine as it was seen at that minute.")};
}
}  // namespace

std::span<const Screen> screens_of_debrief() {
  static const Screen kScreens[] = {{"debrief",
                                     draw_debrief,
                                     {{phrase("Ctrl Enter"), phrase("turn to the first step")},
                                      {Name{"← →"}, phrase("turn the pages")},
                                      {Name{"F"}, phrase("the whole sheet")},
                                      {Name{"M"}, phrase("the machine as it was seen then")},
                                      {Name{"R"}, phrase("let the pages run on")},
                                      {Name{"S"}, phrase("the account and back")}},
                                     debrief_in_hand}};
  return kScreens;
}

}  // namespace legwork::gui
