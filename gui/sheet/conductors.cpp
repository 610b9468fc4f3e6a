#include "gui/sheet/conductors.h"

#include <algorithm>
#include <cstdlib>
#include <set>

namespace legwork::gui {
namespace {

constexpr int kGrid = 12;
constexpr int kLanePitch = 6;  // from lane to lane, riser to riser
// More than so many side by side lie in a bundle, closer together.
constexpr int kLoose = 12;
constexpr int kBundledLane = 3, kBundledRiser = 2;
constexpr int kEdge = 24;  // least width of the gaps at the two ends of a row
constexpr int kGap = 24;   // and between parts

int up_to_grid(int x) { return (x + kGrid - 1) / kGrid * kGrid; }

class Laying {
 public:
  Laying(Bench& bench, std::vector<Run>& runs) : bench_(bench), runs_(runs) {}

  void lay() {
    const std::size_t count = bench_.rows.size();
    need_.resize(count);
    for (std::size_t r = 0; r < count; ++r) need_[r].assign(bench_.rows[r].size() + 1, 0);
    place_parts();
    choose_gaps();
    place_parts();
    choose_lanes();
    place_rows();
    draw();
  }

 private:
  // A passage of a run through a row: by which gap, and there at which x.
  struct Passage {
    std::size_t run;
    int row;
    int gap;
    int x;
  };

  int duct_of(const Run::End& end) const {
    if (end.row < 0) return 0;
    if (end.row >= static_cast<int>(bench_.rows.size()))
      return static_cast<int>(bench_.rows.size());
    return end.row + (end.below ? 1 : 0);
  }
  bool outer(const Run::End& end) const {
    return end.row < 0 || end.row >= static_cast<int>(bench_.rows.size());
  }
  int x_of(const Run::End& end) const {
    if (outer(end)) return end.x;
    return bench_.rows[static_cast<std::size_t>(end.row)][static_cast<std::size_t>(end.slot)].at.x +
           end.x;
  }

  // From the left, each gap as wide as what runs through it, the room that is left spread over
  // them.
  void place_parts() {
    bench_.wide = 0;
    std::vector<int> least(bench_.rows.size(), 0);
    const auto gap_width = [&](std::size_t r, std::size_t g) {
      const bool end = g == 0 || g == bench_.rows[r].size();
      const int runs = need_[r][g];
      const int across =
          runs > kLoose ? runs * kBundledRiser + 3 * kLanePitch : (runs + 3) * kLanePitch;
      return std::max(end ? kEdge : kGap, up_to_grid(across));
    };
    for (std::size_t r = 0; r < bench_.rows.size(); ++r) {
      for (std::size_t g = 0; g < need_[r].size(); ++g) least[r] += gap_width(r, g);
      for (const Bench::Slot& slot : bench_.rows[r]) least[r] += up_to_grid(slot.wide);
      bench_.wide = std::max(bench_.wide, least[r] + (r % 2 == 0 ? 0 : kGrid / 2));
    }
    bench_.wide = up_to_grid(bench_.wide);
    gap_left_.assign(bench_.rows.size(), {});
    gap_right_.assign(bench_.rows.size(), {});
    for (std::size_t r = 0; r < bench_.rows.size(); ++r) {
      const int inner = static_cast<int>(bench_.rows[r].size()) - 1;
      const int spare = bench_.wide - least[r] - (r % 2 == 0 ? 0 : kGrid / 2);
      // A short row stays together at the left rather than far apart.
      const int more = inner > 0 ? std::min(spare / inner, 36) / kGrid * kGrid : 0;
      int x = r % 2 == 0 ? 0 : kGrid / 2;
      for (std::size_t g = 0; g < need_[r].size(); ++g) {
        gap_left_[r].push_back(g == 0 ? 0 : x);
        const bool last = g == bench_.rows[r].size();
        x += gap_width(r, g) + (g > 0 && !last ? more : 0);
        gap_right_[r].push_back(last ? bench_.wide : x);
        if (last) break;
        bench_.rows[r][g].at.x = x;
        x += up_to_grid(bench_.rows[r][g].wide);
      }
    }
  }

  // Through which gap of each row a run that changes ducts goes: the nearest on its way.
  void choose_gaps() {
    for (std::size_t i = 0; i < runs_.size(); ++i) {
      const int a = duct_of(runs_[i].from), b = duct_of(runs_[i].to);
      int x = x_of(runs_[i].from);
      const int end = x_of(runs_[i].to);
      const int step = b > a ? 1 : -1;
      for (int duct = a; duct != b; duct += step) {
        const int row = step > 0 ? duct : duct - 1;
        const auto r = static_cast<std::size_t>(row);
        int best = 0, least = 1 << 30;
        for (std::size_t g = 0; g < need_[r].size(); ++g) {
          const int middle = (gap_left_[r][g] + gap_right_[r][g]) / 2;
          const int length =
              std::abs(middle - x) + std::abs(middle - end) + kLanePitch * need_[r][g];
          if (length < least) {
            least = length;
            best = static_cast<int>(g);
          }
        }
        ++need_[r][static_cast<std::size_t>(best)];
        passages_.push_back({i, row, best, 0});
        x = (gap_left_[r][static_cast<std::size_t>(best)] +
             gap_right_[r][static_cast<std::size_t>(best)]) /
            2;
      }
    }
  }

  // Outer ends and risers, each at an x of its own in the ducts that it touches.
  void place_risers() {
    std::vector<std::set<int>> used(bench_.rows.size() + 1);  // by duct
    std::vector<Run::End*> ends;
    for (Run& run : runs_) {
      for (Run::End* end : {&run.from, &run.to}) {
        if (outer(*end)) ends.push_back(end);
      }
    }
    std::stable_sort(ends.begin(), ends.end(),
                     [](const auto* a, const auto* b) { return a->x < b->x; });
    constexpr int kOuterPitch = 30;  // their numbers stand side by side
    int last[2] = {0, 0};
    for (Run::End* end : ends) {
      int& before = last[end->row < 0 ? 0 : 1];
      int x = std::max(end->x, before + kOuterPitch);
      x = x / kLanePitch * kLanePitch + 3;
      before = x;
      end->x = x;
      used[static_cast<std::size_t>(duct_of(*end))].insert(x);
    }
    bench_.wide = up_to_grid(std::max({bench_.wide, last[0] + kEdge, last[1] + kEdge}));
    for (Passage& it : passages_) {
      const auto r = static_cast<std::size_t>(it.row);
      const auto g = static_cast<std::size_t>(it.gap);
      const int right = gap_right_[r][g] - 6;
      // Risers of a bundle stand at odd places too, where no screw is.
      const bool bundled = need_[r][g] > kLoose;
      if (bundled) bench_.bundled = true;
      const int pitch = bundled ? kBundledRiser : kLanePitch;
      int x = gap_left_[r][g] / kLanePitch * kLanePitch + (bundled ? 7 : 9);
      const auto free = [&](int at) { return !used[r].contains(at) && !used[r + 1].contains(at); };
      while (x < right && !free(x)) x += pitch;
      if (x >= right) {  // no room: between the others
        x = gap_left_[r][g] / kLanePitch * kLanePitch + 10;
        while (!free(x)) ++x;
      }
      it.x = x;
      used[r].insert(x);
      used[r + 1].insert(x);
    }
  }

  struct Level {  // a stretch along a duct
    std::size_t run;
    int duct;
    int left, right;
    int lane;
  };

  void choose_lanes() {
    place_risers();
    std::size_t next = 0;
    for (std::size_t i = 0; i < runs_.size(); ++i) {
      const int a = duct_of(runs_[i].from), b = duct_of(runs_[i].to);
      const int step = b > a ? 1 : -1;
      int x = x_of(runs_[i].from);
      for (int duct = a;; duct += step) {
        const int to = duct == b ? x_of(runs_[i].to) : passages_[next++].x;
        levels_.push_back({i, duct, std::min(x, to), std::max(x, to), 0});
        x = to;
        if (duct == b) break;
      }
    }
    lanes_.assign(bench_.rows.size() + 1, 0);
    std::vector<std::size_t> order(levels_.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    // Short ones first: they stay near, and long ones go round them.
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return levels_[a].right - levels_[a].left < levels_[b].right - levels_[b].left;
    });
    std::vector<std::size_t> done;
    for (const std::size_t i : order) {
      Level& level = levels_[i];
      const auto taken = [&](int lane) {
        return std::any_of(done.begin(), done.end(), [&](std::size_t k) {
          const Level& other = levels_[k];
          return other.duct == level.duct && other.lane == lane && other.left - 3 < level.right &&
                 level.left - 3 < other.right;
        });
      };
      while (taken(level.lane)) ++level.lane;
      done.push_back(i);
      int& lanes = lanes_[static_cast<std::size_t>(level.duct)];
      lanes = std::max(lanes, level.lane + 1);
    }
  }

  void place_rows() {
    int y = 0;
    bench_.duct_top.clear();
    bench_.duct_bottom.clear();
    for (std::size_t r = 0; r <= bench_.rows.size(); ++r) {
      bench_.duct_top.push_back(y);
      if (lanes_[r] > kLoose) bench_.bundled = true;
      y += 2 * kSleeveRoom + std::max(1, lanes_[r]) * lane_pitch(r);
      bench_.duct_bottom.push_back(y);
      if (r == bench_.rows.size()) break;
      int high = 0;
      for (Bench::Slot& slot : bench_.rows[r]) {
        slot.at.y = y;
        high = std::max(high, slot.high);
      }
      y += high;
    }
    bench_.high = y;
  }

  int lane_pitch(std::size_t duct) const {
    return lanes_[duct] > kLoose ? kBundledLane : kLanePitch;
  }
  int y_of(const Level& level) const {
    const auto duct = static_cast<std::size_t>(level.duct);
    return bench_.duct_top[duct] + kSleeveRoom + 3 + level.lane * lane_pitch(duct);
  }

  // Where the conductor meets the edge of its part, or of the panel.
  Point end_point(const Run::End& end) const {
    if (end.row < 0) return {end.x, -kPlateMargin};
    if (outer(end)) return {end.x, bench_.high + kPlateMargin};
    const Bench::Slot& slot =
        bench_.rows[static_cast<std::size_t>(end.row)][static_cast<std::size_t>(end.slot)];
    return {slot.at.x + end.x, end.below ? slot.at.y + slot.high : slot.at.y};
  }

  void draw() {
    std::size_t next = 0, passage = 0;
    for (Run& run : runs_) {
      const int a = duct_of(run.from), b = duct_of(run.to);
      const int step = b > a ? 1 : -1;
      run.points = {end_point(run.from)};
      for (int duct = a;; duct += step) {
        const int y = y_of(levels_[next++]);
        const int to = duct == b ? x_of(run.to) : passages_[passage++].x;
        run.points.push_back({run.points.back().x, y});
        run.points.push_back({to, y});
        if (duct == b) break;
      }
      run.points.push_back(end_point(run.to));
    }
  }

  Bench& bench_;
  std::vector<Run>& runs_;
  std::vector<std::vector<int>> need_;  // runs through each gap of each row
  std::vector<std::vector<int>> gap_left_, gap_right_;
  std::vector<Passage> passages_;  // in the order of the runs
  std::vector<Level> levels_;
  std::vector<int> lanes_;
};

}  // namespace

void lay(Bench& bench, std::vector<Run>& runs) { Laying(bench, runs).lay(); }

}  // namespace legwork::gui
