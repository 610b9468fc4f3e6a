// The sheet kit: scenes as data, their text, their SVG, what the pointer is on. Tests gui/sheet.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "engine/base/catalogue.h"
#include "gui/screens/symbol_sheet.h"
#include "gui/sheet/draw.h"
#include "gui/sheet/pen.h"
#include "gui/sheet/scene.h"
#include "gui/sheet/svg.h"
#include "gui/sheet/symbols.h"
#include "tests/support/scene_text.h"

namespace legwork::gui {
namespace {

using testing::HasSubstr;

Scene coil_scene() {
  Scene scene{.name = "coil"};
  scene.wires.push_back({.id = "HPC.2>CC.A1", .points = {{0, 0}, {76, 0}}});
  scene.wires.push_back({.points = {{0, 40}, {60, 40}, {60, 60}}, .pen = Pen::tie});
  scene.symbols.push_back({.kind = "coil", .id = "CC", .at = {100, 0}});
  scene.joints.push_back({.at = {40, 0}, .id = "HPC.2>CC.A1"});
  scene.terminals.push_back({.id = "CC.A1", .at = {76, 0}});
  scene.terminals.push_back({.id = "TB.L1", .at = {0, 0}, .home = false});
  scene.labels.push_back({.text = "CC", .at = {100, 0}, .id = "CC"});
  scene.extent = extent_of(scene, 10);
  return scene;
}

TEST(Scene, AsText) {
  EXPECT_EQ(as_text(coil_scene()),
            "sheet \"coil\" -14 -26 to 134 70\n"
            "wire \"HPC.2>CC.A1\" control 0 0, 76 0\n"
            "wire \"\" tie 0 40, 60 40, 60 60\n"
            "symbol \"CC\" coil at 100 0 turn 0\n"
            "joint \"HPC.2>CC.A1\" at 40 0\n"
            "terminal \"CC.A1\" at 76 0\n"
            "terminal \"TB.L1\" at 0 0 reference\n"
            "label \"CC\" at 100 0 middle size 12\n");
}

// All that is in it moves by as much, to the side as well as down.
TEST(Scene, PutIntoAnotherItMovesWhole) {
  Scene piece = coil_scene();
  piece.targets.push_back({.id = "CC", .box = {1, 2, 31, 42}});
  add_shape(piece, "M 0 0 L 10 0 L 10 10 Z", {5, 6});
  constexpr Point kBy{100, 7};
  Scene all;
  add_scene(all, piece, kBy);
  const auto moved = [&](Point was, Point now) {
    EXPECT_EQ(now.x, was.x + kBy.x);
    EXPECT_EQ(now.y, was.y + kBy.y);
  };
  const auto each = [&](const auto& was, const auto& now) {
    ASSERT_EQ(was.size(), now.size());
    ASSERT_FALSE(was.empty());
    for (std::size_t i = 0; i < was.size(); ++i) moved(was[i].at, now[i].at);
  };
  each(piece.symbols, all.symbols);
  each(piece.joints, all.joints);
  each(piece.terminals, all.terminals);
  each(piece.labels, all.labels);
  each(piece.shapes, all.shapes);
  ASSERT_EQ(all.wires.size(), piece.wires.size());
  for (std::size_t i = 0; i < piece.wires.size(); ++i) {
    for (std::size_t k = 0; k < piece.wires[i].points.size(); ++k)
      moved(piece.wires[i].points[k], all.wires[i].points[k]);
  }
  ASSERT_EQ(all.targets.size(), 1U);
  const Box was = piece.targets[0].box, now = all.targets[0].box;
  moved({was.left, was.top}, {now.left, now.top});
  moved({was.right, was.bottom}, {now.right, now.bottom});
  const Box before = extent_of(piece, 0), after = extent_of(all, 0);
  moved({before.left, before.top}, {after.left, after.top});
  moved({before.right, before.bottom}, {after.right, after.bottom});
}

TEST(Scene, AsSvgEscapesNamesAndKeepsPatterns) {
  Scene scene = coil_scene();
  scene.wires[0].trace = Trace::leg_1;
  scene.labels[0].text = "a<b & \"c\"";
  const std::string svg = as_svg(scene, "CC > HPC");
  EXPECT_THAT(svg, HasSubstr("viewBox=\"-14 -26 148 96\""));
  EXPECT_THAT(svg, HasSubstr("<title>CC &gt; HPC</title>"));
  EXPECT_THAT(svg, HasSubstr("points=\"0,0 76,0\" stroke-width=\"1.5\" stroke=\"currentColor\" "
                             "stroke-dasharray=\"2 4\""));
  EXPECT_THAT(svg, HasSubstr(">a&lt;b &amp; &quot;c&quot;</text>"));
  EXPECT_EQ(svg.find("http://", svg.find("http://") + 1), std::string::npos)
      << "only the namespace";
}

TEST(Scene, PointerFindsTerminalsBeforeSymbolsBeforeWires) {
  const Scene scene = coil_scene();
  const Camera camera{.zoom = 2, .x = 10, .y = 100};
  const auto at = [&](float x, float y) {
    return hit(scene, camera, camera.screen_x(x), camera.screen_y(y));
  };
  EXPECT_EQ(at(78, 1), (Hit{Hit::What::terminal, "CC.A1"}));
  EXPECT_EQ(at(100, 5), (Hit{Hit::What::symbol, "CC"}));
  EXPECT_EQ(at(30, 2), (Hit{Hit::What::wire, "HPC.2>CC.A1"}));
  EXPECT_EQ(at(30, 40), Hit{}) << "a tie is nothing that a lead can touch";
  EXPECT_EQ(at(30, 9), Hit{});
}

TEST(Camera, ZoomKeepsThePointUnderThePointer) {
  Camera camera{.zoom = 1, .x = 30, .y = 50};
  const Point before = camera.on_sheet(200, 300);
  camera.zoom_at(2, 200, 300);
  EXPECT_FLOAT_EQ(camera.zoom, 2);
  EXPECT_EQ(camera.on_sheet(200, 300), before);
  camera.zoom_at(100, 200, 300);
  EXPECT_FLOAT_EQ(camera.zoom, 4) << "bounded";
}

TEST(Camera, FitShowsAll) {
  const Camera camera = fit({-100, -50, 300, 50}, {0, 0, 800, 600});
  EXPECT_FLOAT_EQ(camera.zoom, 1.5F);
  const Camera small = fit({-100, -50, 300, 50}, {0, 0, 200, 600});
  EXPECT_FLOAT_EQ(small.zoom, 0.5F);
  EXPECT_GE(small.screen_x(-100), 0);
  EXPECT_LE(small.screen_x(300), 200.5F);
}

TEST(Symbols, EveryPortStandsAtTheEndOfALine) {
  for (const SymbolKind& kind : symbol_kinds()) {
    for (const Port& port : kind.ports) {
      double nearest = 1e9;
      for (const Stroke& stroke : strokes_of(kind, 0)) {
        for (const PointF& p : stroke.points) {
          nearest = std::min(nearest, std::hypot(static_cast<double>(p.x) - port.at.x,
                                                 static_cast<double>(p.y) - port.at.y));
        }
      }
      EXPECT_LE(nearest, port.name.empty() && kind.name == "terminal" ? 4.01 : 0.01)
          << kind.name << " port " << port.name;
    }
  }
}

TEST(Symbols, NamesAreDistinctAndDrawingsToo) {
  std::set<std::string_view> names, drawings;
  for (const SymbolKind& kind : symbol_kinds()) {
    EXPECT_TRUE(names.insert(kind.name).second) << kind.name;
    EXPECT_TRUE(drawings.insert(kind.path).second) << kind.name << " is drawn like another";
    EXPECT_GT(strokes_of(kind, 0).size(), 0U) << kind.name;
    EXPECT_EQ(find_symbol(kind.name), &kind);
  }
  EXPECT_EQ(find_symbol("flux capacitor"), nullptr);
}

TEST(Symbols, FourQuarterTurnsAreNone) {
  const Symbol upright{.kind = "transformer", .at = {5, 7}};
  Symbol turned_once = upright;
  turned_once.turn = 1;
  EXPECT_EQ(port_at(upright, "H1"), (Point{-19, -13}));
  EXPECT_EQ(port_at(turned_once, "H1"), (Point{25, -17}));
  for (int turn = 0; turn < 4; ++turn) {
    Point p = turned({3, 4}, turn);
    EXPECT_EQ(turned(p, 4 - turn), (Point{3, 4}));
  }
  const Box lying = cover(Symbol{.kind = "fuse"}),
            standing = cover(Symbol{.kind = "fuse", .turn = 1});
  EXPECT_EQ(lying.right - lying.left, standing.bottom - standing.top);
}

TEST(Legend, NothingOverlaps) {
  for (const Language& language : languages()) {
    const Scene scene = symbol_scene(speech_of(language.tag));
    std::vector<std::pair<std::string, Box>> boxes;
    for (const Symbol& symbol : scene.symbols) boxes.emplace_back(symbol.id, cover(symbol));
    for (const Label& label : scene.labels) boxes.emplace_back(label.text, cover(label));
    for (std::size_t i = 0; i < boxes.size(); ++i) {
      for (std::size_t j = i + 1; j < boxes.size(); ++j) {
        EXPECT_FALSE(boxes[i].second.overlaps(boxes[j].second))
            << boxes[i].first << " and " << boxes[j].first;
      }
    }
  }
}

TEST(Pens, TracesDifferByPatternNotByColour) {
  std::set<std::string> patterns;
  for (const Trace trace : {Trace::leg_1, Trace::leg_2, Trace::leg_3, Trace::neutral, Trace::earth,
                            Trace::floating, Trace::back_fed, Trace::dead}) {
    std::string pattern = std::to_string(static_cast<int>(stroking_of(trace)));
    for (const float length : dashes_of(Pen::control, trace))
      pattern += " " + std::to_string(length);
    EXPECT_TRUE(patterns.insert(pattern).second) << words_of(trace);
  }
}

}  // namespace
}  // namespace legwork::gui
