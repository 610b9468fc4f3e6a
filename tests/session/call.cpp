#include "tests/session/call.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>

#include "engine/fault/fault.h"
#include "engine/session/proving.h"

namespace legwork::session {
namespace {

std::shared_ptr<const unit::Unit> unit_of(const std::string& name) {
  static std::map<std::string, std::shared_ptr<const unit::Unit>> loaded;
  std::shared_ptr<const unit::Unit>& unit = loaded[name];
  if (unit == nullptr) {
    const std::string home = LEGWORK_SOURCE_DIR;
    Diagnostics found;
    auto read = unit::load_file(home + "/circuits/" + name + ".yaml", home + "/assets", found);
    EXPECT_TRUE(read) << found.text();
    unit = std::make_shared<const unit::Unit>(std::move(*read));
  }
  return unit;
}

// Just started: brought there once, copied for each call.
const sim::World& cooling(const std::string& name) {
  static std::map<std::string, std::unique_ptr<sim::World>> worlds;
  std::unique_ptr<sim::World>& world = worlds[name];
  if (world == nullptr) {
    world = std::make_unique<sim::World>(unit_of(name), std::vector<fault::Fault>{},
                                         sim::Surroundings{});
    // From a box that stood open into the start of a pull: it goes on calling for long.
    EXPECT_TRUE(world->bring_to(sim::State::satisfied));
    world->set_door(true);
    world->run(sim::minutes(25));
    world->set_door(false);
    EXPECT_TRUE(world->run_until([](const sim::World& w) { return w.doing().compressor; },
                                 sim::minutes(120)));
    world->run(sim::minutes(1));
  }
  return *world;
}

}  // namespace

Call::Call(const std::vector<std::string>& wrong, double run_minutes, const std::string& unit,
           bool senses_err) {
  sim::World world = cooling(unit);
  auto scenario = std::make_shared<fault::Scenario>();
  scenario->id = "bench";
  scenario->unit = unit;
  for (const std::string& text : wrong) {
    const auto fault = fault::parse_fault(*unit_of(unit), text);
    EXPECT_TRUE(fault);
    if (!fault) continue;
    world.add_fault(*fault);
    scenario->wrong.push_back({*fault, "", {}});
  }
  world.run(sim::minutes(run_minutes));
  attempt_ = begin_in(std::move(world), scenario, 1);
  attempt_->site.senses_err = senses_err;
}

Outcome Call::operator()(const std::string& line) {
  const ParsedStep parsed = parse_step(line);
  EXPECT_TRUE(parsed.step) << line << ": " << parsed.why;
  if (!parsed.step) return {};
  Outcome outcome = submit(*attempt_, *parsed.step);
  EXPECT_TRUE(outcome.accepted) << line << ": " << outcome.why;
  for (const Hazard& hazard : outcome.hazards) hazards.push_back(hazard.id);
  return outcome;
}

void Call::all(const std::vector<std::string>& lines) {
  for (const std::string& line : lines) (*this)(line);
}

std::string Call::shown(const std::string& line) {
  const Outcome outcome = (*this)(line);
  return outcome.seen.observations.empty()
             ? ""
             : english(session::shown(outcome.seen.observations.front()));
}

double Call::value(const std::string& line) {
  const Outcome outcome = (*this)(line);
  return outcome.seen.observations.empty() ? -1e9 : outcome.seen.observations.front().value;
}

std::string Call::why(const std::string& line) {
  const ParsedStep parsed = parse_step(line);
  if (!parsed.step) return english(parsed.why);
  const Outcome outcome = submit(*attempt_, *parsed.step);
  EXPECT_FALSE(outcome.accepted) << line;
  return english(outcome.why);
}

bool Call::has(const std::string& hazard) const {
  return std::find(hazards.begin(), hazards.end(), hazard) != hazards.end();
}

bool Call::heard(const Outcome& outcome, const std::string& what) const {
  return std::any_of(outcome.seen.happenings.begin(), outcome.seen.happenings.end(),
                     [&](const Happening& h) { return english(sentence(h)) == what; });
}

void Call::at_the_open_panel() { all({"go roof", "gloves on", "cover off roof"}); }

void Call::locked_out() {
  all({"open DISC", "lock DISC"});
  prove_dead_here();
}

void Call::prove_dead_here() {
  const circuit::Circuit& wiring = attempt_->unit->circuit;
  std::string parts;
  std::size_t count = 0;
  const auto prove = [&] {
    if (count > 0) (*this)("prove dead" + parts);
    parts.clear();
    count = 0;
  };
  for (const circuit::Device& device : wiring.devices) {
    if (!refuse_proving(*attempt_, device.name).empty()) continue;
    parts += " " + device.name;
    if (++count == kMostProven) prove();
  }
  prove();
}

void Call::wire_off_the_capacitor() {
  sim::World& world = attempt_->site.world;
  const circuit::Circuit& circuit = attempt_->unit->circuit;
  EXPECT_TRUE(world.lift_wire(circuit.find_wire("CF1.R>CAP1.1"), false).done);
  world.run(4);
  EXPECT_GT(charge_on(attempt_->site, circuit.find_device("CAP1")), 50);
}

}  // namespace legwork::session
