// What is heard and what moves where one stands: once, of what happened in the last step; and as
// long as one stays, of what was heard or seen to run. Only of what was observed, so each sound has
// its line under "Heard"; a motor's speed and load are those that somebody saw or measured, or
// ordinary ones.

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <string_view>

#include "engine/plant/plant.h"
#include "engine/unit/unit.h"
#include "gui/screens/on_site.h"
#include "gui/screens/on_site_parts.h"
#include "gui/screens/states.h"

namespace legwork::gui::on_site {
namespace {

using session::Happens;

int mains_of(const OnSiteState& mine) {
  return static_cast<int>(std::lround(mine.view.unit->circuit.supply.frequency_hz));
}

// The drive of the plant that a device turns: "compressor.speed"; "" if none.
std::string_view drive_of(const unit::Unit& unit, const std::string& device) {
  for (std::size_t i = 0; i < unit.circuit.loads.size() && i < unit.load_links.size(); ++i) {
    const int drive = unit.load_links[i].plant_index;
    if (drive >= 0 && unit.circuit.devices[unit.circuit.loads[i].device.slot()].name == device)
      return plant::drives()[static_cast<std::size_t>(drive)].name;
  }
  return {};
}

// Percent of rated load, as far as somebody knows it: by the gauges that hang, as the ratio of the
// two pressures (a ratio of 4 is taken for full load). Common practice, no source.
int load_of(const OnSiteState& mine) {
  const session::InstrumentsView& it = mine.view.instruments;
  if (!it.gauges_on || mine.view.place != mine.view.unit->gauge_place) return 60;
  constexpr double kAir = 101325;  // Pa
  const double ratio = (it.high_pa + kAir) / std::max(0.2 * kAir, it.low_pa + kAir);
  return std::clamp(static_cast<int>(std::lround((ratio - 1) / 3 * 10)) * 10, 0, 150);
}

// How a motor sounds while it runs. Four-pole compressors and six-pole fans, a twentieth and a
// tenth behind the field: ordinary for machines of this size; common practice, no source.
Sound motor_of(const OnSiteState& mine, const std::string& device, How how) {
  const int mains = mains_of(mine);
  const bool fan = drive_of(*mine.view.unit, device).find("fan") != std::string_view::npos;
  Sound sound{fan ? Voice::fan : Voice::compressor, mains, 0, load_of(mine)};
  sound.turns = fan ? mains * 3 / 10 : (mains * 95 / 100) / 2;
  if (how == How::creeps) sound.turns = std::max(3, sound.turns / 4);
  if (fan) sound.load = 50;
  return sound;
}

double arrived_at(const OnSiteState& mine) {
  double minute = 0;
  for (const session::TrailEntry& entry : mine.view.trail) {
    if (entry.kind == session::TrailKind::step && entry.step.verb == "go") minute = entry.at_minute;
  }
  return minute;
}

bool stands_here(const OnSiteState& mine, const std::string& device) {
  const unit::Spot* spot = mine.view.unit->spot_of(mine.view.unit->circuit.find_device(device));
  return spot != nullptr && spot->place == mine.view.place;
}

}  // namespace

void hear(State& state, const session::Outcome& outcome) {
  OnSiteState& mine = state.screens->on_site;
  mine.caught.clear();
  mine.started.clear();
  mine.since_step_s = 0;
  if (!outcome.accepted) return;
  // A part that came and went four times within ten seconds chatters.
  constexpr std::int64_t kWithin = 40;  // ticks of 250 ms
  constexpr int kTimes = 4, kMostCues = 8, kApart_ms = 250;
  std::map<std::string, std::vector<std::int64_t>> came;
  for (const session::Happening& it : outcome.seen.happenings) came[it.device].push_back(it.tick);
  const auto chatters = [&](const std::string& device) {
    const std::vector<std::int64_t>& ticks = came[device];
    for (std::size_t i = kTimes - 1; i < ticks.size(); ++i) {
      if (ticks[i] - ticks[i - (kTimes - 1)] <= kWithin) return true;
    }
    return false;
  };
  int cue = 0;
  const auto play = [&](Sound sound) {
    if (cue >= kMostCues) return;
    state.sounds.push_back({sound, cue++ * kApart_ms});
  };
  const int mains = mains_of(mine);
  std::set<std::string> told;
  for (const session::Happening& it : outcome.seen.happenings) {
    const bool switches = it.what == Happens::pulls_in || it.what == Happens::drops_out;
    if (switches && chatters(it.device)) {
      if (told.insert(it.device).second) {
        play({Voice::chatter, mains});
        mine.caught.push_back(say("{part} chatters", {{"part", Name{it.device}}}));
      }
      continue;
    }
    switch (it.what) {
      case Happens::pulls_in:
        play({Voice::contactor_in, mains});
        mine.started.insert(it.device);
        break;
      case Happens::drops_out:
        play({Voice::contactor_out, mains});
        mine.started.insert(it.device);
        break;
      case Happens::trips:
        play({Voice::trip, mains});
        break;
      case Happens::goes_to_defrost:
      case Happens::goes_to_cooling:
        play({Voice::reset, mains});
        break;
      case Happens::starts: {
        Sound sound = motor_of(mine, it.device, How::turns);
        sound.voice = Voice::run_up;
        play(sound);
        mine.started.insert(it.device);
        break;
      }
      case Happens::stops: {
        Sound sound = motor_of(mine, it.device, How::turns);
        sound.voice = Voice::run_down;
        play(sound);
        break;
      }
      case Happens::hums:
      case Happens::stops_humming:
        break;  // goes on, or has gone: keep_sounding
    }
  }
  for (const session::Hazard& hazard : outcome.hazards) {
    static constexpr std::string_view kArcs[] = {"line side",  "no neutral",        "live panel",
                                                 "not locked", "charged capacitor", "screwdriver"};
    const bool arcs = std::find(std::begin(kArcs), std::end(kArcs), hazard.id) != std::end(kArcs) &&
                      hazard.harm >= session::Harm::serious;
    if (arcs) {
      play({Voice::arc, mains});
      mine.caught.push_back(phrase("an arc cracks"));
    }
    if (hazard.id == "over-pressure") {
      play({Voice::relief, mains});
      mine.caught.push_back(phrase("gas blows off"));
    }
  }
  // A control that shows a fault beeps.
  for (const auto& [device, sight] : mine.sights.parts) {
    if ((sight.how != How::faulty && sight.how != How::coil_faulty) || !stands_here(mine, device))
      continue;
    if (mine.view.minutes - sight.at_minute > 0.01) continue;
    play({Voice::alarm, mains});
    mine.caught.push_back(say("{part} beeps", {{"part", Name{device}}}));
  }
  // Hands on buttons, handles and hoses make a sound too.
  if (!mine.view.trail.empty()) {
    for (auto it = mine.view.trail.rbegin(); it != mine.view.trail.rend(); ++it) {
      if (it->kind != session::TrailKind::step) continue;
      const std::string& verb = it->step.verb;
      if (verb == "reset" || verb == "open" || verb == "close" || verb == "lock")
        play({Voice::reset, mains});
      if (verb == "gauges off") play({Voice::relief, mains});
      break;
    }
  }
}

void keep_sounding(State& state) {
  OnSiteState& mine = state.screens->on_site;
  constexpr double kRunUp = 1.2;  // seconds, of Voice::run_up
  mine.since_step_s += state.passed_s;
  state.hums.clear();
  if (mine.idle_s > kGoesOn_s) return;
  const double since = arrived_at(mine) - 1e-6;
  std::map<std::string, const Sight*> latest;
  for (const auto* list : {&mine.sights.parts, &mine.sights.sounds}) {
    for (const auto& [device, sight] : *list) {
      if (sight.at_minute < since || !stands_here(mine, device)) continue;
      const Sight*& it = latest[device];
      if (it == nullptr || it->at_minute <= sight.at_minute) it = &sight;
    }
  }
  for (const auto& [device, sight] : latest) {
    const bool motor = !drive_of(*mine.view.unit, device).empty();
    switch (sight->how) {
      case How::hums:
        state.hums.insert({Voice::hum, mains_of(mine)});
        break;
      case How::turns:
      case How::backwards:
      case How::creeps:
      case How::runs:
        if (motor && !(mine.started.contains(device) && mine.since_step_s < kRunUp))
          state.hums.insert(motor_of(mine, device, sight->how));
        break;
      default:
        break;
    }
  }
  if (!state.hums.empty()) {
    // Awake once more when it is to fall silent.
    const double left = std::max(0.1, kGoesOn_s - mine.idle_s + 0.05);
    state.look_in_s = state.look_in_s > 0 ? std::min(state.look_in_s, left) : left;
  }
}

// What turns goes on turning while somebody is there: ten pictures a second, for ten seconds. After
// a start the fans run up and the needles rise. Reduced motion: all stands as it will stand.
void move_on(State& state) {
  OnSiteState& mine = state.screens->on_site;
  const bool turns = std::any_of(mine.outside.shapes.begin(), mine.outside.shapes.end(),
                                 [](const Shape& shape) { return shape.spins; });
  const ImGuiIO& io = ImGui::GetIO();
  const bool touched = io.MouseDelta.x != 0 || io.MouseDelta.y != 0 || io.MouseDown[0] ||
                       io.MouseWheel != 0 || !io.InputQueueCharacters.empty();
  mine.idle_s = touched ? 0 : mine.idle_s + state.passed_s;
  keep_sounding(state);
  constexpr double kPicture = 0.1, kTurn = 6.283185307, kRunUp = 2, kNeedle = 0.3;  // seconds
  const session::InstrumentsView& it = mine.view.instruments;
  const double shown[2] = {it.low_pa, it.high_pa};
  bool moves = false;
  for (int i = 0; i < 2; ++i) {
    double& needle = mine.needles[i];
    if (!it.gauges_on) {
      needle = -1;
      continue;
    }
    const double from = std::max(0.0, needle);  // a hose that was just put on: from 0
    needle = state.settings.calm
                 ? shown[i]
                 : from + (shown[i] - from) * std::min(1.0, state.passed_s / kNeedle * 2);
    constexpr double kStands = 2000;  // Pa: less than a needle is wide
    if (std::abs(needle - shown[i]) < kStands)
      needle = shown[i];
    else
      moves = true;
  }
  if (!state.settings.calm && turns && mine.idle_s <= kGoesOn_s) {
    const double speed =
        mine.started.empty() ? 1 : std::clamp(mine.since_step_s / kRunUp, 0.1, 1.0);
    mine.spin = std::fmod(mine.spin + speed * kTurn * state.passed_s, kTurn);
    moves = true;
  }
  if (!state.settings.calm && !mine.started.empty() && mine.since_step_s < kRunUp) moves = true;
  if (moves) state.look_in_s = kPicture;
}

}  // namespace legwork::gui::on_site
