#pragma once
// The rules by which findings, verifying and handing over are judged, each with its sentence. Parts
// of Call::facts (call.h); plain functions of what stands in the book and of the computed answer.

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
};
// `key`: sim::answer_key() of the attempt's scenario; it takes a simulation, so it is asked for
// once.
Truth truth_of(const session::Attempt& attempt, const suspects::Lineup& lineup,
               const Reference& reference, const sim::AnswerKey& key);

// Stopped by, Part, How it failed, Root cause.
void judge_findings(const session::WriteUp& wrote, const Truth& truth, const Rubric& rubric,
                    Facts& facts);

// All of it when the machine was run long enough after the repair, was seen to run right, and
// stands as it should when it is left; a part when it was only seen to start.
Judged judge_verified(const std::vector<CallStep>& steps, std::size_t cured_at,
                      const session::Attempt& attempt, const Rubric& rubric);

// Product, follow-up, what the site was told, what was written down: a quarter each.
Judged judge_hand_over(const session::WriteUp& wrote, const session::Attempt& attempt, bool cured);

// A fuse that had blown (`blown`), replaced after its reason was cured, was needed although it was
// no fault. A whole one was not.
bool renews_what_blew(const session::Attempt& attempt, const fault::Repair& repair, bool blown);

bool compressor_turns(const session::Attempt& attempt);
double compressor_amps(const sim::World& world);  // largest lead

}  // namespace legwork::score
