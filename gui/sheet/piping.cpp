#include "gui/sheet/piping.h"

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include "engine/plant/plant.h"
#include "gui/sheet/legend.h"
#include "gui/sheet/symbols.h"

namespace legwork::gui {
namespace {

constexpr int kLiquid = 150;   // height of the liquid line on the sheet
constexpr int kSuction = 560;  // and of the suction line
constexpr int kDischarge = 340;
constexpr int kPitch = 180;           // between what is in the liquid line
constexpr int kFirstPart = 440;       // the first of them
constexpr int kNextCompressor = 270;  // from one to the next, down
constexpr int kNextCoil = 560;        // to the right
constexpr int kTypePiping = 16;
constexpr int kLine = 20;
constexpr int kLetters = 16;  // of a point's name in a line

class Piping {
 public:
  Piping(const unit::Unit& unit, const Speech& speech) : unit_(unit), speech_(speech) {}

  Scene make() {
    scene_.name = unit_.id + " piping";
    high_side();
    liquid_line();
    low_side();
    points();
    scene_.extent = extent_of(scene_, 28);
    return std::move(scene_);
  }

 private:
  void symbol(const char* kind, Point at, int turn = 0) {
    scene_.symbols.push_back({kind, "", at, turn, Pen::pipe});
  }
  void name(const Phrase& text, Point at, Anchor anchor = Anchor::middle) {
    scene_.labels.push_back(
        {render(text, speech_), at, anchor, Face::words, kTypePiping, "", true});
  }
  void pipe(std::vector<Point> points) {
    scene_.wires.push_back({"", std::move(points), Pen::pipe});
  }
  void leader(Point from, Point to) { scene_.wires.push_back({"", {from, to}, Pen::frame}); }

  bool has_valve() const {
    return std::any_of(unit_.circuit.loads.begin(), unit_.circuit.loads.end(),
                       [](const auto& load) { return load.kind == circuit::LoadKind::valve; });
  }
  bool has_glass() const {
    return std::any_of(unit_.looks.begin(), unit_.looks.end(),
                       [](const auto& look) { return look.target == "sight glass"; });
  }

  void high_side() {
    symbol("pipe coil", {200, kLiquid + 30}, 2);
    name(phrase("condenser"), {200, kLiquid + 94});
    for (int i = 0; i < static_cast<int>(unit_.plant.condenser_fans + 0.5); ++i) {
      symbol("pipe fan", {106, kLiquid + 10 + i * 44}, 1);
    }
    symbol("pipe compressor", {200, 440});
    name(phrase("compressor"), {200, 490});
    pipe({{232, 440}, {kDischarge, 440}, {kDischarge, kLiquid + 60}, {260, kLiquid + 60}});
    for (int i = 1; i < compressors_; ++i) {  // below the suction line, beside the first
      const int y = 440 + i * kNextCompressor;
      symbol("pipe compressor", {200, y});
      name(phrase("compressor"), {200, y + 50});
      pipe({{110, y - kNextCompressor + (i == 1 ? kSuction - 440 : 0)}, {110, y}, {168, y}});
      pipe({{232, y}, {kDischarge, y}, {kDischarge, y - kNextCompressor}});
    }
    if (!unit_.gauge_place.empty()) {
      port("@high", {kDischarge, 300}, {kDischarge + 40, 300}, "HIGH");
      port("@low", {280, kSuction}, {280, kSuction - 40}, "LOW");
    }
  }

  void port(const char* id, Point on, Point at, const char* words) {
    scene_.joints.push_back({on, ""});
    pipe({on, at});
    scene_.terminals.push_back({id, at, true, true});
    scene_.labels.push_back({words, {at.x + 14, at.y}, Anchor::left, Face::mono, 16, id, true});
  }

  // Drier and what else is in the line from the condenser to the corner; then down to the valve.
  void liquid_line() {
    int x = 260;
    int at = unit_.plant.receiver_m3 > 0 ? kFirstPart : kFirstPart + 90;
    const auto in_line = [&](const char* kind, int reach) {
      pipe({{x, kLiquid}, {at - reach, kLiquid}});
      symbol(kind, {at, kLiquid});
      name(find_symbol(kind)->words, {at, kLiquid + 36});
      x = at + reach;
      at += kPitch;
    };
    if (unit_.plant.receiver_m3 > 0) in_line("pipe receiver", 34);
    before_drier_ = (x + at - 24) / 2;
    in_line("pipe drier", 24);
    after_drier_ = x + 66;
    if (has_glass()) in_line("pipe sight glass", 24);
    if (has_valve() && coils_ == 1) in_line("pipe solenoid valve", 24);
    // Several coils have a solenoid valve each, ahead of the expansion valve.
    const bool own_valves = has_valve() && coils_ > 1;
    corner_ = std::max(own_valves ? at + 100 : at - 20, after_drier_ + 110);
    const int down = own_valves ? 176 : 236;
    pipe({{x, kLiquid}, {corner_, kLiquid}, {corner_, down}});
    for (int i = 1; i < coils_; ++i)
      pipe({{corner(i - 1), kLiquid}, {corner(i), kLiquid}, {corner(i), down}});
    for (int i = 0; i < coils_; ++i) {
      const bool capillary =
          plant::evaporator_of(unit_.plant, static_cast<std::size_t>(i)).capillary > 0;
      symbol(capillary ? "pipe capillary" : "pipe expansion valve", {corner(i), 260}, 1);
      name(capillary ? phrase("capillary tube") : phrase("expansion valve"), {corner(i) - 22, 260},
           Anchor::right);
      if (!own_valves) continue;
      pipe({{corner(i), 224}, {corner(i), 236}});
      symbol("pipe solenoid valve", {corner(i), 200}, 1);
      name(find_symbol("pipe solenoid valve")->words, {corner(i) - 22, 200}, Anchor::right);
    }
  }

  void low_side() {
    for (int i = 0; i < coils_; ++i) {
      const int coil = corner(i) + 110;
      pipe({{corner(i), 284}, {corner(i), 330}, {coil - 60, 330}});
      symbol("pipe coil", {coil, 360});
      name(phrase("evaporator"), {coil, 424});
      symbol("pipe fan", {coil, 298});
      if (i == 0) {
        pipe({{coil - 60, 390},
              {corner_, 390},
              {corner_, kSuction},
              {110, kSuction},
              {110, 440},
              {168, 440}});
      } else {
        pipe(
            {{coil - 60, 390}, {corner(i), 390}, {corner(i), kSuction}, {corner(i - 1), kSuction}});
      }
    }
  }

  int corner(int coil) const { return corner_ + coil * kNextCoil; }

  // A point with its name in short lines: over it, under it, or beside it.
  enum class Side { above, below, left, right };
  void point(const unit::ProbePoint& probe, Point at, Side side, int most = kLetters,
             int higher = 0) {
    const std::string id = "@" + probe.id;
    const auto lines = broken(render(probe.name, speech_), most);
    const int high = static_cast<int>(lines.size()) * kLine;
    Point first{at.x, at.y + higher - (high - kLine) / 2};
    Anchor anchor = Anchor::middle;
    if (side == Side::above) first.y = at.y - 34 - high;
    if (side == Side::below) first.y = at.y + 42;
    if (side == Side::above) leader({at.x, at.y - 8}, {at.x, at.y - 40});
    if (side == Side::below) leader({at.x, at.y + 8}, {at.x, at.y + 28});
    if (side == Side::left || side == Side::right) {
      anchor = side == Side::right ? Anchor::left : Anchor::right;
      first.x += side == Side::right ? 16 : -16;
    }
    scene_.terminals.push_back({id, at, true, true});
    for (std::size_t i = 0; i < lines.size(); ++i) {
      scene_.labels.push_back({lines[i],
                               {first.x, first.y + static_cast<int>(i) * kLine},
                               anchor,
                               Face::words,
                               kTypePiping,
                               id});
    }
  }

  // Where a thermometer of that quantity is put: the first word found in what the point measures.
  void points() {
    int beside_coil[plant::kMostEvaporators] = {};
    int over_condenser = 0;
    for (const unit::ProbePoint& probe : unit_.probes) {
      const int index = plant::find_quantity(probe.quantity);
      const std::size_t which =
          index < 0 ? 0 : plant::quantities()[static_cast<std::size_t>(index)].which;
      const int i = static_cast<int>(which);
      const auto of = [&](std::string_view word) {
        return probe.quantity.find(word) != std::string::npos;
      };
      if (of("liquid")) {
        point(probe, {before_drier_, kLiquid}, Side::above);
      } else if (of("drier")) {
        point(probe, {after_drier_, kLiquid}, Side::above);
      } else if (of("discharge")) {
        point(probe, {kDischarge, 400 + i * (kNextCompressor + 20)}, Side::right, 20);
      } else if (of("suction")) {
        point(probe, {520, kSuction}, Side::below, compressors_ > 1 ? 24 : 40);
      } else if (of("shell")) {
        // The suction line runs down to the left of those below it.
        if (i == 0) point(probe, {200, 392}, Side::left, 14, -12);
        if (i > 0) point(probe, {200, 392 + i * kNextCompressor}, Side::right, 12, -12);
      } else if (of("condenser")) {
        point(probe, {100, 30 + 56 * over_condenser++}, Side::right, 16);
      } else if (of("outlet")) {
        point(probe, {corner(i), 490}, Side::right, 16);
      } else {
        point(probe, {corner(i) + 200, 310 + 52 * beside_coil[which]++}, Side::right,
              coils_ > 1 ? 30 : 18);
      }
    }
  }

  const unit::Unit& unit_;
  const Speech& speech_;
  Scene scene_;
  const int compressors_ = static_cast<int>(plant::compressor_count(unit_.plant));
  const int coils_ = static_cast<int>(plant::evaporator_count(unit_.plant));
  int before_drier_ = 0, after_drier_ = 0, corner_ = 0;
};

}  // namespace

Scene piping(const unit::Unit& unit, const Speech& speech) { return Piping(unit, speech).make(); }

}  // namespace legwork::gui
