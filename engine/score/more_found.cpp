#include "engine/score/more_found.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "engine/base/quantity.h"
#include "engine/sim/lookout.h"

namespace legwork::score {
namespace {

using fault::Found;
using fault::Running;

constexpr double kBoxBandK = 3 / 1.8;  // ± 3 F, as tickets have it
constexpr double kFrostBand = 0.2;

struct Line {
  std::string written;
  Found found;
};

std::string_view word(bool running) { return running ? "running" : "off"; }
Running running(bool runs) { return runs ? Running::running : Running::off; }

// Whatever the ticket leaves out, as this machine shows it now.
std::vector<Line> lines_of(const sim::World& world, const Found& said) {
  std::vector<Line> lines;
  const sim::Doing now = world.doing();
  const std::size_t boxes = world.machine().evaporators;
  const auto add = [&lines](std::string written, const auto& set) {
    Line line{std::move(written), {}};
    set(line.found);
    lines.push_back(std::move(line));
  };
  for (std::size_t i = 0; i < boxes; ++i) {
    const fault::FoundBox& box = plant::evaporator_of(said, i);
    const std::string number = boxes > 1 ? fmt::format(" {}", i + 1) : "";
    if (!box.box_k) {
      const double middle_k = plant::evaporator_of(world.outputs(), i).box_k;
      add(fmt::format("box{}: {:.0f} °F ± 3", number, fahrenheit_from_kelvin(middle_k)),
          [&](Found& f) {
            plant::evaporator_of(f, i).box_k = fault::Band{middle_k, kBoxBandK};
          });
    }
    if (!box.evaporator_fans) {
      const bool runs = now.fans_of_box[i];
      add(fmt::format("evaporator fans{}: {}", number, word(runs)),
          [&](Found& f) { plant::evaporator_of(f, i).evaporator_fans = running(runs); });
    }
    if (!box.frost) {
      const double share = world.quantity(plant::numbered("coil.frost share", i));
      add(fmt::format("frost{}: {:.0f} % ± 20 %", number, 100 * share), [&](Found& f) {
        plant::evaporator_of(f, i).frost = fault::Band{share, kFrostBand};
      });
    }
  }
  if (!said.condenser_fans) {
    add(fmt::format("condenser fans: {}", word(now.condenser_fans)),
        [&](Found& f) { f.condenser_fans = running(now.condenser_fans); });
  }
  if (!said.overload) {
    for (const fault::Button button : {fault::Button::tripped, fault::Button::set}) {
      Found one;
      one.overload = button;
      if (sim::Lookout(one).look(world)) {
        add(button == fault::Button::tripped ? "overload: tripped" : "overload: set",
            [&](Found& f) { f.overload = button; });
      }
    }
  }
  return lines;
}

}  // namespace

std::vector<MoreFound> more_found(const session::Attempt& attempt, const suspects::Lineup& lineup) {
  std::vector<MoreFound> out;
  std::set<int> now;
  for (const suspects::Suspect& s : lineup.suspects) {
    if (s.on_arrival) now.insert(s.repair_class);
  }
  for (const Line& line : lines_of(attempt.site.world, attempt.scenario->found)) {
    std::set<int> left;
    for (const suspects::Suspect& s : lineup.suspects) {
      const bool shows =
          s.on_arrival && std::any_of(s.sites.begin(), s.sites.end(), [&](const auto& site) {
            return sim::Lookout(line.found).look(site.world);
          });
      if (shows) left.insert(s.repair_class);
    }
    if (!left.empty() && left.size() < now.size())
      out.push_back({line.written, static_cast<int>(left.size())});
  }
  std::stable_sort(out.begin(), out.end(),
                   [](const MoreFound& a, const MoreFound& b) { return a.repairs < b.repairs; });
  return out;
}

}  // namespace legwork::score
