// The drawn site of every unit, in every state that can be observed: nothing overlaps, type is
// never too small, states that differ are drawn differently, and equal ones alike. Tests
// gui/sheet/parts, panel, conductors, outside, box, sights.
//
// Over 450 lines: one sweep over all units, and what its tests share.

#include <gtest/gtest.h>
#include <stdlib.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "engine/base/catalogue.h"
#include "engine/circuit/kinds.h"
#include "gui/headless.h"
#include "gui/screens/states.h"
#include "gui/sheet/ladder.h"
#include "gui/sheet/outside.h"
#include "gui/sheet/panel.h"
#include "gui/sheet/sights.h"
#include "gui/sheet/svg.h"
#include "tests/support/scene_text.h"

namespace legwork::gui {
namespace {

std::vector<std::string> site_units() {
  std::vector<std::string> names;
  for (const auto& entry :
       std::filesystem::directory_iterator(std::string(LEGWORK_SOURCE_DIR) + "/circuits")) {
    if (entry.path().extension() == ".yaml") names.push_back(entry.path().stem().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

unit::Unit site_unit(const std::string& name) {
  Diagnostics found;
  const std::string home = LEGWORK_SOURCE_DIR;
  auto unit = unit::load_file(home + "/circuits/" + name + ".yaml", home + "/assets", found);
  EXPECT_TRUE(unit) << found.text();
  return *unit;
}

session::SightView sight_of(const unit::Look& look, int state, double minute = 0) {
  session::SightView sight;
  sight.id = look.id;
  sight.target = look.target;
  sight.quantity = look.quantity;
  sight.sense = look.sense;
  sight.state = state;
  sight.states = static_cast<int>(look.states.size());
  sight.at_minute = minute;
  return sight;
}

// Everything about the unit as last looked at, each look in its k-th state.
Sights all_seen(const unit::Unit& unit, int k) {
  session::View view;
  view.unit = std::make_shared<unit::Unit>(unit);
  for (const unit::Look& look : unit.looks) {
    view.sights.push_back(
        sight_of(look, static_cast<int>(std::min<std::size_t>(static_cast<std::size_t>(k),
                                                              look.states.size() - 1))));
  }
  return sights_of(view);
}

Sights nothing_seen(const unit::Unit& unit) {
  session::View view;
  view.unit = std::make_shared<unit::Unit>(unit);
  return sights_of(view);
}

std::string spot(const Label& l) {
  return "'" + l.text + "' at " + std::to_string(l.at.x) + " " + std::to_string(l.at.y);
}

// Everything wrong with how a picture is laid out, in words.
std::string faults_of(const Scene& scene) {
  std::string found;
  const Box paper = extent_of(scene, 0);
  for (std::size_t i = 0; i < scene.labels.size(); ++i) {
    const Label& label = scene.labels[i];
    const Box box = cover(label);
    if (label.size < 12) found += spot(label) + " is too small\n";
    if (label.text.empty()) found += "an empty label\n";
    if (box.left < paper.left || box.right > paper.right) found += spot(label) + " runs out\n";
    for (std::size_t j = i + 1; j < scene.labels.size(); ++j) {
      const Label& other = scene.labels[j];
      if (box.overlaps(cover(other))) found += spot(label) + " lies on " + spot(other) + "\n";
    }
    for (const Terminal& t : scene.terminals) {
      const int r = t.screw ? 7 : 4;
      if (box.overlaps({t.at.x - r, t.at.y - r, t.at.x + r, t.at.y + r}))
        found += spot(label) + " lies on " + t.id + "\n";
    }
    // What is written on a part stays on it.
    for (const Target& t : scene.targets) {
      if (t.id != label.id || t.id.starts_with('!') || label.sleeve) continue;
      if (box.left < t.box.left || box.right > t.box.right)
        found += spot(label) + " is wider than " + t.id + "\n";
    }
  }
  for (std::size_t i = 0; i < scene.terminals.size(); ++i) {
    for (std::size_t j = i + 1; j < scene.terminals.size(); ++j) {
      const Point a = scene.terminals[i].at, b = scene.terminals[j].at;
      if (std::abs(a.x - b.x) < 24 && std::abs(a.y - b.y) < 24)
        found += scene.terminals[i].id + " and " + scene.terminals[j].id + " stand too close\n";
    }
  }
  for (const Wire& wire : scene.wires) {
    for (std::size_t n = 0; n + 1 < wire.points.size(); ++n) {
      const Point a = wire.points[n], b = wire.points[n + 1];
      if (a.x != b.x && a.y != b.y) found += wire.id + " slants\n";
      const Box run{std::min(a.x, b.x), std::min(a.y, b.y), std::max(a.x, b.x) + 1,
                    std::max(a.y, b.y) + 1};
      for (const Target& t : scene.targets) {
        const Box core{t.box.left + 1, t.box.top + 1, t.box.right - 1, t.box.bottom - 1};
        if (run.overlaps(core)) found += wire.id + " runs through " + t.id + "\n";
      }
    }
  }
  return found;
}

// Stretches of different conductors that run on one another.
std::string shared_runs(const Scene& scene, const unit::Unit& unit) {
  std::string found;
  const std::vector<int> number = conductor_numbers(unit.circuit);
  const auto conductor = [&](const std::string& wire) {
    return number[unit.circuit.wires[unit.circuit.find_wire(wire).slot()].from.slot()];
  };
  for (std::size_t i = 0; i < scene.wires.size(); ++i) {
    for (std::size_t j = i + 1; j < scene.wires.size(); ++j) {
      const Wire &p = scene.wires[i], &q = scene.wires[j];
      if (conductor(p.id) == conductor(q.id)) continue;
      for (std::size_t m = 0; m + 1 < p.points.size(); ++m) {
        for (std::size_t n = 0; n + 1 < q.points.size(); ++n) {
          const Point a = p.points[m], b = p.points[m + 1], c = q.points[n], d = q.points[n + 1];
          const auto share = [](int s, int t, int u, int v) {
            return std::min(std::max(s, t), std::max(u, v)) -
                       std::max(std::min(s, t), std::min(u, v)) >
                   0;
          };
          if ((a.x == b.x && c.x == d.x && a.x == c.x && share(a.y, b.y, c.y, d.y)) ||
              (a.y == b.y && c.y == d.y && a.y == c.y && share(a.x, b.x, c.x, d.x)))
            found += p.id + " and " + q.id + " run on one another at " + std::to_string(a.x) + " " +
                     std::to_string(a.y) + "\n";
        }
      }
    }
  }
  return found;
}

class DrawnSite : public testing::TestWithParam<std::string> {};

TEST_P(DrawnSite, NothingOverlapsInAnyState) {
  const unit::Unit unit = site_unit(GetParam());
  for (int k = -1; k < 6; ++k) {
    const Sights sights = k < 0 ? nothing_seen(unit) : all_seen(unit, k);
    for (const auto& [language, native] : languages()) {
      const SceneText text{speech_of(language, language != "en", language != "en")};
      for (const unit::Place& place : unit.places) {
        EXPECT_EQ(faults_of(panel(unit, place.id, sights, text)), "")
            << place.id << " panel " << k << ' ' << language;
        EXPECT_EQ(faults_of(outside(unit, place.id, sights, text)), "")
            << place.id << " outside " << k << ' ' << language;
      }
    }
  }
}

TEST_P(DrawnSite, ConductorsKeepToLanesOfTheirOwn) {
  const unit::Unit unit = site_unit(GetParam());
  const Sights sights = nothing_seen(unit);
  for (const unit::Place& place : unit.places) {
    const Scene scene = panel(unit, place.id, sights, {});
    EXPECT_EQ(shared_runs(scene, unit), "") << place.id;
    // Every conductor that ends at a part of the panel is there, at its two screws or its way out.
    for (const circuit::Wire& wire : unit.circuit.wires) {
      const auto sits = [&](circuit::TerminalId t) {
        const circuit::DeviceId device = unit.circuit.terminals[t.slot()].device;
        const unit::Spot* spot = device.valid() ? unit.spot_of(device) : nullptr;
        return spot != nullptr && spot->in_panel && spot->place == place.id;
      };
      const auto drawn = std::count_if(scene.wires.begin(), scene.wires.end(),
                                       [&](const Wire& it) { return it.id == wire.name; });
      EXPECT_EQ(drawn, sits(wire.from) || sits(wire.to) ? 1 : 0) << wire.name;
    }
  }
}

// Each terminal that can be reached where one stands has one home there, in the panel or beside it.
TEST_P(DrawnSite, EveryTerminalStandsAtItsPlace) {
  const unit::Unit unit = site_unit(GetParam());
  const Sights sights = nothing_seen(unit);
  for (const unit::Place& place : unit.places) {
    std::map<std::string, int> homes;
    for (const Scene& scene :
         {panel(unit, place.id, sights, {}), outside(unit, place.id, sights, {})}) {
      for (const Terminal& t : scene.terminals) homes[t.id] += t.home;
    }
    for (std::size_t i = 1; i < unit.circuit.terminals.size(); ++i) {
      const circuit::Terminal& t = unit.circuit.terminals[i];
      if (t.hidden || !t.device.valid()) continue;
      const unit::Spot* spot = unit.spot_of(t.device);
      EXPECT_EQ(homes[t.name], spot != nullptr && spot->place == place.id ? 1 : 0)
          << t.name << " at " << place.id;
    }
    for (const unit::ProbePoint& probe : unit.probes) {
      EXPECT_EQ(homes["@" + probe.id], probe.place == place.id ? 1 : 0) << probe.id;
    }
    const int gauges = unit.gauge_place == place.id ? 1 : 0;
    EXPECT_EQ(homes["@low"], gauges);
    EXPECT_EQ(homes["@high"], gauges);
  }
}

// No state that was observed is missing from the picture: each look, in each of its states, gives a
// picture of its own; what was not looked at is another.
TEST_P(DrawnSite, StatesThatDifferAreDrawnDifferently) {
  const unit::Unit unit = site_unit(GetParam());
  const auto shared = std::make_shared<unit::Unit>(unit);
  const SceneText text;
  // Where the thing stands that was looked at.
  const auto pictures = [&](const unit::Look& look, const Sights& sights) {
    return as_text(panel(unit, look.place, sights, text)) +
           as_text(outside(unit, look.place, sights, text)) +
           as_text(lamp_through_fins(unit, sights));
  };
  for (const unit::Look& look : unit.looks) {
    std::map<std::string, int> seen;
    seen[pictures(look, nothing_seen(unit))] = -1;
    for (std::size_t state = 0; state < look.states.size(); ++state) {
      const auto with = [&](double minute) {
        session::View view;
        view.unit = shared;
        view.sights.push_back(sight_of(look, static_cast<int>(state), minute));
        return pictures(look, sights_of(view));
      };
      const std::string picture = with(3);
      const auto [at, fresh] = seen.try_emplace(picture, static_cast<int>(state));
      EXPECT_TRUE(fresh) << look.id << ": state " << state << " is drawn as " << at->second;
      EXPECT_EQ(picture, with(17)) << look.id << ": the picture depends on the time";
    }
  }
}

// Two looks at one thing show each in the picture: none hides what the other found.
TEST_P(DrawnSite, WhatWasSeenOfOneThingIsDrawnTogether) {
  const unit::Unit unit = site_unit(GetParam());
  const SceneText text;
  const auto shared = std::make_shared<unit::Unit>(unit);
  const auto picture = [&](const std::vector<std::pair<const unit::Look*, int>>& seen) {
    session::View view;
    view.unit = shared;
    for (const auto& [look, state] : seen) view.sights.push_back(sight_of(*look, state));
    const Sights sights = sights_of(view);
    std::string all;
    const std::string& place = seen.front().first->place;
    all += as_text(panel(unit, place, sights, text));
    all += as_text(outside(unit, place, sights, text));
    return all + as_text(lamp_through_fins(unit, sights));
  };
  for (std::size_t i = 0; i < unit.looks.size(); ++i) {
    for (std::size_t j = i + 1; j < unit.looks.size(); ++j) {
      const unit::Look &a = unit.looks[i], &b = unit.looks[j];
      // By ear and by eye alike, a motor that runs is one thing.
      const bool same_thing = a.quantity == b.quantity ||
                              (a.sense != b.sense && unit.circuit.find_device(a.target).valid());
      if (a.target != b.target || a.place != b.place || same_thing) continue;
      std::map<std::string, std::string> drawn;
      for (std::size_t p = 0; p < a.states.size(); ++p) {
        for (std::size_t q = 0; q < b.states.size(); ++q) {
          const std::string what = std::to_string(p) + " with " + std::to_string(q);
          const auto [at, fresh] = drawn.try_emplace(
              picture({{&a, static_cast<int>(p)}, {&b, static_cast<int>(q)}}), what);
          EXPECT_TRUE(fresh) << a.id << " and " << b.id << ": " << what << " is drawn as "
                             << at->second;
        }
      }
    }
  }
}

// The same for what hands have done, and for what an instrument leaves on the machine: each is a
// picture of its own, and the same twice.
TEST_P(DrawnSite, WhatHandsHaveDoneIsDrawn) {
  const unit::Unit unit = site_unit(GetParam());
  const circuit::Circuit& circuit = unit.circuit;
  const auto shared = std::make_shared<unit::Unit>(unit);
  const auto picture = [&](const session::View& view, const std::string& place) {
    const Sights sights = sights_of(view);
    return as_text(panel(unit, place, sights, {})) + as_text(outside(unit, place, sights, {}));
  };
  const auto fresh = [&] {
    session::View view;
    view.unit = shared;
    for (const circuit::Terminal& t : circuit.terminals) {
      session::TerminalView terminal;
      terminal.name = t.name;
      view.terminals.push_back(terminal);
    }
    return view;
  };
  const auto spot_at = [&](circuit::TerminalId t) {
    const circuit::DeviceId device = circuit.terminals[t.slot()].device;
    return device.valid() ? unit.spot_of(device) : nullptr;
  };
  // Each at the place where it is done; every eighth drawn twice.
  std::map<std::string, std::string> seen;
  int count = 0;
  const auto check = [&](const std::string& what, const session::View& view,
                         const std::string& place) {
    const std::string text = picture(view, place);
    const auto [at, first] = seen.try_emplace(text, what);
    EXPECT_TRUE(first) << what << " is drawn as " << at->second;
    if (++count % 8 == 0) {
      EXPECT_EQ(text, picture(view, place)) << what;
    }
  };
  for (const unit::Place& place : unit.places) check("nothing", fresh(), place.id);
  for (const unit::Spot& spot : unit.spots) {
    const std::string& name = circuit.devices[spot.device.slot()].name;
    session::View view = fresh();
    view.instruments.locked.push_back(name);
    if (spot.in_panel) check("lock on " + name, view, spot.place);
  }
  for (const circuit::Wire& wire : circuit.wires) {
    for (const circuit::TerminalId end : {wire.from, wire.to}) {
      const unit::Spot* spot = spot_at(end);
      if (spot == nullptr || !spot->in_panel) continue;
      session::View view = fresh();
      view.instruments.lifted_ends.push_back({wire.name, circuit.terminals[end.slot()].name});
      check("lifted " + wire.name + " at " + circuit.terminals[end.slot()].name, view, spot->place);
    }
  }
  for (std::size_t i = 1; i < circuit.terminals.size(); ++i) {
    if (circuit.terminals[i].hidden || !circuit.terminals[i].device.valid()) continue;
    session::View view = fresh();
    view.terminals[i].proven_dead = true;
    const unit::Spot* spot = unit.spot_of(circuit.terminals[i].device);
    ASSERT_NE(spot, nullptr) << circuit.terminals[i].name;
    check("dead " + circuit.terminals[i].name, view, spot->place);
  }
  if (!unit.gauge_place.empty()) {
    session::View view = fresh();
    view.instruments.gauges_on = true;
    check("gauges", view, unit.gauge_place);
  }
  for (const unit::ProbePoint& probe : unit.probes) {
    session::View view = fresh();
    session::Tag tag;
    tag.function = "temp";
    tag.at = {probe.id};
    view.tags.push_back(tag);
    check("thermometer " + probe.id, view, probe.place);
  }
}

// Written as SVG the picture is whole: every element closed, every part by its name.
TEST_P(DrawnSite, IsWrittenAsSvg) {
  const unit::Unit unit = site_unit(GetParam());
  const Sights sights = all_seen(unit, 1);
  for (const unit::Place& place : unit.places) {
    const Scene scene = panel(unit, place.id, sights, {});
    const std::string svg = as_svg(scene, scene.name);
    const auto count = [&](const std::string& what) {
      std::size_t n = 0;
      for (std::size_t at = svg.find(what); at != std::string::npos; at = svg.find(what, at + 1))
        ++n;
      return n;
    };
    EXPECT_EQ(count("<g "), count("</g>"));
    EXPECT_EQ(svg.find("nan"), std::string::npos);
    for (const Target& target : scene.targets) {
      EXPECT_NE(svg.find("data-part=\"" + target.id + "\""), std::string::npos) << target.id;
    }
  }
}

INSTANTIATE_TEST_SUITE_P(Units, DrawnSite, testing::ValuesIn(site_units()), [](const auto& info) {
  std::string name = info.param;
  std::erase(name, '-');
  return name;
});

// Whoever adds a kind of device gets a labelled box for it; today's kinds have drawings.
TEST(SiteKinds, HaveDrawingsOrABox) {
  const std::vector<std::string_view> drawn = drawn_fronts();
  for (const circuit::Kind* kind : circuit::kinds()) {
    EXPECT_NE(std::find(drawn.begin(), drawn.end(), kind->front), drawn.end()) << kind->name;
    for (std::string_view rest = kind->positions; !rest.empty();) {
      const std::string_view one = rest.substr(0, rest.find('|'));
      rest.remove_prefix(std::min(rest.size(), one.size() + 1));
      bool known = false;
      for (int how = 0; how < static_cast<int>(How::count); ++how)
        known = known || name_of(static_cast<How>(how)) == one;
      EXPECT_TRUE(known) << kind->name << ": " << one;
    }
  }
  PartSight part;
  part.id = "XYZ";
  part.kind = "a kind of tomorrow";
  part.above = {"XYZ.1", "XYZ.2"};
  Scene scene;
  const SceneText text;
  draw_part(scene, part, {0, 0}, size_of(part, text), text);
  scene.extent = extent_of(scene, 4);
  EXPECT_EQ(faults_of(scene), "");
  EXPECT_EQ(scene.terminals.size(), 2U);
  EXPECT_TRUE(std::any_of(scene.labels.begin(), scene.labels.end(),
                          [](const Label& l) { return l.text == "a kind of tomorrow"; }));
  part.seen = true;
  part.how = How::hums;
  Scene seen;
  draw_part(seen, part, {0, 0}, size_of(part, text), text);
  EXPECT_NE(as_text(scene), as_text(seen)) << "its state stands there as a word";
}

// A look whose quantity has no drawing stands there in its own words, of a thing and of a part;
// what a hand felt too.
TEST(SiteKinds, WhatHasNoDrawingIsACaption) {
  unit::Unit unit = site_unit("wf-208");
  const auto add = [&](const std::string& target, const std::string& quantity) {
    unit::Look look;
    look.id = quantity;
    look.target = target;
    look.place = "roof";
    look.quantity = quantity;
    for (const char* words : {"It is as it should be.", "It is scorched and brittle."})
      look.states.push_back({{words, {}}, 0});
    unit.looks.push_back(look);
  };
  add("condenser", "condenser.lugs");
  add("CC", "CC.lug");
  add("a thing of tomorrow", "tomorrow");
  const SceneText text;
  for (std::size_t i = unit.looks.size() - 3; i < unit.looks.size(); ++i) {
    std::set<std::string> drawn;
    for (int state = 0; state < 2; ++state) {
      session::View view;
      view.unit = std::make_shared<unit::Unit>(unit);
      view.sights.push_back(sight_of(unit.looks[i], state));
      const Scene scene = outside(unit, "roof", sights_of(view), text);
      EXPECT_EQ(faults_of(scene), "") << unit.looks[i].id;
      drawn.insert(as_text(scene));
      EXPECT_TRUE(std::any_of(scene.labels.begin(), scene.labels.end(), [&](const Label& l) {
        return l.text.find(state == 0 ? "should be" : "scorched") != std::string::npos;
      })) << unit.looks[i].id;
    }
    EXPECT_EQ(drawn.size(), 2U) << unit.looks[i].id;
  }
  std::set<std::string> felt;
  for (const char* words : {"It turns freely.", "It turns stiffly."}) {
    session::View view;
    view.unit = std::make_shared<unit::Unit>(unit);
    session::SightView sight;
    sight.id = "spin CF1";
    sight.target = "CF1";
    sight.words = Name{words};
    view.sights.push_back(sight);
    felt.insert(as_text(outside(unit, "roof", sights_of(view), text)));
  }
  EXPECT_EQ(felt.size(), 2U);
}

// A rack: what has a number stands beside the others, with states of its own.
TEST(SiteKinds, SeveralOfAThingStandSideBySide) {
  EXPECT_EQ(numbered("coil 2.frost share").name, "coil.frost share");
  EXPECT_EQ(numbered("coil 2.frost share").number, 2);
  EXPECT_EQ(numbered("coil.3.frost share").name, "coil.frost share");
  EXPECT_EQ(numbered("coil.3.frost share").number, 3);
  EXPECT_EQ(numbered("shell.2").name, "shell");
  EXPECT_EQ(numbered("shell.2").number, 2);
  EXPECT_EQ(numbered("evaporator.fan 2").name, "evaporator.fan 2");
  EXPECT_EQ(numbered("evaporator.fan 2").number, 1);
  unit::Unit unit = site_unit("wf-208");
  const auto numbering = [](std::string name, int number) {
    const std::size_t dot = std::min(name.find('.'), name.size());
    return name.insert(dot, " " + std::to_string(number));
  };
  const std::vector<unit::Look> looks = unit.looks;
  for (const int number : {2, 3}) {
    for (unit::Look look : looks) {
      if (look.place != "box" || unit.circuit.find_device(look.target).valid()) continue;
      look.id += " " + std::to_string(number);
      look.target = numbering(look.target, number);
      look.quantity = numbering(look.quantity, number);
      unit.looks.push_back(look);
    }
  }
  const SceneText text;
  const Scene three = outside(unit, "box", nothing_seen(unit), text);
  EXPECT_EQ(faults_of(three), "");
  std::map<int, int> left;  // of the evaporators
  for (const Target& target : three.targets) {
    const Numbered it = numbered(target.id);
    if (it.name == "!evaporator") left[it.number] = target.box.left;
  }
  ASSERT_EQ(left.size(), 3U);
  EXPECT_LT(left[1], left[2]);
  EXPECT_LT(left[2], left[3]);
  std::set<std::string> drawn;
  for (const unit::Look& look : unit.looks) {
    if (numbered(look.quantity).name != "coil.frost share") continue;
    session::View view;
    view.unit = std::make_shared<unit::Unit>(unit);
    view.sights.push_back(sight_of(look, 1));
    drawn.insert(as_text(outside(unit, "box", sights_of(view), text)));
  }
  EXPECT_EQ(drawn.size(), 3U) << "each has its own frost";
}

// A replay shows at each minute what was seen by then, at glances too, and nothing that came later.
TEST(SiteReplay, ShowsTheMachineAsItWasSeenThen) {
  setenv("LEGWORK_DATA", (testing::TempDir() + "/legwork-site-replay").c_str(), 1);
  State state;
  state.home = LEGWORK_SOURCE_DIR;
  ASSERT_TRUE(open_ticket(state, "mb-004"));
  std::map<double, Sights> then;
  for (const char* line :
       {"go roof", "gloves on", "cover off roof", "let it run 5 min", "look CF1", "open DISC",
        "let it run 1 min", "close DISC", "let it run 5 min", "go box", "let it run 5 min"}) {
    give_step(state, line);
    const session::View& view = state.screens->on_site.view;
    then[view.minutes] = sights_of(view);
  }
  const session::View& view = state.screens->on_site.view;
  std::set<std::string> drawn;
  for (const auto& [minute, was] : then) {
    const Sights now = sights_at(view, minute);
    std::string a, b;
    for (const auto& [device, sight] : was.parts) a += device + " " + name_of(sight.how) + "\n";
    for (const auto& [device, sight] : now.parts) b += device + " " + name_of(sight.how) + "\n";
    EXPECT_EQ(a, b) << minute;
    ASSERT_EQ(was.looks.size(), now.looks.size());
    for (std::size_t i = 0; i < was.looks.size(); ++i)
      EXPECT_EQ(was.looks[i].state, now.looks[i].state) << minute << ' ' << view.unit->looks[i].id;
    drawn.insert(a);
  }
  EXPECT_GT(drawn.size(), 3U) << "something changed on the way";
  unsetenv("LEGWORK_DATA");
}

// Goods belong to the site.
TEST(SiteKinds, GoodsBelongToTheSite) {
  std::set<std::string> kinds;
  for (const char* site : {"bakery", "fish market", "packing shed", "school kitchen", "dairy depot",
                           "a place of tomorrow"}) {
    Scene scene;
    add_shape(scene, goods_of(site), {0, 0});
    const Box box = cover(scene.shapes.front());
    EXPECT_GE(box.left, 34) << site;
    EXPECT_LE(box.right, 138) << site;
    EXPECT_GE(box.top, -58) << site;
    EXPECT_LE(box.bottom, 2) << site;
    kinds.insert(goods_of(site));
  }
  EXPECT_EQ(kinds.size(), 6U);
}

// The check itself finds what it is for.
TEST(SiteChecks, FindWhatIsWrong) {
  Scene scene;
  scene.targets.push_back({"CC", {0, 0, 100, 100}});
  scene.labels.push_back({"CC", {50, 50}, Anchor::middle, Face::mono, 14, "CC"});
  scene.wires.push_back({"a", {{-20, -20}, {120, -20}}});
  EXPECT_EQ(faults_of(scene), "");
  Scene through = scene;
  through.wires[0].points[0].y = through.wires[0].points[1].y = 50;
  EXPECT_NE(faults_of(through), "");
  Scene doubled = scene;
  doubled.labels.push_back({"out", {54, 52}, Anchor::middle, Face::words, 12, "CC"});
  EXPECT_NE(faults_of(doubled), "");
  Scene wide = scene;
  wide.labels[0].text = "a very long name indeed";
  EXPECT_NE(faults_of(wide), "");
  Scene close = scene;
  close.terminals = {{"CC.1", {10, 10}}, {"CC.2", {20, 10}}};
  EXPECT_NE(faults_of(close), "");
}

// Pictures to be looked at: LEGWORK_LOOK names a folder.
TEST(SitePictures, AreWritten) {
  const char* folder = std::getenv("LEGWORK_LOOK");
  if (folder == nullptr) GTEST_SKIP() << "LEGWORK_LOOK is not set";
  const char* only = std::getenv("LEGWORK_LOOK_ONLY");
  State state;
  state.home = LEGWORK_SOURCE_DIR;
  Headless page(state, 1500, 1100);
  ASSERT_EQ(page.problem(), "");
  for (const std::string& name : site_units()) {
    const unit::Unit unit = site_unit(name);
    for (int k = -1; k < 3; ++k) {
      const Sights sights = k < 0 ? [&] {
        session::View view;
        view.unit = std::make_shared<unit::Unit>(unit);
        return sights_of(view);
      }()
                                  : all_seen(unit, k);
      for (const unit::Place& place : unit.places) {
        for (const bool inside : {true, false}) {
          const SceneText text;
          const Scene scene =
              inside ? panel(unit, place.id, sights, text) : outside(unit, place.id, sights, text);
          const std::string file =
              name + "-" + place.id + (inside ? "-panel" : "-outside") + std::to_string(k);
          if (scene.shapes.empty()) continue;
          if (only != nullptr && file.find(only) == std::string::npos) continue;
          SymbolSheetState& sheet = state.screens->symbol_sheet;
          state.screen = "symbols";
          sheet.language = state.settings.language;
          sheet.scene = scene;
          sheet.whole = true;
          sheet.columns = 6;
          page.settle();
          save_png(picture_of(state), std::string(folder) + "/" + file + ".png");
        }
      }
    }
  }
}

}  // namespace
}  // namespace legwork::gui
