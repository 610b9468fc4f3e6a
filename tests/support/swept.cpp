#include "tests/support/swept.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "engine/base/random.h"
#include "engine/fault/catalogue.h"
#include "engine/sim/effects.h"
#include "tests/support/all.h"
#include "tests/support/units.h"

namespace legwork::support {
namespace {

constexpr sim::State kStates[] = {sim::State::cooling, sim::State::satisfied, sim::State::defrost,
                                  sim::State::drip, sim::State::off};
constexpr double kBadForMinutes = 6;  // long enough for what a fault sets off

}  // namespace

void for_each_swept(std::size_t sample, std::uint64_t seed,
                    const std::function<void(const Swept&)>& act) {
  Diagnostics found;
  const fault::Priors priors = fault::load_priors(kHome + "/assets/priors.yaml", found);
  ASSERT_FALSE(found.has_errors()) << found.text();
  for (const char* id : unit_ids()) {
    const unit::UnitPtr unit = shipped_unit(id);
    std::vector<Swept> whole;
    for (const sim::State state : kStates) {
      sim::World world(unit, {}, sim::usual_day(*unit));
      world.keep_events(false);
      if (!world.bring_to(state)) continue;  // "off" of a unit that never stops, "drip" of a cooler
      whole.push_back({fmt::format("{}, {}", id, sim::word_of(state)), unit, world, world, {}});
      act(whole.back());
    }
    const std::vector<fault::Candidate> catalogue = fault::catalogue(*unit, priors);
    const std::size_t count = catalogue.size() * whole.size();
    Random random = Random(seed).fork(id);
    for (std::size_t k = 0; k < (all() ? count : std::min(sample, count)); ++k) {
      const std::size_t at = all() ? k : random.below(count);
      const fault::Fault& fault = catalogue[at / whole.size()].fault;
      const Swept& sound = whole[at % whole.size()];
      Swept bad{fmt::format("{}, {}", sound.name, fault::text(*unit, fault)), unit, sound.world,
                sound.world, fault};
      bad.world.add_fault(fault);
      bad.world.run(sim::minutes(kBadForMinutes));
      act(bad);
    }
  }
}

}  // namespace legwork::support
