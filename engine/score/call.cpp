#include "engine/score/call.h"

#include <algorithm>
#include <initializer_list>
#include <optional>
#include <utility>

#include "engine/fault/repairs.h"
#include "engine/score/judge.h"
#include "engine/score/pages.h"
#include "engine/score/words.h"
#include "engine/session/verbs.h"
#include "engine/suspects/route.h"

namespace legwork::score {

namespace {

// Bits. A better step is named if it would have told so much more about the repair.
constexpr double kWorthSaying = 0.35;
// Of the repairs that fit: and if it would have left no more.
constexpr double kWorthLeft = 2.0 / 3;

constexpr double kChartMinutes = 1;

// `box`: the one that the call is about.
Sample sample_of(const sim::World& world, std::size_t box, double minute) {
  const plant::Outputs& out = world.outputs();
  return {minute, plant::evaporator_of(out, box).box_k, out.discharge_pa - out.atmosphere_pa,
          out.suction_pa - out.atmosphere_pa, compressor_amps(world)};
}

bool the_lead_takes(const fault::Scenario& scenario, const session::Step& step) {
  const std::string text = session::text(step);
  return std::any_of(scenario.lead.begin(), scenario.lead.end(),
                     [&](const auto& one) { return one.step == text; });
}

bool contains(const std::vector<std::string>& list, const std::string& item) {
  return std::find(list.begin(), list.end(), item) != list.end();
}

}  // namespace

std::vector<std::string> repairs_of(const suspects::Lineup& lineup,
                                    const session::Finding& finding) {
  std::vector<std::string> exact, of_the_part;
  for (const suspects::Suspect& s : lineup.suspects) {
    for (std::size_t k = 0; k < s.faults.size() && k < s.repairs.size(); ++k) {
      if (s.faults[k].what != finding.what) continue;
      if (!contains(of_the_part, s.repairs[k])) of_the_part.push_back(s.repairs[k]);
      if (s.faults[k].how == finding.how && !contains(exact, s.repairs[k]))
        exact.push_back(s.repairs[k]);
    }
  }
  return exact.empty() ? of_the_part : exact;
}

Message in_words(const session::Finding& finding) {
  if (finding.empty()) return {};
  if (finding.how.empty()) return the(finding.what);
  return say("{part} ({how})", {{"part", the(finding.what)}, {"how", Name{finding.how}}});
}

Call::Call(std::shared_ptr<session::Attempt> attempt, suspects::LineupPtr lineup,
           const CallOptions& options)
    : begun_(std::make_shared<const session::Attempt>(*attempt)),
      attempt_(std::move(attempt)),
      suspects_(std::move(lineup), options.threads, options.judge_steps),
      condemning_(*suspects_.lineup().eyes),
      options_(options),
      on_arrival_(
          sample_of(attempt_->site.world, attempt_->scenario->found.about, attempt_->minutes())),
      arrival_flat_(suspects_.belief().by_suspect(suspects::Prior::flat)) {}

Call Call::fork() const {
  Call other(*this);
  other.attempt_ = std::make_shared<session::Attempt>(*attempt_);
  return other;
}

Frozen Call::freeze() const {
  Frozen f;
  f.step = steps_.size();
  f.flat = suspects_.belief().by_suspect(suspects::Prior::flat);
  f.shop = suspects_.belief().by_suspect(suspects::Prior::shop);
  for (std::size_t i = 0; i < suspects_.belief().size(); ++i) {
    f.standing.push_back(suspects_.belief().standing(i));
  }
  return f;
}

session::Outcome Call::take(const session::Step& step) {
  const session::Outcome first = session::would(*attempt_, step);
  if (!first.accepted) return first;
  const session::Verb* verb = session::find_verb(step.verb);
  CallStep s;
  s.step = step;
  s.place = attempt_->book.place;
  s.searching = suspects::counts_as_search(step) && !cured();

  const bool reads = verb->read != nullptr && verb->group != session::Group::repair;
  const bool searches = reads && verb->group != session::Group::safety;
  const int repairs_before = suspects_.belief().alive_class_count();
  suspects::Advice advice;
  if (options_.judge_steps && searches && !cured()) {
    s.bits = suspects::bits_of(suspects_, step);
    advice = suspects::advise(suspects_, *attempt_, {.threads = options_.threads, .keep = 1});
    if (!advice.offers.empty()) s.better = advice.offers.front();
  }
  Frozen frozen;
  const std::vector<fault::Fault> wrong_before = attempt_->site.world.faults();
  if (verb->group == session::Group::repair) frozen = freeze();

  // A fuse that has blown, before a new one takes its place.
  bool blown = false;
  if (verb->name == "repair") {
    if (const auto about = fault::find_repair(*attempt_->unit, step.arguments[0]))
      blown = session::fuse_is_blown(attempt_->site,
                                     attempt_->unit->circuit.find_device(about->object));
  }

  std::optional<sim::World> on_its_way;
  if (options_.keep_sheet && first.minutes > 1.5 * kChartMinutes) on_its_way = attempt_->site.world;
  const double from = attempt_->minutes();
  s.outcome = session::submit(*attempt_, step);
  if (!s.outcome.accepted) return s.outcome;
  s.step = attempt_->book.last_act.step;  // names put right
  for (double m = kChartMinutes; on_its_way && m < s.outcome.minutes - 0.5; m += kChartMinutes) {
    on_its_way->run(sim::minutes(kChartMinutes));
    s.on_the_way.push_back(sample_of(*on_its_way, attempt_->scenario->found.about, from + m));
  }
  const std::vector<fault::Fault>& wrong_now = attempt_->site.world.faults();
  const bool sound_all_along = wrong_before.empty() && !cured();
  if (!wrong_now.empty() || sound_all_along)
    s.taken = suspects_.take(attempt_->book.last_act, s.outcome.seen);
  if (verb->name == "repair") {
    const auto repair = fault::find_repair(*attempt_->unit, step.arguments[0]);
    for (const fault::Fault& f : wrong_before) {
      if (std::find(wrong_now.begin(), wrong_now.end(), f) == wrong_now.end()) {
        frozen.cured.push_back(fault::text(*attempt_->unit, f));
      }
    }
    frozen.repair = step.arguments[0];
    frozen.spends_part = repair && repair->replaces_part;
    if (frozen.spends_part) {
      ++parts_replaced_;
      if (frozen.cured.empty() && !renews_what_blew(*attempt_, *repair, blown)) {
        not_needed_.push_back(repair->object);
      }
    }
    frozen_.push_back(std::move(frozen));
  }
  if (!wrong_before.empty() && wrong_now.empty() && !cured()) cured_at_ = steps_.size();

  s.reading = suspects::reading_of(attempt_->site, attempt_->book.last_act, s.outcome.seen,
                                   *suspects_.lineup().eyes);
  s.at_minute = attempt_->minutes();
  s.machine_ran = compressor_turns(*attempt_);
  s.at_end = sample_of(attempt_->site.world, attempt_->scenario->found.about, s.at_minute);
  if (options_.keep_sheet) s.terminals = follows(attempt_->site);
  for (std::size_t i = 0; i < suspects_.belief().size(); ++i) {
    s.standing.push_back(suspects_.belief().standing(i));
  }
  s.suspects_left = suspects_.belief().alive_count();
  s.repairs_left = suspects_.belief().alive_class_count();

  const double minutes = s.outcome.minutes;
  const bool unsafe =
      std::any_of(s.outcome.hazards.begin(), s.outcome.hazards.end(), [](const auto& h) {
        return h.harm == session::Harm::serious || h.harm == session::Harm::ends_the_call;
      });
  if (unsafe) {
    s.step_class = StepClass::unsafe;
  } else if (!reads || !s.outcome.seen.reads()) {
    s.step_class = StepClass::other;
  } else if (verb->group == session::Group::safety) {
    s.step_class = StepClass::safe_working;
  } else if (cured()) {
    s.step_class = StepClass::verifying;
  } else if (s.taken.readings == 0 && taken_since_change(s.step)) {
    s.step_class = StepClass::repeat;
    s.lost_minutes = minutes;
  } else if (!s.taken.struck.empty() || !s.taken.back.empty()) {
    s.step_class =
        s.repairs_left == 1 && repairs_before > 1 ? StepClass::decisive : StepClass::told;
    const double best = s.better.steps.empty() ? 0 : s.better.rate();
    if (best > 0) s.lost_minutes = std::max(0.0, minutes - s.bits / best);
  } else {
    s.practice = practice_of(s);
    s.step_class = s.practice != Practice::none                      ? StepClass::practice
                   : !s.taken.would.empty() || told_by_the_ticket(s) ? StepClass::known
                                                                     : StepClass::nothing;
    if (s.practice == Practice::none) s.lost_minutes = minutes;
  }
  // Where a code, this trade or the write-up asks for it, or the lead goes that way, nothing else
  // would have been better.
  const bool better = !s.better.steps.empty() && s.better.bits > s.bits + kWorthSaying &&
                      s.better.repairs_left <= kWorthLeft * repairs_before &&
                      !the_lead_takes(*attempt_->scenario, s.step) &&
                      (s.step_class == StepClass::told || s.step_class == StepClass::known ||
                       s.step_class == StepClass::nothing || s.step_class == StepClass::repeat);
  if (!better) s.better = {};
  steps_.push_back(std::move(s));
  return steps_.back().outcome;
}

namespace {

// Does this point show one of these?
bool shows(const unit::Unit& unit, std::string_view probe,
           std::initializer_list<std::string> quantities) {
  for (const unit::ProbePoint& point : unit.probes) {
    if (point.id != probe) continue;
    return std::find(quantities.begin(), quantities.end(), point.quantity) != quantities.end();
  }
  return false;
}

}  // namespace

bool reads_the_box(const session::Attempt& attempt, std::string_view probe) {
  const std::size_t box = attempt.scenario->found.about;
  return shows(*attempt.unit, probe,
               {plant::numbered("box.air", box), plant::numbered("box.product", box)});
}

// Was this very step taken since anything was changed or waited for? What was only glimpsed, or
// shown by leads that were left on, was not.
bool Call::taken_since_change(const session::Step& step) const {
  for (auto before = steps_.rbegin(); before != steps_.rend(); ++before) {
    if (before->step == step) return true;
    if (session::changes_or_waits(before->step) || !before->outcome.seen.happenings.empty())
      return false;
  }
  return false;
}

// Is it what the trade asks for, whether it tells anything or not?
Practice Call::practice_of(const CallStep& s) const {
  const suspects::Lineup& lineup = suspects_.lineup();
  const circuit::Circuit& wiring = attempt_->unit->circuit;
  if (s.step.verb == "temp" && !s.step.arguments.empty()) {
    if (reads_the_box(*attempt_, s.step.arguments[0])) return Practice::product;
  }
  if (s.step.verb == "volts" && s.step.arguments.size() == 2) {
    const circuit::TerminalId a = wiring.find_terminal(s.step.arguments[0]);
    const circuit::TerminalId b = wiring.find_terminal(s.step.arguments[1]);
    if (!a.valid() || !b.valid() || !s.outcome.seen.reads()) return Practice::none;
    const suspects::Rungs& rungs = lineup.eyes->rungs();
    if (rungs.leads(a, b) == suspects::Leads::supply) return Practice::supply;
    // The write-up asks what stopped it: full volts across a contact show it.
    const double least = (1 - lineup.eyes->table().volts_part) * rungs.volts(a, b);
    if (rungs.leads(a, b) == suspects::Leads::contact &&
        s.outcome.seen.observations.front().value >= least && !(s.reading && s.reading->ghost))
      return Practice::open_device;
  }
  // What stopped the machine, looked at.
  if (s.step.verb == "look" && !s.step.arguments.empty() && s.outcome.seen.reads() &&
      s.step.arguments[0] == answer_key().stopped_by && !answer_key().as_it_should)
    return Practice::tripped;
  // The lead reads it too; to earth the lead reads to show how little it tells.
  const auto by_the_lead = [&] {
    if (std::find(s.step.arguments.begin(), s.step.arguments.end(), "GND") !=
            s.step.arguments.end() &&
        s.step.verb != "insulation")
      return Practice::none;
    return the_lead_takes(*attempt_->scenario, s.step) ? Practice::lead : Practice::none;
  };
  // Part of the test that condemns what is left, when little is.
  constexpr int kFewRepairs = 3;
  if (!s.reading || suspects_.belief().alive_class_count() > kFewRepairs) return by_the_lead();
  const std::vector<suspects::Reading> before = readings(steps_.size());
  std::vector<suspects::Reading> with = before;
  with.push_back(*s.reading);
  for (const int i : suspects_.alive()) {
    for (const fault::Fault& f : lineup.suspects[static_cast<std::size_t>(i)].faults) {
      if (condemning_.advances(f, before, with)) return Practice::confirmed;
    }
  }
  return by_the_lead();
}

// Does it show what was found on arrival and stood on the ticket?
bool Call::told_by_the_ticket(const CallStep& s) const {
  const fault::Found& found = attempt_->scenario->found;
  if (s.step.arguments.empty()) return false;
  const std::string& thing = s.step.arguments[0];
  if (s.step.verb == "temp") {
    for (std::size_t i = 0; i < plant::kMostEvaporators; ++i) {
      if (plant::evaporator_of(found, i).box_k &&
          shows(*attempt_->unit, thing, {plant::numbered("box.air", i)}))
        return true;
    }
    return false;
  }
  if (s.step.verb != "look" && s.step.verb != "listen") return false;
  const unit::Unit& unit = *attempt_->unit;
  const auto drives = [&](std::string_view drive) {
    for (std::size_t i = 0; i < unit.load_links.size() && i < unit.circuit.loads.size(); ++i) {
      if (unit.circuit.loads[i].name == thing && unit.load_links[i].plant_index >= 0 &&
          plant::drives()[static_cast<std::size_t>(unit.load_links[i].plant_index)]
              .name.starts_with(drive))
        return true;
    }
    return false;
  };
  for (std::size_t i = 0; i < plant::kMostEvaporators; ++i) {
    if (plant::evaporator_of(found, i).evaporator_fans &&
        (drives(plant::numbered("evaporator.fan 1", i)) ||
         drives(plant::numbered("evaporator.fan 2", i))))
      return true;
  }
  for (std::size_t i = 0; i < plant::kMostCompressors; ++i) {
    if ((found.compressor || found.compressors[i]) &&
        drives(plant::numbered("compressor.speed", i)))
      return true;
  }
  return found.condenser_fans && drives("condenser.fan");
}

std::vector<suspects::Reading> Call::readings(std::size_t before) const {
  std::vector<suspects::Reading> out;
  for (std::size_t k = 0; k < std::min(before, steps_.size()); ++k) {
    if (steps_[k].reading) out.push_back(*steps_[k].reading);
  }
  return out;
}

double Call::search_minutes() const {
  double minutes = 0;
  for (const CallStep& s : steps_) minutes += s.searching ? s.outcome.minutes : 0;
  return minutes;
}

// The proof of a fault is what the readings said when the first part was replaced for it: a repair
// that cured it, or one that spent a part and cured nothing.
const Frozen* Call::frozen_for(const std::vector<fault::Fault>& claimed, Frozen& now) const {
  for (const Frozen& f : frozen_) {
    if (f.spends_part && f.cured.empty()) return &f;
    for (const fault::Fault& c : claimed) {
      if (contains(f.cured, fault::text(*attempt_->unit, c))) return &f;
    }
  }
  now = freeze();
  return &now;
}

std::vector<session::Step> Call::condemning_steps(int suspect) const {
  const suspects::Lineup& lineup = suspects_.lineup();
  const fault::Fault& fault = lineup.suspects[static_cast<std::size_t>(suspect)].faults.front();
  const std::vector<suspects::Reading> before = readings(steps_.size());
  std::vector<std::vector<session::Step>> plans = condemning_.plans(*attempt_, fault, before);
  // A way that was gone since anything changed, and did not show it, is not gone again: the next
  // is.
  std::erase_if(plans, [&](const std::vector<session::Step>& plan) {
    const auto reads = [](const session::Step& step) {
      const session::Verb* verb = session::find_verb(step.verb);
      return verb->read != nullptr && verb->group != session::Group::safety;
    };
    return std::any_of(plan.begin(), plan.end(), reads) &&
           std::none_of(plan.begin(), plan.end(), [&](const session::Step& step) {
             return reads(step) && !taken_since_change(step);
           });
  });
  if (plans.empty()) return {};
  if (plans.size() > 1 && suspects_.stepped(suspect)) {
    session::Attempt own = *attempt_;
    own.site = suspects_.site(suspect);
    for (std::vector<session::Step>& plan : plans) {
      if (condemning_.would_show(own, fault, plan, before)) return std::move(plan);
    }
  }
  return std::move(plans.front());
}

// The readings of the test that condemns it, from where the call began.
Message Call::test_words(const fault::Fault& fault) const {
  List list{{}, Joined::by_and};
  for (const session::Step& step : condemning_.steps(*begun_, fault)) {
    const session::Verb* verb = session::find_verb(step.verb);
    if (verb->read == nullptr || verb->group == session::Group::safety) continue;
    list.items.push_back(say(step));
  }
  return list.items.empty() ? Message() : Message(list);
}

const sim::AnswerKey& Call::answer_key() const {
  if (!key_) key_ = sim::answer_key(*attempt_->scenario, attempt_->unit);
  return *key_;
}

Facts Call::facts(const Reference& reference, const Rubric& rubric) const {
  Facts facts;
  const session::WriteUp& wrote = attempt_->book.write_up;
  const suspects::Lineup& lineup = suspects_.lineup();
  const session::Finding& claim = wrote.root.empty() ? wrote.part : wrote.root;
  const std::vector<std::string> named =
      claim.empty() ? std::vector<std::string>{} : repairs_of(lineup, claim);
  const Truth truth = truth_of(*attempt_, lineup, reference, answer_key());

  facts.right = std::any_of(named.begin(), named.end(), [&](const std::string& r) {
    return contains(truth.accepted_repairs, r);
  });
  judge_findings(wrote, truth, rubric, facts);
  facts.named = in_words(claim);

  std::vector<fault::Fault> claimed;
  for (const fault::Fault& f : truth.faults) {
    if (f.what == claim.what) claimed.push_back(f);
  }
  Frozen end;
  const Frozen& frozen = *frozen_for(claimed, end);
  facts.frozen_by = frozen.repair;
  std::vector<std::string> others;
  facts.evidence_alone = 0;
  for (std::size_t i = 0; i < lineup.suspects.size(); ++i) {
    const bool alone =
        std::any_of(lineup.suspects[i].repairs.begin(), lineup.suspects[i].repairs.end(),
                    [&](const std::string& r) { return contains(named, r); });
    if (alone) facts.evidence_alone += frozen.shop[i];
    const bool mine =
        alone || std::any_of(lineup.suspects[i].repairs.begin(), lineup.suspects[i].repairs.end(),
                             [&](const std::string& r) {
                               return facts.right && contains(truth.accepted_repairs, r);
                             });
    if (mine) {
      facts.proof_u += frozen.flat[i];
      facts.evidence_p += frozen.shop[i];
      facts.proof_u0 += arrival_flat_[i];
    } else if (frozen.standing[i] != suspects::Standing::ruled_out) {
      const std::string& name =
          lineup.classes[static_cast<std::size_t>(lineup.suspects[i].repair_class)];
      if (!contains(others, name)) others.push_back(name);
    }
  }
  // The other half of the proof: the test that condemns what is named, done by then.
  const std::vector<suspects::Reading> readings = this->readings(frozen.step);
  std::vector<fault::Fault> meant;
  for (const suspects::Suspect& s : lineup.suspects) {
    for (const fault::Fault& f : s.faults) {
      if (f.what == claim.what && f.how == claim.how) meant.push_back(f);
    }
  }
  for (const fault::Fault& f : truth.faults) {
    if (f.what == claim.what) meant.push_back(f);
  }
  facts.condemned = std::any_of(meant.begin(), meant.end(), [&](const fault::Fault& f) {
    return condemning_.done(f, readings);
  });
  // Not asked for where no step could have done it on this call.
  facts.condemnable =
      !facts.condemned && std::any_of(meant.begin(), meant.end(), [&](const fault::Fault& f) {
        const auto plans = condemning_.plans(*begun_, f);
        return std::any_of(plans.begin(), plans.end(), [&](const auto& plan) {
          return !facts.right || condemning_.would_show(*begun_, f, plan, {});
        });
      });
  facts.still_fitting = static_cast<int>(others.size());
  if (others.size() == 1) {
    facts.other = Name{others.front()};
    for (std::size_t i = 0; i < lineup.suspects.size(); ++i) {
      const suspects::Suspect& s = lineup.suspects[i];
      if (frozen.standing[i] == suspects::Standing::ruled_out ||
          lineup.classes[static_cast<std::size_t>(s.repair_class)] != others.front())
        continue;
      facts.would_settle = test_words(s.faults.front());
      break;
    }
  }
  if (!facts.condemned && !claim.empty())
    facts.condemning = test_words({claim.what, claim.how, fault::kUsualSeverity, {}});
  facts.unknown_leads = suspects_.belief().unknown_leads() && frozen_.empty();

  facts.minutes = search_minutes();
  facts.reference_minutes = reference.minutes;
  facts.hints = attempt_->book.shop_calls;
  facts.list_opened = attempt_->book.list_opened;
  facts.parts_replaced = parts_replaced_;
  facts.parts_not_needed = not_needed_;
  facts.sureness = wrote.sureness;
  facts.verified = judge_verified(steps_, cured_at_ == kNotYet ? steps_.size() : cured_at_,
                                  *attempt_, lineup, rubric);
  facts.hand_over = judge_hand_over(wrote, steps_, *attempt_, cured());
  for (const session::Hazard& h : attempt_->book.hazards) {
    if (h.harm == session::Harm::serious) {
      ++facts.serious_slips;
      facts.serious_why.push_back(Message(h.why));
    }
    if (h.harm == session::Harm::ends_the_call) {
      facts.ended_by_hazard = true;
      facts.ended_why = Message(h.why);
    }
  }
  return facts;
}

}  // namespace legwork::score
