#include "engine/suspects/route.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "engine/session/verbs.h"
#include "engine/suspects/parallel.h"
#include "engine/suspects/survey.h"

namespace legwork::suspects {

namespace {

constexpr int kDeepest = 40;
constexpr double kPoorBits = 0.35;      // when all readings here tell less, changes are looked at
constexpr std::size_t kFewEnough = 16;  // so many suspects left: changes are cheap to look at

struct Branch {
  std::vector<int> suspect;
  std::vector<session::Site> sites;
  session::Attempt attempt;  // for its book
  double minutes = 0;
  int depth = 0;
};

Columns columns_of(const Lineup& lineup, const std::vector<int>& suspects) {
  Columns c;
  std::map<int, int> names;
  for (const int i : suspects) {
    const Suspect& s = lineup.suspects[static_cast<std::size_t>(i)];
    const auto [it, fresh] = names.try_emplace(s.repair_class, static_cast<int>(names.size()));
    c.suspect.push_back(i);
    c.repair_class.push_back(it->second);
    c.belief.push_back(s.prior);
  }
  c.class_count = static_cast<int>(names.size());
  return c;
}

void end_here(const Branch& branch, RouteTree& tree) {
  for (const int i : branch.suspect) {
    tree.minutes[static_cast<std::size_t>(i)] = branch.minutes;
    tree.leaf[static_cast<std::size_t>(i)] = branch.suspect;
  }
}

void grow(const Lineup& lineup, Branch branch, const RouteOptions& options, RouteTree& tree) {
  if (options.cancel != nullptr && options.cancel->load()) return;
  const Columns columns = columns_of(lineup, branch.suspect);
  if (columns.class_count < 2 || branch.depth >= kDeepest) return end_here(branch, tree);
  std::vector<session::Site*> worlds;
  for (session::Site& site : branch.sites) worlds.push_back(&site);
  AdviceOptions ask{
      .elsewhere = true, .after_changes = false, .threads = options.threads, .keep = 1};
  Advice advice = advise_on(columns, worlds, branch.attempt, ask);
  const bool poor = advice.offers.empty() || advice.offers.front().bits < kPoorBits;
  if (options.after_changes && poor &&
      (advice.offers.empty() || columns.suspect.size() <= kFewEnough)) {
    ask.after_changes = true;
    advice = advise_on(columns, worlds, branch.attempt, ask);
  }
  if (advice.offers.empty()) return end_here(branch, tree);
  ++tree.tests;
  const Offer& offer = advice.offers.front();
  for (const session::Step& step : offer.steps) {
    const double minutes = session::would(branch.attempt, step).minutes;
    const session::Act act{step, sim::minutes(minutes), branch.attempt.book.place};
    for_each_index(branch.sites.size(), options.threads,
                   [&](std::size_t w) { session::act(branch.sites[w], act); });
    book_only(branch.attempt, std::vector<session::Step>{step});
    if (counts_as_search(step)) branch.minutes += minutes;
  }
  for (int l = 0; l < offer.outcomes; ++l) {
    Branch part{{}, {}, branch.attempt, branch.minutes, branch.depth + 1};
    for (std::size_t w = 0; w < branch.suspect.size(); ++w) {
      if (offer.label[w] != l) continue;
      part.suspect.push_back(branch.suspect[w]);
      part.sites.push_back(std::move(branch.sites[w]));
    }
    if (part.suspect.empty()) continue;
    part.attempt.site = part.sites.front();
    grow(lineup, std::move(part), options, tree);
  }
}

}  // namespace

bool counts_as_search(const session::Step& step) {
  const session::Verb* verb = session::find_verb(step.verb);
  if (verb == nullptr) return false;
  using session::Group;
  switch (verb->group) {
    case Group::walk:
    case Group::look:
    case Group::ask:
    case Group::measure:
    case Group::instruments:
    case Group::hands:
    case Group::settings:
    case Group::wait:
      return true;
    case Group::safety:
    case Group::repair:
    case Group::refrigerant:
    case Group::write:
      return false;
  }
  return false;
}

RouteTree plan_routes(const Lineup& lineup, const session::Attempt& attempt,
                      const RouteOptions& options) {
  RouteTree tree;
  tree.minutes.assign(lineup.suspects.size(), 0);
  tree.leaf.resize(lineup.suspects.size());
  Branch root{{}, {}, attempt, 0, 0};
  for (std::size_t i = 0; i < lineup.suspects.size(); ++i) {
    if (!lineup.suspects[i].on_arrival) continue;
    root.suspect.push_back(static_cast<int>(i));
    root.sites.push_back(lineup.suspects[i].sites.front());
  }
  if (root.suspect.empty()) return tree;
  root.attempt.site = root.sites.front();
  grow(lineup, std::move(root), options, tree);
  double sum = 0, weight = 0;
  for (std::size_t i = 0; i < lineup.suspects.size(); ++i) {
    if (!lineup.suspects[i].on_arrival) continue;
    sum += lineup.suspects[i].prior * tree.minutes[i];
    weight += lineup.suspects[i].prior;
  }
  tree.mean_minutes = weight > 0 ? sum / weight : 0;
  return tree;
}

std::vector<std::string> RouteTree::look_alikes(const Lineup& lineup, int suspect) const {
  std::vector<std::string> out;
  if (suspect < 0) return out;
  const int own = lineup.suspects[static_cast<std::size_t>(suspect)].repair_class;
  for (const int i : leaf[static_cast<std::size_t>(suspect)]) {
    const int y = lineup.suspects[static_cast<std::size_t>(i)].repair_class;
    const std::string& name = lineup.classes[static_cast<std::size_t>(y)];
    if (y != own && std::find(out.begin(), out.end(), name) == out.end()) out.push_back(name);
  }
  return out;
}

int suspect_of(const Lineup& lineup, const std::vector<fault::Fault>& faults) {
  int best = -1;
  double nearest = 1e300;
  for (std::size_t i = 0; i < lineup.suspects.size(); ++i) {
    const Suspect& s = lineup.suspects[i];
    if (s.faults.size() != faults.size()) continue;
    double off = 0;
    bool same = true;
    for (std::size_t k = 0; k < faults.size() && same; ++k) {
      const auto it = std::find_if(s.faults.begin(), s.faults.end(), [&](const fault::Fault& f) {
        return f.what == faults[k].what && f.how == faults[k].how;
      });
      same = it != s.faults.end();
      if (same) off += std::fabs(it->severity - faults[k].severity);
    }
    // Of equals the one that the ticket allows.
    if (same && (off < nearest || (off == nearest && s.on_arrival))) {
      nearest = off;
      best = static_cast<int>(i);
    }
  }
  return best;
}

}  // namespace legwork::suspects
