#include "gui/sheet/panel.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <vector>

#include "gui/sheet/conductors.h"
#include "gui/sheet/ladder.h"
#include "gui/sheet/ladder_rows.h"

namespace legwork::gui {
namespace {

using circuit::Circuit;
using circuit::DeviceId;
using circuit::TerminalId;
using fmt::format;

constexpr int kSleeveType = 12;
constexpr double kHeavyCopper = 3.5e-6;  // m²: thicker than 12 AWG is drawn as a power conductor

std::vector<const unit::Spot*> spots_of(const unit::Unit& unit, const std::string& place) {
  std::vector<const unit::Spot*> spots;
  for (const unit::Spot& spot : unit.spots) {
    if (spot.place == place && spot.in_panel) spots.push_back(&spot);
  }
  std::stable_sort(spots.begin(), spots.end(), [](const auto* a, const auto* b) {
    return a->row != b->row ? a->row < b->row : a->column < b->column;
  });
  return spots;
}

class Panel {
 public:
  Panel(const unit::Unit& unit, const std::string& place, const Sights& sights,
        const SceneText& text)
      : unit_(unit), circuit_(unit.circuit), place_(place), sights_(sights), text_(text) {}

  Scene make() {
    scene_.name = unit_.id + " panel " + place_;
    seat_parts();
    if (bench_.rows.empty()) return std::move(scene_);
    find_runs();
    lay(bench_, runs_);
    draw_plate();
    draw_conductors();
    for (std::size_t i = 0; i < parts_.size(); ++i) {
      const auto [row, slot] = seat_[i];
      draw_part(scene_, parts_[i], slot_at(row, slot).at, sizes_[i], text_);
    }
    draw_exits();
    draw_jumpers();
    draw_cover();
    scene_.extent = extent_of(scene_, 10);
    prepare(scene_);
    return std::move(scene_);
  }

 private:
  Bench::Slot& slot_at(int row, int slot) {
    return bench_.rows[static_cast<std::size_t>(row)][static_cast<std::size_t>(slot)];
  }

  void seat_parts() {
    int last = -1;
    for (const unit::Spot* spot : spots_of(unit_, place_)) {
      if (bench_.rows.empty() || spot->row != last) bench_.rows.emplace_back();
      last = spot->row;
      parts_.push_back(part_of(unit_, spot->device, sights_, text_));
      sizes_.push_back(size_of(parts_.back(), text_));
      const int row = static_cast<int>(bench_.rows.size()) - 1;
      const int slot = static_cast<int>(bench_.rows.back().size());
      seat_.push_back({row, slot});
      bench_.rows.back().push_back({parts_.back().id, sizes_.back().wide, sizes_.back().high});
      const std::vector<Point> screws = screws_of(parts_.back(), sizes_.back());
      std::size_t n = 0;
      for (const auto* list : {&parts_.back().above, &parts_.back().below}) {
        for (const std::string& id : *list) {
          ends_[id] = {row, slot, screws[n++].x, list == &parts_.back().below};
          both_[id] = parts_.back().both;
        }
      }
    }
  }

  // Where a conductor goes that has its other end elsewhere.
  struct Exit {
    bool top = false;
    std::string words;
    std::vector<std::string> names;
    int left = 1 << 20, right = 0;
  };
  std::string exit_of(TerminalId t) {
    const DeviceId device = circuit_.terminals[t.slot()].device;
    const unit::Spot* spot = device.valid() ? unit_.spot_of(device) : nullptr;
    std::string key = "supply";
    Exit exit{true, text_.word_of("scene.supply"), {}};
    if (t == circuit::kGround) {
      key = "earth";
      exit = {false, text_.word_of("scene.earth"), {}};
    } else if (spot != nullptr && spot->place == place_) {
      key = "here";
      exit = {false, "", {}};
    } else if (spot != nullptr) {
      key = "to " + spot->place;
      exit = {true,
              render(say_in("on a drawing", "to {place}", {{"place", Term{spot->place}}}),
                     text_.speech),
              {}};
    }
    Exit& kept = exits_.try_emplace(key, exit).first->second;
    if (key == "here") {
      const std::string& name = circuit_.devices[device.slot()].name;
      if (std::find(kept.names.begin(), kept.names.end(), name) == kept.names.end())
        kept.names.push_back(name);
    }
    return key;
  }

  void find_runs() {
    const std::vector<int> numbers = conductor_numbers(circuit_);
    const int rows = static_cast<int>(bench_.rows.size());
    for (const circuit::Wire& wire : circuit_.wires) {
      const std::string& from = circuit_.terminals[wire.from.slot()].name;
      const std::string& to = circuit_.terminals[wire.to.slot()].name;
      const bool has_from = ends_.contains(from), has_to = ends_.contains(to);
      if (!has_from && !has_to) continue;
      Run run{wire.name, {}, {}, {}};
      std::string out;
      if (has_from) run.from = ends_[from];
      if (has_to) run.to = ends_[to];
      // A strip is entered from whichever side is nearer.
      if (has_from && both_[from])
        run.from.below =
            has_to ? run.to.row > run.from.row || (run.to.row == run.from.row && run.to.below)
                   : false;
      if (has_to && both_[to])
        run.to.below =
            has_from ? run.from.row > run.to.row || (run.from.row == run.to.row && run.from.below)
                     : false;
      if (!has_from || !has_to) {
        out = exit_of(has_from ? wire.to : wire.from);
        const Run::End& inner = has_from ? run.from : run.to;
        Run::End& outer = has_from ? run.to : run.from;
        outer.row = exits_[out].top ? -1 : rows;
        // Those of one way out stand together, in the order of their screws.
        outer.x = wish(out, inner);
        if (has_from ? both_[from] : both_[to])
          (has_from ? run.from : run.to).below = !exits_[out].top;
      }
      runs_.push_back(std::move(run));
      way_out_.push_back(out);
      number_.push_back(numbers[wire.from.slot()]);
      heavy_.push_back(wire.spec.copper_m2 > kHeavyCopper);
    }
  }

  int wish(const std::string& exit, const Run::End& inner) {
    int x = 0;
    const auto& row = bench_.rows[static_cast<std::size_t>(inner.row)];
    for (int i = 0; i < inner.slot; ++i) x += row[static_cast<std::size_t>(i)].wide + 30;
    x += 24 + inner.x;
    if (exit == "earth") return 36;
    // Ways out keep apart: what comes in at the left, what leaves at the right of its edge.
    if (exit == "supply") return 60 + x / 20;
    if (exit == "here") return 120 + x / 2;
    return 420 + x / 8;
  }

  void draw_plate() {
    const Box plate = plate_box();
    add_shape(scene_, format("R {} {} {} {}", plate.left, plate.top, plate.right, plate.bottom),
              {0, 0}, Fill::plate, Weight::thick, Layer::ground);
  }
  Box plate_box() const {
    return {-kPlateMargin, -kPlateMargin, bench_.wide + kPlateMargin, bench_.high + kPlateMargin};
  }

  void sleeve(const Run& run, int number, Point at) {
    scene_.labels.push_back({std::to_string(number), at, Anchor::middle, Face::mono, kSleeveType,
                             run.id, false, false, true});
  }

  // An end that was lifted hangs beside its screw with its lug in the air.
  void lift(Run& run, bool at_from) {
    const std::size_t last = run.points.size() - 1;
    Point& end = run.points[at_from ? 0 : last];
    const Point before = run.points[at_from ? 1 : last - 1];
    const int away = before.y > end.y ? 1 : -1;
    end = {before.x, end.y + away * 20};
    add_shape(scene_, "C 0 0 7 C 0 0 3", {end.x, end.y - away * 7}, Fill::paper, Weight::heavy,
              Layer::parts, run.id);
    scene_.labels.push_back({text_.word_of("seen.lifted"),
                             {end.x + 14, end.y - away * 8},
                             Anchor::left,
                             Face::words,
                             12,
                             run.id,
                             false,
                             false,
                             false,
                             true});
  }

  void draw_conductors() {
    std::map<std::pair<int, int>, int> written;  // a number once at a screw
    for (std::size_t i = 0; i < runs_.size(); ++i) {
      Run& run = runs_[i];
      const auto end_off = sights_.lifted.find(run.id);
      const bool lifted = end_off != sights_.lifted.end();
      const circuit::WireId id = circuit_.find_wire(run.id);
      const bool at_from =
          lifted &&
          circuit_.terminals[circuit_.wires[id.slot()].from.slot()].name == end_off->second;
      if (lifted) lift(run, at_from);
      Wire wire{run.id, run.points, heavy_[i] ? Pen::power : Pen::control};
      wire.routed = true;
      wire.bundled = bench_.bundled;
      scene_.wires.push_back(std::move(wire));
      const std::size_t last = run.points.size() - 1;
      for (const bool first : {true, false}) {
        if (lifted && first == at_from) continue;
        const Point end = run.points[first ? 0 : last], next = run.points[first ? 1 : last - 1];
        const int away = next.y > end.y ? 1 : -1;
        // The metal's own screw stands at the end of its conductor.
        const bool earth = way_out_[i] == "earth" && end.y > bench_.high;
        const Point at{end.x, end.y + away * (earth ? 24 : 13)};
        if (written[{at.x, at.y}]++ == 0) sleeve(run, number_[i], at);
      }
    }
  }

  void draw_exits() {
    for (std::size_t i = 0; i < runs_.size(); ++i) {
      if (way_out_[i].empty()) continue;
      Exit& exit = exits_[way_out_[i]];
      const int rows = static_cast<int>(bench_.rows.size());
      const bool from = runs_[i].from.row < 0 || runs_[i].from.row >= rows;
      const int x = (from ? runs_[i].from : runs_[i].to).x;
      exit.left = std::min(exit.left, x);
      exit.right = std::max(exit.right, x);
    }
    // What their words must not lie on: the cover, the ways out, other words.
    std::vector<Box> taken = {
        {bench_.wide - 76, -kPlateMargin - 50, bench_.wide + 14, -kPlateMargin - 26}};
    for (const auto& [key, exit] : exits_) {
      const int edge = exit.top ? -kPlateMargin : bench_.high + kPlateMargin;
      taken.push_back({exit.left - 16, edge - 16, exit.right + 16, edge + 16});
    }
    for (const auto& [key, exit] : exits_) {
      const int edge = exit.top ? -kPlateMargin : bench_.high + kPlateMargin;
      std::string words = exit.words;
      for (const std::string& name : exit.names) words += (words.empty() ? "" : ", ") + name;
      if (key == "here")
        words =
            render(say_in("on a drawing", "to {place}", {{"place", Name{words}}}), text_.speech);
      if (key == "earth") {
        // The metal of the panel itself: a screw of its own.
        add_shape(scene_, "M 0 -14 L 0 0 M -12 0 L 12 0 M -8 5 L 8 5 M -4 10 L 4 10",
                  {exit.left, edge + 22}, Fill::none, Weight::plain, Layer::parts);
        continue;
      }
      add_shape(scene_,
                format("R {} {} {} {}", exit.left - 16, exit.top ? -16 : 0, exit.right + 16,
                       exit.top ? 0 : 16),
                {0, edge}, Fill::paper, Weight::plain, Layer::parts);
      Label label{words,        {exit.right + 24, edge + (exit.top ? -10 : 10)},
                  Anchor::left, Face::words,
                  12,           "",
                  false,        true};
      constexpr int kMostLines = 12, kLine = 16;
      for (int line = 0; line < kMostLines; ++line) {
        const Box box = cover(label);
        if (std::none_of(taken.begin(), taken.end(),
                         [&](const Box& other) { return other.overlaps(box); }))
          break;
        label.at.y += exit.top ? -kLine : kLine;
      }
      taken.push_back(cover(label));
      scene_.labels.push_back(std::move(label));
    }
    // The frame can be measured to, wired or not.
    const int x = exits_.contains("earth") ? exits_["earth"].left : 15;
    scene_.terminals.push_back({"GND", {x, bench_.high + kPlateMargin}, true, true});
  }

  // The cover leans at the edge, to be put back.
  void draw_cover() {
    const Point at{bench_.wide - 76, -kPlateMargin - 50};  // over the ways out
    add_shape(scene_, "R 0 0 90 24 C 8 12 3 C 82 12 3", at, Fill::paper, Weight::plain,
              Layer::parts, "!cover");
    scene_.labels.push_back({text_.word_of("scene.cover off"),
                             {at.x + 45, at.y + 12},
                             Anchor::middle,
                             Face::words,
                             12,
                             "!cover"});
    scene_.targets.push_back({"!cover", {at.x, at.y, at.x + 90, at.y + 24}});
  }

  void draw_jumpers() {
    const auto at = [&](const std::string& id) -> const Terminal* {
      for (const Terminal& t : scene_.terminals) {
        if (t.id == id && t.home) return &t;
      }
      return nullptr;
    };
    for (const auto& [a, b] : sights_.jumpers) {
      const Terminal *from = at(a), *to = at(b);
      if (from == nullptr || to == nullptr) continue;
      const Point p = from->at, q = to->at;
      const int x = (q.x - p.x) / 2, y = (q.y - p.y) / 2 - 70;
      const std::string id = "jumper " + a + " " + b;
      add_shape(scene_, format("M 0 0 Q {} {} {} {}", x, y, q.x - p.x, q.y - p.y), p, Fill::none,
                Weight::thick, Layer::over, id)
          .dashed = true;
      for (const Point end : {p, q})
        add_shape(scene_, "R -5 -13 5 1", end, Fill::ink, Weight::plain, Layer::over, id);
    }
  }

  const unit::Unit& unit_;
  const Circuit& circuit_;
  const std::string& place_;
  const Sights& sights_;
  const SceneText& text_;
  Scene scene_;
  Bench bench_;
  std::vector<PartSight> parts_;
  std::vector<PartSize> sizes_;
  std::vector<std::pair<int, int>> seat_;
  std::map<std::string, Run::End> ends_;
  std::map<std::string, bool> both_;
  std::vector<Run> runs_;
  std::vector<std::string> way_out_;  // of each run; empty: it stays within
  std::vector<int> number_;
  std::vector<bool> heavy_;
  std::map<std::string, Exit> exits_;
};

}  // namespace

bool has_panel(const unit::Unit& unit, const std::string& place) {
  return !spots_of(unit, place).empty();
}

Scene panel(const unit::Unit& unit, const std::string& place, const Sights& sights,
            const SceneText& text) {
  return Panel(unit, place, sights, text).make();
}

Scene panel_cover(const unit::Unit& unit, const std::string& place, const SceneText& text) {
  Scene scene;
  scene.name = unit.id + " panel " + place + ", cover on";
  if (!has_panel(unit, place)) return scene;
  constexpr int kWide = 300, kHigh = 420;
  add_shape(scene, format("R 0 0 {} {}", kWide, kHigh), {0, 0}, Fill::paper, Weight::thick);
  add_shape(scene, format("R 10 10 {} {}", kWide - 10, kHigh - 10), {0, 0}, Fill::none,
            Weight::hair);
  for (const Point at : {Point{26, 26}, Point{kWide - 26, 26}, Point{26, kHigh - 26},
                         Point{kWide - 26, kHigh - 26}}) {
    add_shape(scene, "C 0 0 8 M -5 4 L 5 -4", at, Fill::paper, Weight::plain);
  }
  scene.targets.push_back({"!cover", {0, 0, kWide, kHigh}});
  scene.labels.push_back({text.word_of("scene.cover on"),
                          {kWide / 2, kHigh / 2 - 12},
                          Anchor::middle,
                          Face::words,
                          20,
                          "!cover",
                          true});
  scene.extent = extent_of(scene, 12);
  prepare(scene);
  return scene;
}

}  // namespace legwork::gui
