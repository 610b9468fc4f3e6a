#pragma once
// A call, lived through once more with all suspects beside it: what each step told when it was
// taken, and the facts that the account is made of. Used for a log read back, and by simulated
// trainees while they work.
//
//   Call call(session::begin(unit, scenario, seed), lineup, {});
//   for (const std::string& line : lines) call.take(*session::parse_step(line).step);
//   Facts facts = call.facts(route);
//
// The list of suspects closes when the last of what was wrong is cured: a machine that runs as it
// should says nothing about who else it could have been.
//
// Everything is a function of the steps: no clock, no file, no dice beyond the attempt's own seed.

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "engine/score/debrief.h"
#include "engine/score/grade.h"
#include "engine/session/attempt.h"
#include "engine/sim/roles.h"
#include "engine/suspects/advice.h"
#include "engine/suspects/condemning.h"
#include "engine/suspects/suspects.h"

namespace legwork::score {

inline constexpr int kThreads = 2;  // that a call and what is made of it take

struct CallOptions {
  int threads = kThreads;
  bool judge_steps = true;  // class, better step, lost minutes: asks for advice before each reading
  bool keep_sheet = false;  // what each terminal followed after each step, and charts by the minute
};

// How the machine stood at one minute of the call.
struct Sample {
  double minute = 0;
  double box_k = 0, head_pa = 0, suction_pa = 0, amps = 0;
};

// Why a step that told nothing new was right all the same.
enum class Practice { none, supply, product, confirmed, open_device, tripped, lead };

struct CallStep {
  session::Step step;
  session::Outcome outcome;
  std::string place;     // where it was done
  double at_minute = 0;  // when it ended
  suspects::Taken taken;
  StepClass step_class = StepClass::other;
  Practice practice = Practice::none;
  double bits = 0;         // it would have told, as known then
  suspects::Offer better;  // the best offer then; no steps if none was asked for
  double lost_minutes = 0;
  bool searching = false;                    // its minutes count for Route
  bool machine_ran = false;                  // the compressor turned when it ended
  std::vector<suspects::Standing> standing;  // after it
  int suspects_left = 0;
  int repairs_left = 0;
  std::optional<suspects::Reading> reading;  // what it showed, for the test that condemns
  Sample at_end;
  std::vector<Sample> on_the_way;  // every minute of a longer step, if the sheet is kept
  std::vector<Follows> terminals;  // if asked for
};

// What the readings said at one moment, kept when a repair was made.
struct Frozen {
  std::size_t step = 0;  // index of the repair; size of steps() = the end
  std::string repair;    // its text; "" = the write-up
  bool spends_part = false;
  std::vector<std::string> cured;  // "condenser: plugged inside"
  std::vector<double> flat;        // by suspect
  std::vector<double> shop;
  std::vector<suspects::Standing> standing;
};

// What the reference searcher makes of this ticket (route.h).
struct Reference {
  double minutes = 1;                    // search minutes against which Route is held
  double mean_minutes = 0;               // its mean over all that the ticket could be about
  std::vector<std::string> look_alikes;  // repairs that it could not tell from the true one
  std::vector<session::Finding> same;    // findings that no step could tell from the true one
};

// Does this point of a thermometer show the air or the goods of the box that the call is about?
bool reads_the_box(const session::Attempt& attempt, std::string_view probe);

class Call {
 public:
  Call(std::shared_ptr<session::Attempt> attempt, suspects::LineupPtr lineup,
       const CallOptions& options);

  // The same call, to be ended otherwise: nothing is shared with it that changes.
  Call fork() const;

  // Refused steps are returned and leave no trace.
  session::Outcome take(const session::Step& step);

  const session::Attempt& attempt() const { return *attempt_; }
  suspects::Suspects& suspects() { return suspects_; }
  const suspects::Suspects& suspects() const { return suspects_; }
  const std::vector<CallStep>& steps() const { return steps_; }
  const Sample& on_arrival() const { return on_arrival_; }
  // What was read before the step of that index.
  std::vector<suspects::Reading> readings(std::size_t before) const;
  const suspects::Condemning& condemning() const { return condemning_; }
  // The test that condemns this suspect's fault, from here: of its ways the shortest that would
  // show in the suspect's own world; if none would, the shortest.
  std::vector<session::Step> condemning_steps(int suspect) const;
  double search_minutes() const;  // until the fault was cured, or so far
  bool cured() const { return cured_at_ != kNotYet; }

  Facts facts(const Reference& reference, const Rubric& rubric) const;
  // What is behind the ticket: simulated when first asked for.
  const sim::AnswerKey& answer_key() const;

 private:
  static constexpr std::size_t kNotYet = static_cast<std::size_t>(-1);
  Frozen freeze() const;
  bool taken_since_change(const session::Step& step) const;
  Practice practice_of(const CallStep& step) const;
  bool told_by_the_ticket(const CallStep& step) const;
  Message test_words(const fault::Fault& fault) const;
  const Frozen* frozen_for(const std::vector<fault::Fault>& claimed, Frozen& now) const;

  std::shared_ptr<const session::Attempt> begun_;  // as it was when the call began
  std::shared_ptr<session::Attempt> attempt_;
  suspects::Suspects suspects_;
  suspects::Condemning condemning_;
  CallOptions options_;
  std::vector<CallStep> steps_;
  std::vector<Frozen> frozen_;
  Sample on_arrival_;
  std::vector<double> arrival_flat_;
  std::vector<std::string> not_needed_;  // repairs that spent a part and cured nothing
  int parts_replaced_ = 0;
  mutable std::optional<sim::AnswerKey> key_;
  std::size_t cured_at_ = kNotYet;  // index of the step that cured the last of what was wrong
};

// The repairs that a finding points to: those of the catalogue's faults of that name and way.
std::vector<std::string> repairs_of(const suspects::Lineup& lineup,
                                    const session::Finding& finding);
// "the condenser, plugged inside"
Message in_words(const session::Finding& finding);

}  // namespace legwork::score
