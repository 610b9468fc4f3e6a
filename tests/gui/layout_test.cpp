// The generated sheets of every unit: nothing overlaps, no wire runs through a symbol or a name or
// along another, every terminal has one home and can be hit. Tests gui/sheet/ladder*, piping.

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include "engine/base/catalogue.h"
#include "gui/sheet/draw.h"
#include "gui/sheet/ladder.h"
#include "gui/sheet/piping.h"
#include "gui/sheet/scene.h"
#include "gui/sheet/symbols.h"

namespace legwork::gui {
namespace {

// The door's sheet on the smallest window, 1280 x 720.
constexpr Place kSmallSheet{0, 0, 560, 400};

std::vector<std::string> unit_names() {
  std::vector<std::string> names;
  for (const auto& entry :
       std::filesystem::directory_iterator(std::string(LEGWORK_SOURCE_DIR) + "/circuits")) {
    if (entry.path().extension() == ".yaml") names.push_back(entry.path().stem().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

unit::Unit unit_of(const std::string& name) {
  Diagnostics found;
  const std::string home = LEGWORK_SOURCE_DIR;
  auto unit = unit::load_file(home + "/circuits/" + name + ".yaml", home + "/assets", found);
  EXPECT_TRUE(unit) << found.text();
  return *unit;
}

struct Cover {
  std::string what;
  Box box;
};

// A stretch that enters a box by more than a unit. Stretches slant only in the tests below.
bool enters(Point a, Point b, const Box& box) {
  const Box core{box.left + 1, box.top + 1, box.right - 1, box.bottom - 1};
  constexpr int kSteps = 400;
  for (int i = 0; i <= kSteps; ++i) {
    const double x = a.x + (b.x - a.x) * i / static_cast<double>(kSteps);
    const double y = a.y + (b.y - a.y) * i / static_cast<double>(kSteps);
    if (x > core.left && x < core.right && y > core.top && y < core.bottom) return true;
  }
  return false;
}

// A stroke of the symbol runs through the box: points are written close to leads, names inside.
bool touches(const Symbol& symbol, const Box& box) {
  for (const Stroke& stroke : strokes_of(*find_symbol(symbol.kind), symbol.turn)) {
    for (std::size_t i = 0; i < stroke.points.size(); ++i) {
      if (i + 1 == stroke.points.size() && !stroke.closed) break;
      const auto on = [&](const PointF& p) {
        return Point{symbol.at.x + static_cast<int>(std::lround(p.x)),
                     symbol.at.y + static_cast<int>(std::lround(p.y))};
      };
      if (enters(on(stroke.points[i]), on(stroke.points[(i + 1) % stroke.points.size()]), box)) {
        return true;
      }
    }
  }
  return false;
}

// Two stretches on one line that share more than a point.
bool along(Point a, Point b, Point c, Point d) {
  const auto share = [](int p, int q, int r, int s) {
    return std::min(std::max(p, q), std::max(r, s)) - std::max(std::min(p, q), std::min(r, s)) > 0;
  };
  if (a.x == b.x && c.x == d.x && a.x == c.x) return share(a.y, b.y, c.y, d.y);
  if (a.y == b.y && c.y == d.y && a.y == c.y) return share(a.x, b.x, c.x, d.x);
  return false;
}

std::string at(Point p) { return " at " + std::to_string(p.x) + " " + std::to_string(p.y); }

// Everything wrong with how a sheet is laid out, in words.
std::vector<std::string> overlaps(const Scene& scene) {
  std::vector<std::string> found;
  std::vector<Cover> symbols, labels;
  for (const Symbol& s : scene.symbols) {
    symbols.push_back({"symbol " + s.id + " " + s.kind + at(s.at), cover(s)});
  }
  for (const Label& l : scene.labels) labels.push_back({"label " + l.text + at(l.at), cover(l)});
  for (std::size_t i = 0; i < symbols.size(); ++i) {
    for (std::size_t j = i + 1; j < symbols.size(); ++j) {
      if (symbols[i].box.overlaps(symbols[j].box)) {
        found.push_back(symbols[i].what + " lies on " + symbols[j].what);
      }
    }
    for (const Cover& label : labels) {
      if (symbols[i].box.overlaps(label.box) && touches(scene.symbols[i], label.box)) {
        found.push_back(label.what + " lies on " + symbols[i].what);
      }
    }
  }
  for (std::size_t i = 0; i < labels.size(); ++i) {
    for (std::size_t j = i + 1; j < labels.size(); ++j) {
      if (labels[i].box.overlaps(labels[j].box)) {
        found.push_back(labels[i].what + " lies on " + labels[j].what);
      }
    }
    for (const Terminal& t : scene.terminals) {
      const int r = t.screw ? 7 : 4;
      if (labels[i].box.overlaps({t.at.x - r, t.at.y - r, t.at.x + r, t.at.y + r})) {
        found.push_back(labels[i].what + " lies on terminal " + t.id);
      }
    }
  }
  for (const Wire& wire : scene.wires) {
    for (std::size_t n = 0; n + 1 < wire.points.size(); ++n) {
      for (const std::vector<Cover>* list : {&symbols, &labels}) {
        for (const Cover& cover : *list) {
          if (enters(wire.points[n], wire.points[n + 1], cover.box)) {
            found.push_back("wire " + wire.id + at(wire.points[n]) + " runs through " + cover.what);
          }
        }
      }
    }
  }
  return found;
}

// Wires of different conductors that run on one another. `same` maps a wire's id to its conductor.
std::vector<std::string> merged(const Scene& scene, const std::map<std::string, int>& same) {
  std::vector<std::string> found;
  for (std::size_t i = 0; i < scene.wires.size(); ++i) {
    for (std::size_t j = i + 1; j < scene.wires.size(); ++j) {
      const Wire& a = scene.wires[i];
      const Wire& b = scene.wires[j];
      if (a.id.empty() || b.id.empty() || same.at(a.id) == same.at(b.id)) continue;
      for (std::size_t m = 0; m + 1 < a.points.size(); ++m) {
        for (std::size_t n = 0; n + 1 < b.points.size(); ++n) {
          if (along(a.points[m], a.points[m + 1], b.points[n], b.points[n + 1])) {
            found.push_back("wires " + a.id + " and " + b.id + " run on one another" +
                            at(a.points[m]));
          }
        }
      }
    }
  }
  return found;
}

// Each has one home and no more; whatever else carries its name is a reference to it.
std::vector<std::string> homes(const Scene& scene, const std::vector<std::string>& wanted) {
  std::map<std::string, int> count;
  for (const Terminal& t : scene.terminals) count[t.id] += t.home;
  std::vector<std::string> found;
  for (const std::string& id : wanted) {
    const auto it = count.find(id);
    if (it == count.end()) {
      found.push_back(id + " is not there");
    } else if (it->second != 1) {
      found.push_back(id + " has " + std::to_string(it->second) + " homes");
    }
  }
  for (const auto& [id, homes_of_it] : count) {
    if (std::find(wanted.begin(), wanted.end(), id) == wanted.end()) {
      found.push_back(id + " is no terminal of the unit");
    }
  }
  return found;
}

// 12 pixels round every appearance of a terminal are its own, with the sheet fitted and one step
// nearer.
std::vector<std::string> missed(const Scene& scene, const Box& shown, Place area) {
  Camera camera = fit(shown, area);
  camera.zoom_at(kZoomStep, area.middle_x(), area.middle_y());
  // A large machine's sheet is opened near enough to read, not whole.
  constexpr float kNear = 0.45F;
  if (camera.zoom < kNear) camera.zoom_at(kNear / camera.zoom, area.middle_x(), area.middle_y());
  std::vector<std::string> found;
  for (const Terminal& t : scene.terminals) {
    const float x = camera.screen_x(static_cast<float>(t.at.x));
    const float y = camera.screen_y(static_cast<float>(t.at.y));
    for (int i = 0; i < 8; ++i) {
      const float angle = static_cast<float>(i) * 0.785398F;
      const Hit there = hit(scene, camera, x + 5.9F * std::cos(angle), y + 5.9F * std::sin(angle));
      if (there.what != Hit::What::terminal || there.id != t.id) {
        found.push_back(t.id + at(t.at) + " is hit as '" + there.id + "', zoom " +
                        std::to_string(camera.zoom));
        break;
      }
    }
  }
  return found;
}

std::string text(const std::vector<std::string>& list) {
  std::string all;
  for (const std::string& line : list) all += line + "\n";
  return all;
}

std::vector<std::string> terminals_of(const unit::Unit& unit, bool with_supply) {
  std::vector<std::string> names;
  for (const circuit::Terminal& t : unit.circuit.terminals) {
    const bool ground = t.name == "GND";
    if (!t.hidden && !ground && (with_supply || t.device.valid())) names.push_back(t.name);
  }
  return names;
}

// What carries each wire's id, numbered by conductor.
std::map<std::string, int> conductors_of(const circuit::Circuit& circuit) {
  const std::vector<int> number = conductor_numbers(circuit);
  std::map<std::string, int> same;
  for (std::size_t i = 0; i < number.size(); ++i) same[circuit.terminals[i].name] = number[i];
  for (const circuit::Wire& wire : circuit.wires) same[wire.name] = number[wire.from.slot()];
  return same;
}

class Layout : public testing::TestWithParam<std::string> {};

TEST_P(Layout, LadderIsClear) {
  const unit::Unit unit = unit_of(GetParam());
  for (const auto& [language, native] : languages()) {
    for (const double shape : {0.7, 1.3, 2.0}) {
      const Scene scene = ladder(unit, {.shape = shape, .speech = speech_of(language)});
      EXPECT_EQ(text(overlaps(scene)), "") << language << ' ' << shape;
      EXPECT_EQ(text(merged(scene, conductors_of(unit.circuit))), "") << shape;
      std::vector<std::string> wanted = terminals_of(unit, true);
      if (std::any_of(scene.terminals.begin(), scene.terminals.end(),
                      [](const Terminal& t) { return t.id == "GND"; })) {
        wanted.emplace_back("GND");
      }
      EXPECT_EQ(text(homes(scene, wanted)), "") << shape;
    }
  }
}

TEST_P(Layout, EveryTerminalOfTheLadderCanBeHit) {
  const unit::Unit unit = unit_of(GetParam());
  const double shape =
      (kSmallSheet.right - kSmallSheet.left) / (kSmallSheet.bottom - kSmallSheet.top);
  const Scene scene = ladder(unit, {.shape = shape, .speech = {}});
  EXPECT_EQ(text(missed(scene, scene.extent, kSmallSheet)), "");
}

TEST_P(Layout, PipingIsClear) {
  const unit::Unit unit = unit_of(GetParam());
  std::vector<std::string> wanted;
  for (const unit::ProbePoint& probe : unit.probes) wanted.push_back("@" + probe.id);
  if (!unit.gauge_place.empty()) wanted.insert(wanted.end(), {"@low", "@high"});
  for (const auto& [language, native] : languages()) {
    const Scene scene = piping(unit, speech_of(language));
    EXPECT_EQ(text(overlaps(scene)), "") << language;
    EXPECT_EQ(text(homes(scene, wanted)), "") << language;
    EXPECT_EQ(text(missed(scene, scene.extent, kSmallSheet)), "") << language;
  }
}

// Every contact of a coil says its line, and the coil lists the lines of its contacts.
TEST_P(Layout, CoilsAndContactsRefer) {
  const unit::Unit unit = unit_of(GetParam());
  const Scene scene = ladder(unit, {});
  std::map<std::string, int> coils, contacts, references;
  for (const Symbol& symbol : scene.symbols) {
    if (symbol.id.empty()) continue;
    coils[symbol.id] += symbol.kind == "coil";
    contacts[symbol.id] += symbol.kind.starts_with("contact ") || symbol.kind == "main pole";
  }
  for (const Label& label : scene.labels) {
    if (label.text.find_first_not_of("0123456789, ()") == std::string::npos && !label.id.empty()) {
      ++references[label.id];
    }
  }
  for (const auto& [device, count] : coils) {
    if (count > 0 && contacts[device] > 0) {
      EXPECT_GE(references[device], 2) << device;
    }
  }
}

INSTANTIATE_TEST_SUITE_P(Units, Layout, testing::ValuesIn(unit_names()), [](const auto& info) {
  std::string name = info.param;
  std::erase(name, '-');
  return name;
});

// The checks themselves: each finds what it is for.
TEST(LayoutChecks, FindWhatIsWrong) {
  Scene scene;
  scene.symbols.push_back({"coil", "CC", {100, 0}});
  scene.wires.push_back({"a", {{0, 0}, {76, 0}}});
  scene.terminals.push_back({"CC.A1", {76, 0}});
  scene.labels.push_back({"CC", {100, 0}, Anchor::middle, Face::mono, 12, "CC"});
  EXPECT_EQ(text(overlaps(scene)), "");
  EXPECT_EQ(text(homes(scene, {"CC.A1"})), "");
  EXPECT_EQ(text(missed(scene, {0, -50, 200, 50}, kSmallSheet)), "");

  Scene through = scene;
  through.wires[0].points[1] = {140, 0};
  EXPECT_EQ(overlaps(through).size(), 2U) << "through the symbol and its name";
  Scene doubled = scene;
  doubled.symbols.push_back({"coil", "CR", {120, 10}});
  EXPECT_EQ(overlaps(doubled).size(), 2U) << "on the symbol, and on its name";
  Scene named = scene;
  named.labels.push_back({"76", {80, 4}});
  EXPECT_EQ(overlaps(named).size(), 3U) << "on the symbol, the terminal and the wire";
  Scene beside = scene;
  beside.wires.push_back({"b", {{40, 0}, {60, 0}}});
  EXPECT_EQ(merged(beside, {{"a", 1}, {"b", 2}}).size(), 1U);
  EXPECT_EQ(merged(beside, {{"a", 1}, {"b", 1}}).size(), 0U);
  Scene crossed = scene;
  crossed.wires.push_back({"b", {{40, -20}, {40, 20}}});
  EXPECT_EQ(merged(crossed, {{"a", 1}, {"b", 2}}).size(), 0U) << "a crossing is no joint";

  Scene twice = scene;
  twice.terminals.push_back({"CC.A1", {0, 0}});
  EXPECT_EQ(homes(twice, {"CC.A1"}).size(), 1U);
  twice.terminals[1].home = false;
  EXPECT_EQ(homes(twice, {"CC.A1"}).size(), 0U);
  EXPECT_EQ(homes(scene, {"CC.A1", "CC.A2"}).size(), 1U);
  EXPECT_EQ(homes(scene, {}).size(), 1U);

  Scene near = scene;
  near.terminals.push_back({"CC.A2", {79, 0}});
  EXPECT_EQ(missed(near, {0, -50, 200, 50}, kSmallSheet).size(), 2U);
}

}  // namespace
}  // namespace legwork::gui
