#include "gui/sheet/sights.h"

#include <algorithm>
#include <array>
#include <iterator>

#include "engine/circuit/kinds.h"

namespace legwork::gui {
namespace {

constexpr std::array<const char*, static_cast<std::size_t>(How::count)> kNames = {
    "out",           "pulled in",     "held in",      "down",        "up",          "tripped",
    "button in",     "button out",    "stands",       "creeps",      "turns",       "backwards",
    "hums",          "cooling",       "defrost",      "dark",        "lit",         "faulty",
    "unplugged",     "plugged",       "lamp red",     "lamp green",  "pulled",      "cold",
    "warm",          "quiet",         "runs",         "clatters",    "right time",  "wrong time",
    "pointer short", "pointer right", "pointer long", "coil faulty", "waits",       "timed out",
    "lugs tight",    "lug loose",     "lug burnt",    "clips tight", "clips slack", "clip open",
    "pellet cold",   "pellet hot",    "sheath whole", "sheath burnt"};

// What a look of a device's quantity shows, states in its order.
struct Shown {
  std::string_view quantity;
  std::vector<How> states;
  bool aside = false;  // besides what shows of it anyway
};
const std::vector<Shown>& shown_of_any() {
  static const std::vector<Shown> rows = {
      {"position", {How::out, How::pulled_in}},
      {"handle", {How::down, How::tripped, How::up}},
      {"coil", {How::cold, How::hums}},
      {"turns", {How::stands, How::turns}},
      {"speed", {How::backwards, How::stands, How::creeps, How::turns}},
      {"speed size", {How::quiet, How::runs}},
      {"button", {How::button_in, How::button_out}},
      {"display", {How::dark, How::lit, How::faulty, How::coil_faulty}},
      {"in defrost", {How::cooling, How::defrost}, true},
      {"lit", {How::dark, How::lit}},
      {"watts", {How::cold, How::warm}},
      {"noise", {How::quiet, How::hums, How::clatters}, true},
      {"dial off", {How::right_time, How::wrong_time}, true},
      {"longest defrost", {How::pointer_short, How::pointer_right, How::pointer_long}, true},
      {"joints", {How::lugs_tight, How::lug_loose, How::lug_burnt}, true},
      {"clips", {How::clips_tight, How::clips_slack, How::clip_open}, true},
      {"heat", {How::pellet_cold, How::pellet_hot}, true},
      {"sheath", {How::sheath_whole, How::sheath_burnt}, true},
  };
  return rows;
}

// "down|up" of a kind.
std::vector<How> positions_of(const circuit::Kind& kind) {
  std::vector<How> out;
  for (std::string_view rest = kind.positions; !rest.empty();) {
    const std::string_view one = rest.substr(0, rest.find('|'));
    rest.remove_prefix(std::min(rest.size(), one.size() + 1));
    const auto name = std::find(kNames.begin(), kNames.end(), one);
    if (name != kNames.end()) out.push_back(static_cast<How>(name - kNames.begin()));
  }
  return out;
}

Shown shown_of(const circuit::Kind& kind, std::string_view quantity) {
  if (quantity == "position" && !kind.positions.empty()) return {quantity, positions_of(kind)};
  for (const Shown& row : shown_of_any()) {
    if (row.quantity == quantity) return row;
  }
  return {};
}

// "position" of "CC.position".
std::string_view quantity_of(const unit::Look& look) {
  const std::string_view whole = look.quantity;
  const std::size_t dot = whole.rfind('.');
  return dot == std::string_view::npos ? whole : whole.substr(dot + 1);
}

Shown shown_by(const unit::Unit& unit, const unit::Look& look) {
  const circuit::DeviceId id = unit.circuit.find_device(look.target);
  if (!id.valid()) return {};
  return shown_of(*unit.circuit.devices[id.slot()].kind, quantity_of(look));
}

// A part stands in one state of each family at once: its contacts, its handle, its button, how it
// turns, whether it is warm, … The first of those that were seen is drawn, the rest stands beside
// it as words.
int family_of(How how, std::string_view quantity) {
  switch (how) {
    case How::pulled:
      return 0;
    case How::out:
    case How::pulled_in:
    case How::held_in:
    case How::cooling:
    case How::defrost:
    case How::waits:
    case How::timed_out:
      return 1;
    case How::down:
    case How::up:
    case How::tripped:
      return 2;
    case How::button_in:
    case How::button_out:
      return 3;
    case How::unplugged:
    case How::plugged:
      return 4;
    case How::dark:
    case How::lit:
    case How::faulty:
    case How::coil_faulty:
      return 5;
    case How::lamp_red:
    case How::lamp_green:
      return 6;
    case How::hums:
      return quantity == "coil" ? 8 : 7;
    case How::cold:
    case How::warm:
      return 8;
    default:
      return 7;
  }
}

How how_of(session::Happens what) {
  using session::Happens;
  switch (what) {
    case Happens::pulls_in:
      return How::pulled_in;
    case Happens::drops_out:
      return How::out;
    case Happens::trips:
      return How::tripped;
    case Happens::goes_to_defrost:
      return How::defrost;
    case Happens::goes_to_cooling:
      return How::cooling;
    case Happens::starts:
      return How::turns;
    case Happens::hums:
      return How::hums;
    case Happens::stops:
    case Happens::stops_humming:
      break;
  }
  return How::stands;
}
class Gathering {
 public:
  explicit Gathering(const session::View& view) : view_(view), unit_(*view.unit) {
    out_.looks.resize(unit_.looks.size());
    out_.site = view.ticket.site;
  }

  Sights make_at(double minute) {
    constexpr double kSame = 1e-6;  // minutes
    for (const session::TrailEntry& entry : view_.trail) {
      if (entry.at_minute > minute + kSame) continue;
      if (entry.kind == session::TrailKind::happening) happened(entry);
      if (entry.kind != session::TrailKind::step) continue;
      done(entry);
      arranged(entry.step);
    }
    for (const session::SightView& sight : view_.sights) {
      if (sight.at_minute <= minute + kSame) looked(sight);
    }
    for (const session::Tag& tag : view_.tags) {
      if (tag.at_minute > minute + kSame) continue;
      if (tag.function == "temp" && !tag.at.empty()) out_.probes.insert(tag.at.front());
      for (std::size_t i = 0; i < unit_.looks.size(); ++i) {
        if (tag.state >= 0 && unit_.looks[i].id == tag.look) seen(i, tag.state, tag.at_minute);
      }
    }
    return settled();
  }

  Sights make() {
    for (const session::TrailEntry& entry : view_.trail) {
      if (entry.kind == session::TrailKind::happening) happened(entry);
      if (entry.kind == session::TrailKind::step) done(entry);
    }
    for (const session::Tag& tag : view_.tags) {
      if (tag.function == "temp" && !tag.at.empty()) out_.probes.insert(tag.at.front());
    }
    for (const session::SightView& sight : view_.sights) looked(sight);
    const session::InstrumentsView& it = view_.instruments;
    const auto all = [](const auto& list) {
      return std::set<std::string>(list.begin(), list.end());
    };
    out_.covers_off = all(it.covers_off);
    out_.guards_off = all(it.guards_off);
    out_.locked = all(it.locked);
    for (const session::TerminalView& terminal : view_.terminals) {
      if (terminal.proven_dead) out_.proven_dead.insert(terminal.name);
    }
    for (const session::LiftedEnd& end : it.lifted_ends) out_.lifted[end.wire] = end.terminal;
    for (const std::string& pair : it.jumpers) {
      const std::size_t gap = pair.find(' ');
      if (gap != std::string::npos)
        out_.jumpers.emplace_back(pair.substr(0, gap), pair.substr(gap + 1));
    }
    out_.gauges = it.gauges_on;
    return settled();
  }

 private:
  Sights settled() {
    for (const auto& [device, families] : families_) {
      for (const auto& [family, sight] : families) {
        if (family == families.begin()->first)
          out_.parts[device] = sight;
        else
          out_.marks[device].push_back(sight.how);
      }
    }
    return std::move(out_);
  }

  void put(const std::string& device, How how, double minute, bool heard = false,
           std::string_view quantity = {}) {
    Sight& sight = heard ? out_.sounds[device] : families_[device][family_of(how, quantity)];
    if (!sight.id.empty() && sight.at_minute > minute) return;
    sight = {device, how, minute, heard};
  }

  void happened(const session::TrailEntry& entry) {
    const std::string& device = entry.happening.device;
    const circuit::DeviceId id = unit_.circuit.find_device(device);
    if (!id.valid()) return;
    How how = how_of(entry.happening.what);
    if (how == How::tripped) {
      const std::vector<How> shows = positions_of(*unit_.circuit.devices[id.slot()].kind);
      if (std::find(shows.begin(), shows.end(), how) == shows.end()) how = How::button_out;
    }
    put(device, how, entry.at_minute);
    // To the ear a motor runs or is quiet.
    const How ear = how == How::turns ? How::runs : how == How::stands ? How::quiet : how;
    put(device, ear, entry.at_minute, true);
    out_.changes[device].push_back({entry.at_minute, how});
  }

  // What a step leaves as it is until another undoes it.
  void arranged(const session::Step& step) {
    const auto argument = [&](std::size_t n) {
      return n < step.arguments.size() ? step.arguments[n] : std::string();
    };
    const std::string first = argument(0), second = argument(1);
    if (step.verb == "cover" && first == "off") out_.covers_off.insert(second);
    if (step.verb == "cover" && first == "on") out_.covers_off.erase(second);
    if (step.verb == "lock") out_.locked.insert(first);
    if (step.verb == "unlock") out_.locked.erase(first);
    if (step.verb == "gauges on") out_.gauges = true;
    if (step.verb == "gauges off") out_.gauges = false;
    if (step.verb == "lift" || step.verb == "lift at") {
      const circuit::WireId wire = unit_.circuit.find_wire(first);
      if (wire.valid())
        out_.lifted[unit_.circuit.wires[wire.slot()].name] =
            second.empty()
                ? unit_.circuit.terminals[unit_.circuit.wires[wire.slot()].to.slot()].name
                : second;
    }
    if (step.verb == "land") {
      const circuit::WireId wire = unit_.circuit.find_wire(first);
      if (wire.valid()) out_.lifted.erase(unit_.circuit.wires[wire.slot()].name);
    }
    if (step.verb == "jumper") out_.jumpers.emplace_back(first, second);
    if (step.verb == "remove jumper") {
      std::erase_if(out_.jumpers, [&](const auto& it) {
        return (it.first == first && it.second == second) ||
               (it.first == second && it.second == first) || first == it.first + " " + it.second;
      });
    }
  }

  // One's own hands.
  void done(const session::TrailEntry& entry) {
    if (entry.step.arguments.empty()) return;
    const std::string &verb = entry.step.verb, &what = entry.step.arguments.front();
    if (!unit_.circuit.find_device(what).valid()) return;
    if (verb == "open") put(what, How::down, entry.at_minute);
    if (verb == "close") put(what, How::up, entry.at_minute);
    if (verb == "reset") put(what, How::button_in, entry.at_minute);
    if (verb == "push") put(what, How::held_in, entry.at_minute);
    if (verb == "release") put(what, How::out, entry.at_minute);
    if (verb == "pull") {
      put(what, How::pulled, entry.at_minute);
      out_.pulled.insert(what);
    }
    if (verb == "insert") {
      out_.pulled.erase(what);
      families_.erase(what);
    }
  }

  // A look of the unit, or a glance at what one of them would show.
  void looked(const session::SightView& sight) {
    if (!sight.text.empty()) out_.displays[sight.target] = sight.text;
    for (std::size_t i = 0; i < unit_.looks.size(); ++i) {
      if (unit_.looks[i].id == sight.id) return seen(i, sight.state, sight.at_minute);
    }
    // At a glance alone, or by a step of its own: a blade turned by hand.
    for (const unit::Look& glance : unit_.glances) {
      if (glance.id != sight.id) continue;
      if (const std::optional<How> how = how_of_look(unit_, glance, sight.state))
        put(glance.target, *how, sight.at_minute, false, quantity_of(glance));
      return;
    }
    if (!sight.words.empty()) out_.told[sight.target] = sight.words;
  }

  void seen(std::size_t index, int state, double minute) {
    const unit::Look& look = unit_.looks[index];
    out_.looks[index] = {state, minute};
    const std::optional<How> found = how_of_look(unit_, look, state);
    if (!found) return;
    const How how = *found;
    const Shown row = shown_by(unit_, look);
    if (look.sense == unit::Sense::listen) put(look.target, how, minute, true);
    if (row.aside && look.sense == unit::Sense::listen) return;
    if (row.aside) {
      auto& marks = out_.marks[look.target];
      std::erase_if(marks, [&](How it) {
        return std::find(row.states.begin(), row.states.end(), it) != row.states.end();
      });
      marks.push_back(how);
    } else {
      put(look.target, how, minute, false, quantity_of(look));
    }
  }

  const session::View& view_;
  const unit::Unit& unit_;
  std::map<std::string, std::map<int, Sight>> families_;  // by device
  Sights out_;
};

}  // namespace

const char* name_of(How how) { return kNames[static_cast<std::size_t>(how)]; }

std::optional<How> how_of_look(const unit::Unit& unit, const unit::Look& look, int state) {
  const Shown row = shown_by(unit, look);
  if (state < 0 || state >= static_cast<int>(row.states.size())) return {};
  return row.states[static_cast<std::size_t>(state)];
}

const Sight* Sights::of(const std::string& device) const {
  const auto it = parts.find(device);
  return it == parts.end() ? nullptr : &it->second;
}

Sights sights_of(const session::View& view) { return Gathering(view).make(); }

Sights sights_at(const session::View& view, double minute) {
  return Gathering(view).make_at(minute);
}

const LookSight* look_at(const unit::Unit& unit, const Sights& sights, std::string_view quantity) {
  for (std::size_t i = 0; i < unit.looks.size() && i < sights.looks.size(); ++i) {
    if (unit.looks[i].quantity == quantity && sights.looks[i].state >= 0) return &sights.looks[i];
  }
  return nullptr;
}

}  // namespace legwork::gui
