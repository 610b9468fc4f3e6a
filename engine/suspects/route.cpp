#include "engine/suspects/route.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "engine/session/verbs.h"
#include "engine/suspects/parallel.h"
#include "engine/suspects/survey.h"

namespace legwork::suspects {

namespace {

constexpr int kDeepest = 40;
constexpr double kPoorBits = 0.35;  // when all readings here tell less, changes are looked at
constexpr std::size_t kFewEnoughForChanges = 16;  // suspects left: cheap to look at

// One situation of the search: who is in question, and for which of them it is the truth.
struct Branch {
  std::vector<int> suspect;
  std::vector<std::vector<session::Site>> sites;  // per suspect: one, or the moments of a cycle
  std::vector<std::size_t> truths;                // indices into suspect
  session::Attempt attempt;                       // for its book
  double minutes = 0;
  int depth = 0;
  std::vector<std::string> read;    // tests taken since anything changed: no news any more
  std::vector<std::string> proven;  // places whose supply was proven
  bool released = false;            // the supply was switched off and on
  std::vector<std::string> tried;   // changes with their tests, since anybody was struck
};

Worlds worlds_of(Branch& branch) {
  std::vector<std::vector<session::Site*>> of_column(branch.sites.size());
  for (std::size_t c = 0; c < branch.sites.size(); ++c) {
    for (session::Site& site : branch.sites[c]) of_column[c].push_back(&site);
  }
  return suspects::worlds_of(of_column);
}

// Who stays with suspect `t` of the branch whatever is read.
std::vector<int> equals_of(const Lineup& lineup, Branch& branch, std::size_t t,
                           const RouteOptions& options) {
  Columns columns = columns_of(lineup, branch.suspect);
  for (std::size_t c = 0; c < columns.repair_class.size(); ++c)
    columns.repair_class[c] = static_cast<int>(c);
  columns.class_count = static_cast<int>(columns.repair_class.size());
  const Worlds worlds = worlds_of(branch);
  const Advice advice = advise_on(lineup, columns, worlds, branch.attempt,
                                  {.after_changes = options.after_changes,
                                   .threads = options.threads,
                                   .keep = static_cast<std::size_t>(-1)});
  ColumnSet stays;
  stays.set();
  for (const Offer& offer : advice.offers) stays &= offer.left[t];
  std::vector<int> out;
  for (std::size_t c = 0; c < branch.suspect.size(); ++c) {
    if (stays.test(c)) out.push_back(branch.suspect[c]);
  }
  return out;
}

void end_here(const Lineup& lineup, Branch& branch, const RouteOptions& options, RouteTree& tree) {
  for (const std::size_t t : branch.truths) {
    const auto i = static_cast<std::size_t>(branch.suspect[t]);
    tree.minutes[i] = branch.minutes;
    tree.leaf[i] = branch.suspect;
    if (branch.suspect[t] == options.truth)
      tree.same_as_truth = equals_of(lineup, branch, t, options);
  }
}

std::string change_and_test(const Offer& offer) {
  std::string text;
  for (const session::Step& step : offer.steps) {
    if (session::changes_or_waits(step)) text = session::text(step);
  }
  return text + "; " + session::text(offer.test());
}

const Offer* first_unread(const Advice& advice, const Branch& branch) {
  const auto holds = [](const std::vector<std::string>& list, const std::string& text) {
    return std::find(list.begin(), list.end(), text) != list.end();
  };
  for (const Offer& offer : advice.offers) {
    const bool changes =
        std::any_of(offer.steps.begin(), offer.steps.end(), session::changes_or_waits);
    if (!(changes ? holds(branch.tried, change_and_test(offer))
                  : holds(branch.read, session::text(offer.test()))))
      return &offer;
  }
  return nullptr;
}

void grow(const Lineup& lineup, Branch branch, const RouteOptions& options, RouteTree& tree) {
  if (options.cancel != nullptr && options.cancel->load()) return;
  const Columns columns = columns_of(lineup, branch.suspect);
  if (columns.class_count < 2 || branch.depth >= kDeepest)
    return end_here(lineup, branch, options, tree);
  const Worlds worlds = worlds_of(branch);
  AdviceOptions ask{.elsewhere = true, .after_changes = false, .threads = options.threads};
  ask.keep = branch.read.size() + branch.tried.size() + 1;
  ask.proven = branch.proven;
  ask.released = branch.released;
  Advice advice = advise_on(lineup, columns, worlds, branch.attempt, ask);
  const Offer* offer = first_unread(advice, branch);
  const bool poor = offer == nullptr || advice.best_bits < kPoorBits;
  if (options.after_changes && poor &&
      (offer == nullptr || columns.suspect.size() <= kFewEnoughForChanges)) {
    ask.after_changes = true;
    advice = advise_on(lineup, columns, worlds, branch.attempt, ask);
    offer = first_unread(advice, branch);
  }
  if (offer == nullptr) return end_here(lineup, branch, options, tree);
  ++tree.tests;
  for (const session::Step& step : offer->steps) {
    const double minutes = session::would(branch.attempt, step).minutes;
    const session::Act act{step, sim::minutes(minutes), branch.attempt.book.place};
    for_each_index(worlds.site.size(), options.threads,
                   [&](std::size_t w) { session::act_unheard(*worlds.site[w], act); });
    book_only(branch.attempt, std::vector<session::Step>{step});
    if (counts_as_search(step)) branch.minutes += minutes;
    if (session::changes_or_waits(step)) branch.read.clear();
  }
  for (auto step = offer->steps.end() - offer->tests; step != offer->steps.end(); ++step)
    branch.read.push_back(session::text(*step));
  if (offer->steps.size() > 2) {
    const auto verb_at = [&](const char* verb) {
      return std::any_of(offer->steps.begin(), offer->steps.end(),
                         [&](const session::Step& s) { return s.verb == verb; });
    };
    branch.released = branch.released || (verb_at("open") && verb_at("close") && !verb_at("lock"));
  }
  if (!offer->proves_supply.empty()) branch.proven.push_back(offer->proves_supply);
  if (std::any_of(offer->steps.begin(), offer->steps.end(), session::changes_or_waits))
    branch.tried.push_back(change_and_test(*offer));
  // Truths that leave the same suspects go on together.
  std::vector<std::pair<ColumnSet, std::vector<std::size_t>>> parts;
  for (const std::size_t t : branch.truths) {
    const ColumnSet& stays = offer->left[t];
    const auto it = std::find_if(parts.begin(), parts.end(),
                                 [&](const auto& part) { return part.first == stays; });
    if (it == parts.end()) {
      parts.push_back({stays, {t}});
    } else {
      it->second.push_back(t);
    }
  }
  for (const auto& [stays, truths] : parts) {
    Branch part{{},
                {},
                {},
                branch.attempt,
                branch.minutes,
                branch.depth + 1,
                branch.read,
                branch.proven,
                branch.released,
                {}};
    if (stays.count() == branch.suspect.size()) part.tried = branch.tried;
    for (std::size_t c = 0; c < branch.suspect.size(); ++c) {
      if (!stays.test(c)) continue;
      if (std::find(truths.begin(), truths.end(), c) != truths.end())
        part.truths.push_back(part.suspect.size());
      part.suspect.push_back(branch.suspect[c]);
      part.sites.push_back(branch.sites[c]);
    }
    part.attempt.site = part.sites.front().front();
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
  Branch root{{}, {}, {}, attempt, 0, 0, {}, {}, false, {}};
  for (std::size_t i = 0; i < lineup.suspects.size(); ++i) {
    if (!lineup.suspects[i].on_arrival) continue;
    root.truths.push_back(root.suspect.size());
    root.suspect.push_back(static_cast<int>(i));
    root.sites.push_back(lineup.suspects[i].sites);
  }
  if (root.suspect.empty()) return tree;
  root.attempt.site = root.sites.front().front();
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
