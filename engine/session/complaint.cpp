#include "engine/session/complaint.h"

#include <algorithm>
#include <array>
#include <vector>

#include "engine/sim/lookout.h"
#include "engine/sim/world.h"

namespace legwork::session {

namespace {
constexpr double kWarmerK = 3;      // K above the sound machine's warmest: somebody calls
constexpr double kBandK = 3 / 1.8;  // ± 3 F on the ticket
constexpr double kCallHours = 36;
constexpr int kLongestHours = 48;
constexpr double kLoadShare = 0.02;  // World::approximate(), of the compressor's load
constexpr double kDefrostedHours = 1, kStaysWarmMinutes = 15;

// Such a clock defrosts once a day or so, and how far that warms the box depends on where in its
// run, and with how much frost, it caught the machine: two days of the sound one do not show it.
bool turns_with_the_machine(const unit::Unit& unit) {
  const auto& clocks = unit.circuit.clocks;
  return std::any_of(clocks.begin(), clocks.end(), [](const circuit::Clock& clock) {
    return clock.period_us != circuit::kDayUs;
  });
}
}  // namespace

plant::BoxTemperatures sound_high_k(const unit::UnitPtr& unit, const fault::Ticket& ticket) {
  sim::World sound(unit, {}, sim::surroundings_of(ticket));
  sound.keep_events(false);
  sound.approximate(kLoadShare);
  plant::BoxTemperatures high_k{};
  // As far ahead as suspects are looked at: what the sound machine shows once is no complaint.
  for (int minute = 0; minute < 60 * kLongestHours; ++minute) {
    sound.run(sim::kTicksPerMinute);
    if (minute <= 60) continue;
    for (std::size_t i = 0; i < sound.machine().evaporators; ++i)
      high_k[i] = std::max(high_k[i], plant::evaporator_of(sound.outputs(), i).box_k);
  }
  return high_k;
}

std::optional<Complaint> complaint_of(const unit::UnitPtr& unit, const fault::Ticket& ticket,
                                      const fault::Fault& fault,
                                      const plant::BoxTemperatures& sound_high_k,
                                      const std::atomic<bool>* cancel) {
  using fault::Running;
  sim::World world(unit, {fault}, sim::surroundings_of(ticket));
  world.keep_events(false);
  world.approximate(kLoadShare);
  std::vector<sim::Lookout> watches;
  for (const Running r : {Running::cycling, Running::off, Running::running}) {
    fault::Found found;
    found.compressor = r;
    watches.emplace_back(found);
  }
  const auto longest = sim::minutes(60 * kCallHours);
  const bool slow = turns_with_the_machine(*unit);
  std::array<std::int64_t, plant::kMostEvaporators> warm_since{}, too_warm_since{};
  std::int64_t defrosted = -longest;
  while (world.tick() < longest && (cancel == nullptr || !cancel->load())) {
    world.run(sim::kLookEvery);
    bool shows[3];
    for (std::size_t k = 0; k < 3; ++k) shows[k] = watches[k].look(world);
    const sim::Doing now = world.doing();
    if (now.in_defrost || now.heating) defrosted = world.tick();
    for (std::size_t i = 0; i < world.machine().evaporators; ++i) {
      const double box_k = plant::evaporator_of(world.outputs(), i).box_k;
      if (box_k <= sound_high_k[i]) warm_since[i] = world.tick();
      if (box_k < sound_high_k[i] + kWarmerK || defrosted == world.tick()) {
        too_warm_since[i] = world.tick();
        continue;
      }
      if (slow && world.tick() - defrosted < sim::minutes(60 * kDefrostedHours) &&
          world.tick() - too_warm_since[i] < sim::minutes(kStaysWarmMinutes))
        continue;
      if (!shows[0] && !shows[1] && !shows[2]) continue;
      Complaint complaint;
      complaint.found.about = i;
      complaint.found.compressor = shows[0]   ? Running::cycling
                                   : shows[1] ? Running::off
                                              : Running::running;
      fault::FoundBox& box = plant::evaporator_of(complaint.found, i);
      box.box_k = fault::Band{box_k, kBandK};
      box.evaporator_fans = now.fans_of_box[i] ? Running::running : Running::off;
      complaint.since_hours =
          static_cast<double>(world.tick() - warm_since[i]) / static_cast<double>(sim::minutes(60));
      return complaint;
    }
  }
  return std::nullopt;
}

}  // namespace legwork::session
