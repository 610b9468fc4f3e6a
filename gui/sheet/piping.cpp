#include "gui/sheet/piping.h"

#include <string>
#include <string_view>
#include <vector>

namespace legwork::gui {
namespace {

constexpr int kLiquid = 96;    // height of the liquid line on the sheet
constexpr int kSuction = 380;  // and of the suction line
constexpr int kPitch = 110;

// Where a thermometer point of that quantity hangs: the first row whose word is in the quantity's
// name.
struct Hook {
  std::string_view word;
  Point at;
};
constexpr Hook kHooks[] = {
    {"discharge", {240, 210}}, {"liquid", {270, kLiquid}}, {"suction", {420, kSuction}},
    {"outdoor", {60, 30}},     {"condenser", {60, 60}},    {"coil", {1010, 110}},
    {"supply", {1010, 60}},    {"off", {1010, 60}},        {"box", {1010, 200}},
    {"product", {1010, 240}},  {"evaporator", {930, 170}}, {"shell", {150, 350}},
};

class Piping {
 public:
  explicit Piping(const unit::Unit& unit) : unit_(unit) {}

  Scene make() {
    scene_.name = unit_.id + " piping";
    machine();
    points();
    scene_.extent = extent_of(scene_, 28);
    return std::move(scene_);
  }

 private:
  void symbol(const char* kind, Point at, const std::string& words, int turn = 0,
              int label_dy = 34) {
    scene_.symbols.push_back({kind, "", at, turn, Pen::pipe});
    if (!words.empty()) {
      scene_.labels.push_back(
          {words, {at.x, at.y + label_dy}, Anchor::middle, Face::words, 13, ""});
    }
  }
  void pipe(std::vector<Point> points) {
    scene_.wires.push_back({"", std::move(points), Pen::pipe});
  }

  bool has_load(circuit::LoadKind kind) const {
    for (const circuit::Load& load : unit_.circuit.loads) {
      if (load.kind == kind) return true;
    }
    return false;
  }

  void machine() {
    symbol("pipe coil", {140, 112}, "condenser", 2, 44);
    symbol("pipe compressor", {160, 300}, "compressor", 0, 44);
    pipe({{184, 300}, {240, 300}, {240, 126}, {180, 126}});
    int x = 180;
    const auto in_line = [&](const char* kind, const std::string& words, int reach) {
      const int at = x + kPitch;
      pipe({{x, kLiquid}, {at - reach, kLiquid}});
      symbol(kind, {at, kLiquid}, words);
      x = at + reach;
    };
    if (!unit_.gauge_place.empty()) {
      in_line("pipe receiver", "receiver", 34);
    }
    in_line("pipe drier", "drier", 24);
    if (!unit_.gauge_place.empty()) in_line("pipe sight glass", "sight glass", 24);
    if (has_load(circuit::LoadKind::valve)) in_line("pipe solenoid valve", "liquid valve", 24);
    in_line("pipe expansion valve", unit_.gauge_place.empty() ? "capillary" : "expansion valve",
            24);
    const int coil = x + kPitch;
    pipe({{x, kLiquid}, {coil - 40, kLiquid}});
    symbol("pipe coil", {coil, 110}, "evaporator", 0, 44);
    pipe({{coil - 40, 126},
          {coil - 70, 126},
          {coil - 70, kSuction},
          {90, kSuction},
          {90, 300},
          {136, 300}});
    coil_x_ = coil;
    scene_.labels.push_back(
        {"suction", {coil - 180, kSuction - 12}, Anchor::middle, Face::words, 13, ""});
    scene_.labels.push_back({"liquid", {230, kLiquid - 12}, Anchor::middle, Face::words, 13, ""});
    scene_.labels.push_back({"discharge", {250, 270}, Anchor::left, Face::words, 13, ""});
    if (!unit_.gauge_place.empty()) {
      port("@low", {200, kSuction}, "LOW");
      port("@high", {240, 240}, "HIGH");
    }
  }

  void port(const char* id, Point on, const char* words) {
    scene_.joints.push_back({on, ""});
    const Point at{on.x + 22, on.y - 22};
    pipe({on, at});
    scene_.terminals.push_back({id, at, true});
    scene_.labels.push_back({words, {at.x + 9, at.y}, Anchor::left, Face::mono, 12, id, true});
  }

  void points() {
    std::vector<int> used(std::size(kHooks), 0);
    int spare = 0;
    for (const unit::ProbePoint& probe : unit_.probes) {
      const std::string text = probe.quantity + " " + probe.id;
      Point at{620 + (spare % 3) * 150, 240 + (spare / 3) * 30};
      bool found = false;
      for (std::size_t i = 0; i < std::size(kHooks) && !found; ++i) {
        if (text.find(kHooks[i].word) == std::string::npos) continue;
        at = kHooks[i].at;
        if (at.x >= 930) at.x += coil_x_ - 930;
        const bool along = at.y == kSuction || at.y == kLiquid;
        at.x += along ? used[i] * 170 : 0;
        at.y += along ? 0 : used[i] * 26;
        if (at.y == kLiquid) at.y += 0;
        ++used[i];
        found = true;
      }
      if (!found) ++spare;
      scene_.terminals.push_back({"@" + probe.id, at, true});
      const bool on_pipe = at.y == kSuction || at.y == kLiquid;
      scene_.labels.push_back(
          {probe.name.en, on_pipe ? Point{at.x, at.y + 18} : Point{at.x + 10, at.y},
           on_pipe ? Anchor::middle : Anchor::left, Face::words, 12, "@" + probe.id});
    }
  }

  const unit::Unit& unit_;
  Scene scene_;
  int coil_x_ = 930;
};

}  // namespace

Scene piping(const unit::Unit& unit) { return Piping(unit).make(); }

}  // namespace legwork::gui
