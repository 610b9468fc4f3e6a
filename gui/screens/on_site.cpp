#include "gui/screens/on_site.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "gui/kit.h"
#include "gui/screens/debrief.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/screens.h"
#include "gui/screens/states.h"
#include "gui/sheet/outside.h"

namespace legwork::gui {
namespace {

// What a watched instrument showed on the way, lowest to highest and when.
void note_watched(OnSiteState& mine, const session::Seen& seen) {
  mine.watched.clear();
  for (const session::Observation& o : seen.observations) {
    if (o.state < 0 && o.tick != 0)
      mine.watched.push_back({static_cast<double>(o.tick), o.value, session::shown(o)});
  }
  std::stable_sort(mine.watched.begin(), mine.watched.end(),
                   [](const auto& a, const auto& b) { return a.tick < b.tick; });
  if (mine.watched.size() < 2) mine.watched.clear();
}

// Which thing the step looked at, and whether with the lamp.
void note_look(OnSiteState& mine) {
  if (mine.look_says.empty() || mine.view.trail.empty()) return;
  for (auto it = mine.view.trail.rbegin(); it != mine.view.trail.rend(); ++it) {
    if (it->kind != session::TrailKind::step) continue;
    if (it->step.arguments.empty()) return;
    const std::string& what = it->step.arguments.front();
    mine.look_at = mine.view.unit->circuit.find_device(what).valid() ? what : "!" + what;
    mine.look_with_lamp = it->step.arguments.size() > 1 && it->step.arguments[1] == "with lamp";
    mine.look_minute = it->at_minute;
    return;
  }
}

// One step back with each Escape; never out of the call.
void step_back(State& state, OnSiteState& mine) {
  if (!mine.harm.empty()) return mine.harm.clear();
  if (!mine.asking.empty()) {
    mine.asking = {};
    return;
  }
  if (mine.taken >= 0) {
    mine.taken = -1;
  } else if (!mine.slip.empty()) {
    mine.slip.clear();
  } else if (mine.steps_open || mine.pad_open || mine.bag_open || mine.seen_open) {
    mine.steps_open = mine.pad_open = mine.bag_open = mine.seen_open = false;
  } else if (!mine.look_at.empty()) {
    mine.look_at.clear();
  } else if (mine.ticket_open) {
    mine.ticket_open = false;
  } else if (!mine.red.empty() || !mine.black.empty()) {
    on_site::take_off(state, -1);
  } else {
    mine.cursor.clear();
  }
}

// Does the meter read across the two screws that its leads are on?
bool reads_live(const OnSiteState& mine) {
  return std::any_of(mine.view.hooked.begin(), mine.view.hooked.end(),
                     [&](const session::InstrumentView& it) {
                       return it.state == session::InstrumentView::State::live &&
                              it.function == mine.hand && it.at.size() == 2 &&
                              ((it.at[0] == mine.red && it.at[1] == mine.black) ||
                               (it.at[0] == mine.black && it.at[1] == mine.red));
                     });
}

struct Stop {  // where the keys can stand
  std::string id;
  float x, y;
  bool screw;
};

// Parts in reading order, screws too.
std::vector<Stop> stops_of(const OnSiteState& mine) {
  std::vector<Stop> stops;
  for (const on_site::Sheet& sheet : on_site::open_sheets(mine)) {
    if (sheet.scene == &mine.diagram || sheet.scene == &mine.piping) continue;
    for (const Target& target : sheet.scene->targets) {
      const Place at = on_site::place_on(sheet, target.box);
      stops.push_back({target.id, at.middle_x(), at.middle_y(), false});
    }
    for (const Terminal& t : sheet.scene->terminals) {
      if (t.screw && t.home)
        stops.push_back({t.id, sheet.camera->screen_x(static_cast<float>(t.at.x)),
                         sheet.camera->screen_y(static_cast<float>(t.at.y)), true});
    }
  }
  return stops;
}

// Brings where the keys stand into its window.
void show_stop(OnSiteState& mine, const std::string& id) {
  for (const on_site::Sheet& sheet : on_site::open_sheets(mine)) {
    if (sheet.scene != &mine.outside && sheet.scene != &mine.panel) continue;
    Camera& camera = sheet.scene == &mine.panel ? mine.panel_camera : mine.outside_camera;
    Place at{};
    for (const Target& target : sheet.scene->targets) {
      if (target.id == id) at = on_site::place_on(sheet, target.box);
    }
    if (const Terminal* t = on_site::terminal_on(*sheet.scene, id); t != nullptr)
      at = on_site::place_on(sheet, {t->at.x - 20, t->at.y - 20, t->at.x + 20, t->at.y + 20});
    if (at.right <= at.left) continue;
    const Place& a = sheet.area;
    if (at.left < a.left) camera.x += a.left - at.left + 20;
    if (at.right > a.right) camera.x -= at.right - a.right + 20;
    if (at.top < a.top) camera.y += a.top - at.top + 20;
    if (at.bottom > a.bottom) camera.y -= at.bottom - a.bottom + 20;
    return;
  }
}

// Tab walks the parts, the arrows go on from there to whatever is nearest, Enter opens a part's
// slip or puts a lead on a screw.
void walk(State& state, OnSiteState& mine) {
  const std::vector<Stop> stops = stops_of(mine);
  if (stops.empty()) return;
  const auto here = std::find_if(stops.begin(), stops.end(),
                                 [&](const Stop& stop) { return stop.id == mine.cursor; });
  if (kit::pressed(Key::tab)) {
    state.tab_taken = true;
    std::vector<const Stop*> parts;
    for (const Stop& stop : stops) {
      if (!stop.screw) parts.push_back(&stop);
    }
    const auto at = std::find_if(parts.begin(), parts.end(),
                                 [&](const Stop* stop) { return stop->id == mine.cursor; });
    const auto count = static_cast<std::ptrdiff_t>(parts.size());
    if (count > 0) {
      const std::ptrdiff_t now = at == parts.end() ? -1 : at - parts.begin();
      const std::ptrdiff_t next =
          ImGui::GetIO().KeyShift ? (now <= 0 ? count - 1 : now - 1) : (now + 1) % count;
      mine.cursor = parts[static_cast<std::size_t>(next)]->id;
      mine.slip.clear();
      show_stop(mine, mine.cursor);
    }
    return;
  }
  if (here == stops.end()) return;
  const struct {
    Key key;
    float x, y;
  } ways[] = {{Key::left, -1, 0}, {Key::right, 1, 0}, {Key::up, 0, -1}, {Key::down, 0, 1}};
  for (const auto& way : ways) {
    if (!kit::pressed(way.key) || ImGui::GetIO().KeyCtrl) continue;
    const Stop* best = nullptr;
    float least = 1e9F;
    for (const Stop& stop : stops) {
      const float dx = stop.x - here->x, dy = stop.y - here->y;
      const float along = dx * way.x + dy * way.y,
                  aside = std::abs(dx * way.y) + std::abs(dy * way.x);
      if (!stop.screw || along < 3) continue;
      const float far = along + 2.5F * aside;
      if (far < least) {
        least = far;
        best = &stop;
      }
    }
    if (best != nullptr) {
      mine.cursor = best->id;
      show_stop(mine, mine.cursor);
    }
    return;
  }
  if (!kit::pressed(Key::enter)) return;
  if (here->screw) {
    if (on_site::touch_of(mine.hand) != on_site::Touch::two_leads) on_site::take(mine, "volts");
    const int which = mine.taken >= 0      ? mine.taken
                      : mine.red.empty()   ? 0
                      : mine.black.empty() ? 1
                                           : -1;
    mine.taken = -1;
    if (which >= 0) on_site::place_lead(state, which, here->id);
    return;
  }
  for (const on_site::Sheet& sheet : on_site::open_sheets(mine)) {
    for (const Target& target : sheet.scene->targets) {
      if (target.id == here->id)
        on_site::open_slip(mine, here->id, on_site::place_on(sheet, target.box));
    }
  }
}

void keys(State& state, OnSiteState& mine) {
  // While the keys stand on a part, the arrows are the machine's.
  ImGuiIO& io = ImGui::GetIO();
  const bool on_machine = !mine.cursor.empty() && mine.slip.empty() && !mine.steps_open &&
                          mine.asking.empty() && !state.help;
  if (on_machine) {
    io.ConfigFlags &= ~ImGuiConfigFlags_NavEnableKeyboard;
  } else {
    io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
  }
  if (state.help) return;
  if (io.KeyCtrl && kit::pressed(Key::f)) state.focus = "find";
  if (!kit::keys_free()) {
    // Out of a line that is written on, to the machine.
    if (kit::pressed(Key::tab)) {
      state.tab_taken = true;
      kit::put_pen_down();
    }
    return;
  }
  if (kit::pressed(Key::escape)) step_back(state, mine);
  if (io.KeyCtrl && kit::pressed(Key::z)) on_site::take_back(state);
  if (mine.slip.empty() && !mine.steps_open && !mine.pad_open && mine.asking.empty())
    walk(state, mine);
  if (io.KeyCtrl) return;
  if (kit::pressed(Key::b)) mine.back = !mine.back;
  if (kit::pressed(Key::t)) mine.ticket_open = !mine.ticket_open;
  if (kit::pressed(Key::p)) mine.pad_open = !mine.pad_open;
  if (kit::pressed(Key::l)) mine.steps_open = !mine.steps_open;
  if (kit::pressed(Key::w)) state.screen = "write-up";
  if (kit::pressed(Key::slash)) state.focus = "step";
}

}  // namespace

void take_view(OnSiteState& mine) {
  mine.view = mine.door->view();
  mine.sights = sights_of(mine.view);
  ++mine.view_count;
}

void give_step(State& state, const std::string& line) {
  OnSiteState& mine = state.screens->on_site;
  if (!mine.door) return;
  const bool rings = line == "ring the shop" && state.works_ahead;
  const session::Outcome outcome =
      mine.door->submit_line(rings ? making_of(state, mine.door->log_path()).ring_line() : line);
  mine.answer.clear();
  mine.harm.clear();
  mine.look_at.clear();
  mine.look_says.clear();
  mine.refused = !outcome.accepted;
  if (!mine.refused && outcome.minutes > 0) mine.leads_were.clear();
  if (mine.refused) mine.answer.push_back(outcome.why);
  bool shows = false;
  for (const session::Observation& o : outcome.seen.observations) {
    if (o.source == session::Source::glance) continue;  // shown where it is seen
    const Message shown = session::shown(o);
    if (o.state >= 0) mine.look_says.push_back(shown);
    mine.answer.push_back(
        o.state >= 0 ? shown : say("{what}: {shown}", {{"what", Name{o.key}}, {"shown", shown}}));
    if (o.state < 0 && o.key.starts_with(mine.hand + " ")) {
      mine.shown = shown;
      mine.shown_minute = 0;
      shows = true;
    }
  }
  for (const Message& said : outcome.seen.said) mine.answer.push_back(said);
  for (const session::Happening& it : outcome.seen.happenings)
    mine.answer.push_back(say("{Sentence}.", {{"sentence", session::sentence(it)}}));
  for (const session::Hazard& hazard : outcome.hazards) {
    mine.harm.push_back(hazard.reference.empty()
                            ? hazard.why
                            : say("{why} ({reference})",
                                  {{"why", hazard.why}, {"reference", Name{hazard.reference}}}));
  }
  const bool read = reads_live(mine);
  const std::string before = mine.view.place;
  const std::vector<std::string> covers = mine.view.instruments.covers_off;
  take_view(mine);
  // What is drawn in its place is another thing.
  if (mine.slip == "!cover" && covers != mine.view.instruments.covers_off) mine.slip.clear();
  // What it read on the way of another step, proving dead, is no reading of these leads.
  if (shows && (mine.view.tags.empty() || mine.view.tags.back().function != mine.hand) &&
      !reads_live(mine))
    mine.shown = {};
  // The step took the meter's leads for itself (proving dead), or off with the cover.
  if (read && outcome.accepted && !reads_live(mine)) {
    mine.red.clear();
    mine.black.clear();
    mine.taken = -1;
  }
  on_site::hear(state, outcome);
  if (mine.shown_minute == 0) mine.shown_minute = mine.view.minutes;
  note_look(mine);
  note_watched(mine, outcome.seen);
  if (mine.view.place != before) {  // the instruments come along, not their leads
    mine.slip.clear();
    mine.ticket_open = false;
    mine.cursor.clear();
    mine.red.clear();
    mine.black.clear();
    mine.taken = -1;
  }
  if (state.works_ahead && outcome.accepted) making_of(state, mine.door->log_path()).grown();
  if (outcome.closed) open_debrief(state, mine.door->log_path());
}

void ask_step(State& state, const std::string& line) {
  OnSiteState& mine = state.screens->on_site;
  if (!mine.door) return;
  mine.asking = mine.door->ask_before(line);
  mine.asked_line = line;
  if (mine.asking.empty()) give_step(state, line);
}

void draw_on_site(State& state) {
  OnSiteState& mine = state.screens->on_site;
  if (!mine.door) {
    state.screen = "day sheet";
    return;
  }
  const float s = state.ink.scale;
  const ImVec2 all = ImGui::GetIO().DisplaySize;
  const float gap = 16 * s;
  on_site::move_on(state);
  const float strip = on_site::draw_strip(state, {gap, 10 * s, all.x - gap, 0});
  const float senses = on_site::draw_senses(state, {gap, strip, all.x - gap, 0});
  // At least as high as its rows of targets need.
  const float foot = all.y - std::max(146 * s, 134.0F);
  // A low page keeps less room for the cords between the windows and the meter.
  const float cords = (all.y < 800 * s ? 26 : 34) * s;
  const Place middle{gap, senses + 8 * s, all.x - gap, foot - cords};
  on_site::draw_windows(state, middle);
  on_site::draw_tailgate(state, {gap, foot, all.x - gap, all.y - 6 * s});
  on_site::draw_leads(state, *ImGui::GetWindowDrawList());
  on_site::draw_steps(state, middle);
  on_site::draw_pad(state, middle);
  on_site::draw_safe(state);
  on_site::draw_look(state, middle);
  on_site::draw_slip(state, middle);
  on_site::draw_harm(state, middle);
  on_site::draw_ask(state, middle);
  keys(state, mine);
}

namespace {

// The slip that is open, the lead in hand, or else the instrument.
std::vector<Message> on_site_in_hand(const State& state) {
  const OnSiteState& mine = state.screens->on_site;
  std::vector<Message> out;
  if (!mine.door) return out;
  if (mine.taken >= 0) {
    out.push_back(say(
        "The {colour} lead is in hand. Click a screw and it goes there; click beside and it goes "
        "back to the meter.",
        {{"colour", mine.taken == 0 ? phrase("red") : phrase("black")}}));
  } else if (mine.slip.find('>') != std::string::npos) {
    out.push_back(
        say("{wire} is a conductor. With the clamp in hand a click on it reads its amps; "
            "dead and proven dead, it can be lifted off its screw.",
            {{"wire", Name{mine.slip}}}));
  } else if (!mine.slip.empty()) {
    const circuit::DeviceId device = mine.view.unit->circuit.find_device(mine.slip);
    const Message what =
        device.valid()
            ? say("{part}, {kind}",
                  {{"part", Name{mine.slip}},
                   {"kind",
                    Term{std::string(mine.view.unit->circuit.devices[device.slot()].kind->name)}}})
            : Message(Term{mine.slip.substr(1)});
    out.push_back(
        say("{what}: its slip lists what can be done to it from here, with the minutes "
            "each costs. What is faint cannot be done now, and says why.",
            {{"what", what}}));
  }
  if (const Message help = session::help_of(mine.hand); !help.empty())
    out.push_back(say("{Instrument}: {help}",
                      {{"instrument", on_site::name_of_instrument(mine.hand)}, {"help", help}}));
  switch (on_site::touch_of(mine.hand)) {
    case on_site::Touch::two_leads:
      out.push_back(
          phrase("A click on a screw puts the next free lead there, red first; with the second one "
                 "the meter reads. Taking a lead off costs nothing, and Ctrl Z puts it back."));
      break;
    case on_site::Touch::around_a_wire:
      out.push_back(phrase("A click on a conductor puts the clamp round it."));
      break;
    case on_site::Touch::at_a_point:
      out.push_back(
          phrase("A click on a point of the piping or the box puts the thermometer there."));
      break;
    case on_site::Touch::none:
      break;
  }
  out.push_back(
      phrase("Leaving for the day sheet ends nothing: the call goes on from there where "
             "it stopped, at the same minute."));
  return out;
}

}  // namespace

std::span<const Screen> screens_of_on_site() {
  static const Screen kScreens[] = {
      {"on site",
       draw_on_site,
       {
           {phrase("Tab, arrows"), phrase("part to part, screw to screw")},
           {Name{"Enter"}, phrase("open its slip, put a lead there")},
           {Name{"1 … 9, 0"}, phrase("take an instrument in hand")},
           {Name{"L"}, phrase("the list of all steps")},
           {Name{"C"}, phrase("unfold the P-T card")},
           {Name{"B"}, phrase("turn the sheet over")},
           {Name{"F"}, phrase("the whole sheet")},
           {Name{"P"}, phrase("fold the pad")},
           {Name{"T"}, phrase("fold the ticket")},
           {Name{"/"}, phrase("write a step")},
           {Name{"Ctrl F"}, phrase("find a part or terminal")},
           {Name{"Ctrl Z"}, phrase("take back what cost nothing: a lead put on or taken off")},
           {Name{"W"}, phrase("the write-up")},
           {phrase("Ctrl, arrows"), phrase("move the sheet")},
           {phrase("wheel, + −"), phrase("nearer and farther")},
           {phrase("right button"), phrase("move the sheet")},
       },
       on_site_in_hand}};
  return kScreens;
}

}  // namespace legwork::gui
