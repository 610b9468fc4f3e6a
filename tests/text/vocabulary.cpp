#include "tests/text/vocabulary.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>

#include "engine/circuit/kinds.h"
#include "engine/circuit/quantities.h"
#include "engine/fault/modes.h"
#include "engine/fault/scenario.h"
#include "engine/session/hazards.h"
#include "engine/session/verbs.h"
#include "engine/unit/unit.h"

namespace legwork::text {
namespace {

class Words {
 public:
  // Codes of parts and numbers are no words of a language.
  void add(std::string_view word) {
    if (std::any_of(word.begin(), word.end(), [](char c) { return c >= 'a' && c <= 'z'; }))
      words_.emplace(word);
  }
  std::set<std::string> take() { return std::move(words_); }

 private:
  std::set<std::string> words_;
};

void add_kinds(Words& words) {
  for (const circuit::Kind* kind : circuit::kinds()) {
    words.add(kind->name);
    for (const circuit::FaultMode& mode : kind->modes) {
      words.add(mode.name);
      for (const circuit::Level& level : mode.levels) words.add(level.words);
    }
    for (const circuit::KindLook& look : kind->looks) {
      for (const circuit::KindLook::State& state : look.states) words.add(state.words);
    }
  }
  for (const circuit::KindLook& look : circuit::joint_looks()) {
    for (const circuit::KindLook::State& state : look.states) words.add(state.words);
  }
  for (const circuit::WireFaultMode& mode : circuit::wire_modes()) {
    words.add(mode.name);
    for (const circuit::Level& level : mode.levels) words.add(level.words);
  }
  for (int why = 0; why <= static_cast<int>(circuit::Why::at_rest); ++why)
    words.add(circuit::why_words(static_cast<circuit::Why>(why)));
}

void add_unit(const unit::Unit& unit, Words& words) {
  for (const std::string& thing : fault::things(unit)) {
    const bool named =
        unit.circuit.find_device(thing).valid() || unit.circuit.find_wire(thing).valid();
    if (!named) words.add(thing);
    // The ways of a wire are the same everywhere (add_kinds), but for the terminals it may be on.
    if (unit.circuit.find_wire(thing).valid()) continue;
    for (const fault::Mode& mode : fault::modes_of(unit, thing)) {
      words.add(mode.how);
      for (const fault::Level& level : mode.levels) words.add(level.words);
    }
  }
  for (const unit::Place& place : unit.places) words.add(place.id);
  for (const unit::ProbePoint& probe : unit.probes) words.add(probe.id);
  for (const unit::RungSection& section : unit.sections) words.add(section.title);
  for (const unit::Look& look : unit.looks) {
    if (!unit.circuit.find_device(look.target).valid()) words.add(look.target);
    if (!look.needs.empty()) words.add("with " + look.needs);
  }
}

std::vector<std::string> files_of(const char* folder) {
  std::vector<std::string> out;
  for (const auto& entry :
       std::filesystem::directory_iterator(std::string(LEGWORK_SOURCE_DIR) + folder)) {
    if (entry.path().extension() == ".yaml") out.push_back(entry.path().string());
  }
  std::sort(out.begin(), out.end());
  return out;
}

}  // namespace

std::set<std::string> vocabulary() {
  Words words;
  add_kinds(words);
  const std::string assets = std::string(LEGWORK_SOURCE_DIR) + "/assets";
  for (const std::string& path : files_of("/circuits")) {
    Diagnostics found;
    const auto unit = unit::load_file(path, assets, found);
    EXPECT_TRUE(unit) << found.text();
    if (unit) add_unit(*unit, words);
  }
  for (const std::string& path : files_of("/scenarios")) {
    Diagnostics found;
    const auto scenario = fault::load_scenario_file(path, found);
    EXPECT_TRUE(scenario) << found.text();
    if (!scenario) continue;
    words.add(scenario->ticket.site);
    for (const std::string& skill : scenario->skills) words.add(skill);
  }
  for (const session::Verb* verb : session::verbs()) {
    if (verb->read != nullptr) words.add(verb->name);  // the function on a tag
  }
  for (const session::HazardRow& row : session::hazard_rows()) words.add(row.id);
  for (const std::string_view question : fault::questions()) words.add(question);
  for (const char* word :
       {"whose lock", "signed off", "doing its work", "with infrared", "on", "off", "resistor",
        "screwdriver",
        // what a learner's progress has beside the skills of scenarios
        "root behind the symptom", "route", "verification", "hand-over", "sureness", "safe work"})
    words.add(word);
  return words.take();
}

}  // namespace legwork::text
