// Test spread.h: what is believed of a reading's spread is at least what the unknowns make of it.
// Each unknown is moved by one standard deviation in a copy of the unit; both machines go on from
// the same moment for a while, and what they read is compared. The differences of all unknowns are
// added as squares. (An engine that believes less than that strikes the truth.)
//
// Bands of the unknowns, evenly spread, are common practice, no source.
#include "engine/suspects/spread.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "engine/sim/effects.h"
#include "engine/sim/world.h"
#include "tests/support/units.h"

namespace legwork::suspects {
namespace {

constexpr double kEvenly = 0.57735;  // standard deviation of an even spread, of its half width

struct Unknown {
  const char* name;
  std::function<void(unit::Unit&, sim::Surroundings&)> moved;  // by one standard deviation
  double charge = 0;                                           // share of it that is short
};
std::vector<Unknown> unknowns() {
  return {
      {"supply, 2 %",
       [](unit::Unit& u, sim::Surroundings&) {
         for (circuit::Supply::Leg& leg : u.circuit.supply.legs)
           leg.emf = (1 + 0.02 * kEvenly) * leg.emf;
       }},
      {"outdoor reading, 2 F",
       [](unit::Unit&, sim::Surroundings& s) { s.outdoor_k += 1.1 * kEvenly; }},
      {"charge, 5 %", [](unit::Unit&, sim::Surroundings&) {}, 0.05 * kEvenly},
      {"condenser and its air, 5 %",
       [](unit::Unit& u, sim::Surroundings&) { u.plant.condenser_w_k *= 1 - 0.05 * kEvenly; }},
      {"evaporator and its air, 5 %",
       [](unit::Unit& u, sim::Surroundings&) { u.plant.evaporator_w_k *= 1 - 0.05 * kEvenly; }},
  };
}

struct Read {
  std::string key;
  double value = 0;
  bool induced = false;
};
std::vector<Read> readings_of(const sim::World& world) {
  std::vector<Read> out;
  const plant::Outputs& o = world.outputs();
  out.push_back({"gauges suction", o.suction_pa, false});
  out.push_back({"gauges discharge", o.discharge_pa, false});
  out.push_back({"temp box", o.box_k, false});
  out.push_back({"temp suction line", o.suction_line_k, false});
  out.push_back({"temp liquid line", o.liquid_line_k, false});
  out.push_back({"temp drier outlet", o.drier_outlet_k, false});
  out.push_back({"temp discharge line", o.discharge_line_k, false});
  const circuit::Circuit& circuit = world.unit().circuit;
  const std::vector<circuit::Phasor> induced =
      induced_volts(session::Site{world, {}, {}, 0, 0, false});
  for (std::size_t i = 1; i < circuit.terminals.size(); ++i) {
    for (std::size_t j = i + 1; j < circuit.terminals.size(); j += 7) {
      const circuit::TerminalId a = circuit::TerminalId::of(i), b = circuit::TerminalId::of(j);
      const circuit::Thevenin seen = world.electrics().thevenin(a, b);
      if (circuit::abs(seen.ohms) > kGhostOhms) continue;  // a row of its own
      out.push_back({"volts", circuit::abs(seen.open_volts),
                     is_induced(world.electrics().volts(a), induced) ||
                         is_induced(world.electrics().volts(b), induced)});
    }
  }
  for (std::size_t i = 0; i < circuit.wires.size(); ++i)
    out.push_back({"clamp", circuit::abs(world.electrics().amps(circuit::WireId::of(i))), false});
  return out;
}

TEST(Spread, IsAtLeastWhatTheUnknownsMake) {
  std::map<std::string, std::vector<double>> ratios;  // by key: made, of what is believed
  for (const char* id : legwork::support::unit_ids()) {
    const unit::UnitPtr unit = support::shipped_unit(id);
    const sim::Surroundings day = sim::usual_day(*unit);
    for (const sim::State state : {sim::State::cooling, sim::State::defrost, sim::State::off}) {
      auto world = sim::world_in_state(unit, state, {}, day);
      if (!world) continue;
      sim::Moment begun;
      world->save(begun);
      const std::int64_t ticks = sim::minutes(3);
      world->run(ticks);
      const std::vector<Read> base = readings_of(*world);
      std::vector<double> made(base.size(), 0);
      for (const Unknown& unknown : unknowns()) {
        auto other = std::make_shared<unit::Unit>(*unit);
        sim::Surroundings there = day;
        unknown.moved(*other, there);
        sim::World moved(other, {}, there);
        ASSERT_TRUE(moved.resume(begun));
        moved.set_surroundings(there);
        if (unknown.charge > 0) moved.lose_charge(unknown.charge * unit->plant.charge_kg);
        moved.run(ticks);
        // A machine that switched a little sooner is another state, not another reading.
        if (moved.circuit().position != world->circuit().position) continue;
        const std::vector<Read> now = readings_of(moved);
        if (now.size() != base.size()) continue;
        for (std::size_t i = 0; i < base.size(); ++i) {
          const double difference = now[i].value - base[i].value;
          made[i] += difference * difference;
        }
      }
      for (std::size_t i = 0; i < base.size(); ++i) {
        const SpreadRow& row = base[i].induced ? kInducedRow : spread_row(base[i].key);
        const double believed = row.relative * std::fabs(base[i].value) + row.absolute;
        ratios[base[i].key].push_back(std::sqrt(made[i]) / believed);
      }
    }
  }
  for (auto& [key, all] : ratios) {
    std::sort(all.begin(), all.end());
    std::printf(
        "%-20s %6zu readings; made of believed: half below %.2f, 95 %% below %.2f, all %.2f\n",
        key.c_str(), all.size(), all[all.size() / 2], all[all.size() * 95 / 100], all.back());
    EXPECT_LE(all.back(), 1) << key;
  }
}

}  // namespace
}  // namespace legwork::suspects
