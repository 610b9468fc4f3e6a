#pragma once
// The rules by which findings, verifying and handing over are judged, each with its sentence. Parts
// of Call::facts (call.h); plain functions of the log's facts and of the computed answer.

#include <string>
#include <vector>

#include "engine/fault/repairs.h"
#include "engine/score/grade.h"
#include "engine/session/attempt.h"
#include "engine/sim/roles.h"
#include "engine/suspects/lineup.h"

namespace legwork::score {

struct CallStep;
struct Reference;

struct Truth {
  sim::AnswerKey key;
  std::vector<fault::Fault> faults;  // the root first
  std::vector<std::string>
      accepted_repairs;                // of the root, and those that no step can tell from it
  std::vector<session::Finding> same;  // findings that no step can tell from the root
  // Is it damage that followed from the root?
  const sim::Damage* followed(const std::string& what) const;
};
// `key`: sim::answer_key() of the attempt's scenario; it takes a simulation, so it is asked for
// once.
Truth truth_of(const session::Attempt& attempt, const suspects::Lineup& lineup,
               const Reference& reference, const sim::AnswerKey& key);

// Stopped by, Part, How it failed, Root cause.
void judge_findings(const session::WriteUp& wrote, const Truth& truth, const Rubric& rubric,
                    Facts& facts);

// All of it when the machine did its work again for long enough after the last repair, was read
// while it did, with the box going the right way then, and was left as it should stand. A part when
// it was only seen to start, or when something is left undone: that is named.
Judged judge_verified(const std::vector<CallStep>& steps, std::size_t cured_at,
                      const session::Attempt& attempt, const suspects::Lineup& lineup,
                      const Rubric& rubric);

// Product and follow-up, by the temperatures that were read and the rule that applies; what is
// typed is kept and never scored.
Judged judge_hand_over(const session::WriteUp& wrote, const std::vector<CallStep>& steps,
                       const session::Attempt& attempt, bool cured);
// What the log says was done, a line each, to be signed: "replaced CC coil".
std::vector<Message> done_lines(const std::vector<CallStep>& steps);

// A fuse that had blown (`blown`), replaced after its reason was cured, was needed although it was
// no fault. A whole one was not.
bool renews_what_blew(const session::Attempt& attempt, const fault::Repair& repair, bool blown);

bool compressor_turns(const session::Attempt& attempt);
double compressor_amps(const sim::World& world);  // largest lead

}  // namespace legwork::score
