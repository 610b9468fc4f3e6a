#pragma once
// The lineup: every fault that a ticket could be about, each as a site of its own, on arrival.
//
//   LineupPtr lineup = line_up(unit, scenario, fault::catalogue(*unit, priors), {});
//   Suspects suspects(lineup);                                  // suspects.h
//
// Each fault of the catalogue (every severity level, and the pairs that the scenario's author
// lists) starts from a healthy machine and is rolled forward until it shows what the ticket says
// was found (arrivals.h); one that cannot within 48 h is ruled out by the ticket. Nothing here
// looks at what is wrong on the call.
//
// A machine that cycles is met at an unknown moment of its cycle: such a suspect is kept at several
// moments, and a reading fits it if it fits one of them. So is one whose compressor is fed and does
// not go, at the supply's volts and at a little less and more: there it may.

#include <atomic>
#include <memory>
#include <string>
#include <vector>

#include "engine/fault/catalogue.h"
#include "engine/fault/scenario.h"
#include "engine/session/site.h"
#include "engine/suspects/arrivals.h"
#include "engine/suspects/eyes.h"

namespace legwork::suspects {

struct Suspect {
  std::vector<fault::Fault> faults;  // one, or an author's pair
  std::string name;                  // "condenser: plugged inside: 0.65"
  std::vector<std::string> repairs;  // repair class of each fault: "wash condenser inside out"
  int repair_class = 0;              // index into Lineup::classes
  double prior = 1;
  // Comes and goes: two sites, one in which it acts all the time and one in which it is quiet.
  bool intermittent = false;
  bool on_arrival = false;           // can show what the ticket says
  std::vector<session::Site> sites;  // on arrival: one, or several moments of a cycle
  // The same fault, a step weaker and a step stronger: severity is a scale, not a list. -1: none.
  int weaker = -1;
  int stronger = -1;
};

struct Lineup {
  unit::UnitPtr unit;
  std::shared_ptr<const Eyes> eyes;  // by which its suspects are told apart
  std::shared_ptr<const fault::Scenario> scenario;
  std::vector<Suspect> suspects;
  std::vector<std::string> classes;  // "replace HPC"; pairs: "replace FU4 and tighten CC.T1>CF1.C"
  int possible = 0;                  // suspects with on_arrival
  // All that the lineup depends on, as text: what is worked out from it may be kept under it.
  std::string key;

  // Class of a repair text, -1 if nobody has it.
  int class_of(const std::string& repairs) const;
};
using LineupPtr = std::shared_ptr<const Lineup>;

struct LineupOptions {
  int threads = 2;
  std::string cache_folder;  // arrivals by content; "" = none
  // Nobody is rolled further than this: a call is about what happened since the last time that all
  // was well. The longest that a ticket can mean is 48 h.
  double longest_hours = 48;
  const std::atomic<bool>* cancel = nullptr;
  std::atomic<int>* done = nullptr;               // counts suspects, for "how far is it"
  const std::vector<Arrived>* arrived = nullptr;  // worked out already, in the lineup's order
  ArrivalWork* work = nullptr;                    // what it took; untouched if arrivals were kept
};

// Those of the catalogue who can be suspects, in the order of a lineup; without an author's pairs.
std::vector<std::vector<fault::Fault>> faults_of(const std::vector<fault::Candidate>& candidates);

// Null only if cancelled.
LineupPtr line_up(unit::UnitPtr unit, std::shared_ptr<const fault::Scenario> scenario,
                  const std::vector<fault::Candidate>& candidates, const LineupOptions& options);

}  // namespace legwork::suspects
