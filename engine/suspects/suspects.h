#pragma once
// Every suspect lives through the call: it is given the trainee's steps, and dropped when what the
// trainee saw contradicts what its own world shows.
//
//   Suspects suspects(lineup);
//   Taken taken = suspects.take(act, seen);      // the trainee's step, and what it brought back
//   taken.struck                                  // who was ruled out by it
//   suspects.belief().standing(i)                 // possible, doubtful, ruled out
//   suspects.mass({"wash condenser inside out"}, Prior::flat)    // U of a repair
//
// Evidence is counted once: the same test again, while nothing has changed, is no news; nor is a
// look that shows again what it showed where nothing has changed for the suspect. Suspects
// that have been out of the running for long are not stepped any further; should the rest fall
// away, they are brought back by giving them all the steps anew. Suspects are stepped on several
// threads; the result does not depend on how many.
//
// A machine that comes and goes is met at an unknown moment, and how long it stays on or off nobody
// can foretell to the minute. So before a reading is held against such a suspect its next round is
// searched for a moment that shows it.

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "engine/session/seen.h"
#include "engine/session/site.h"
#include "engine/suspects/belief.h"
#include "engine/suspects/derived.h"
#include "engine/suspects/likelihood.h"
#include "engine/suspects/lineup.h"

namespace legwork::suspects {

// What one step did to the suspects.
struct Taken {
  std::vector<int> struck;  // newly ruled out
  std::vector<int> back;    // ruled out before, no longer
  // Ruled out before, and this would have done it too: it told that again.
  std::vector<int> would;
  int readings = 0;  // observations that were new
  int repeats = 0;   // observations that were not
};

class Suspects {
 public:
  // `keep_all`: who is long out is stepped on, so that it can be told what was known already.
  explicit Suspects(LineupPtr lineup, int threads = 2, bool keep_all = false);

  Taken take(const session::Act& act, const session::Seen& seen);

  const Lineup& lineup() const { return *lineup_; }
  const LineupPtr& lineup_ptr() const { return lineup_; }
  const Belief& belief() const { return belief_; }
  int size() const { return static_cast<int>(lineup_->suspects.size()); }
  bool stepped(int suspect) const { return running_[static_cast<std::size_t>(suspect)].stepped; }
  // The suspect's world as it is now, at the moment of its cycle that fits the readings of this
  // episode best. Only of a suspect that is stepped.
  const session::Site& site(int suspect) const;
  session::Site& site(int suspect);  // to read it; nobody but take() moves it on
  // All moments of it that fit the readings of this episode.
  std::vector<session::Site*> moments(int suspect);
  std::vector<int> alive() const;  // possible or doubtful, in order
  // Share of all suspects that have this repair among theirs, under either prior.
  double mass(const std::string& repair, Prior prior) const;
  const std::vector<session::Act>& acts() const { return acts_; }
  // Taken before, and nothing has changed since: once more would be no news.
  bool read_before(const session::Step& step) const;
  // Taken before, and since then no hand was on the machine and nobody waited.
  bool read_since_change(const session::Step& step) const;
  // A look that has been taken, and for nobody still in the running anything there has changed
  // since: it would show again what it showed.
  bool looks_as_before(const session::Step& step);
  // The same change and then the same test, and twice already nobody was struck by it.
  bool told_nothing(const std::vector<session::Step>& steps) const;

 private:
  struct Look {
    int seen = -1;
    std::vector<int> own;  // what each of the sites would have shown
    friend bool operator==(const Look&, const Look&) = default;
  };
  struct Running {
    std::vector<session::Site> sites;                 // one, or the moments of a cycle
    std::vector<double> fit;                          // of each, over this episode
    bool stepped = false;                             // false: not on arrival, or dropped
    std::size_t done = 0;                             // acts it has been given
    int long_out = 0;                                 // readings since it was last in the running
    std::map<std::string, Look> looks;                // by key: the last one
    std::vector<std::map<std::string, double>> read;  // per site: its own readings of this episode
    int moves = -1;         // 1: some contact of it moves soon; -1: not looked at yet
    bool restless = false;  // a contact of it had moved shortly before the last step
  };
  static bool moves(Running& running);
  static bool is_restless(const Running& running);
  // Likelihood of each new observation, for one suspect.
  struct Answer {
    std::vector<std::vector<session::Observation>> by_site;
    std::vector<std::vector<double>> spread;
  };

  void step(std::size_t suspect, const session::Act& act, const session::Seen& seen,
            Answer& answer);
  // How long the reading took that is looked for at other moments; 0: of the moment. Nothing: it
  // cannot be read again. `done`: acts before it.
  std::optional<std::int64_t> ticks_read(const session::Act& act, std::size_t done) const;
  struct Window {
    std::int64_t ticks = 0;
    std::int64_t after = 0;  // the first of them begins
  };
  void find_moment(std::size_t suspect, const session::Act& act, std::int64_t ticks,
                   const session::Seen& seen, Answer& answer);
  static void drop_contradicted(Running& running);
  static std::vector<std::size_t> likeliest_of_each_machine(const Running& running);
  bool look_through(Running& running, std::size_t from, const session::Act& act, Window window,
                    const session::Seen& seen, Answer& answer) const;
  double judge(std::size_t suspect, std::size_t moment, const session::Observation& seen,
               const std::vector<Answer>& answers) const;
  // The best of all moments, or of the two ways of one that comes and goes; keeps each one's fit.
  struct Fit {
    double acting = 1, quiet = 1;
  };
  Fit judge(std::size_t suspect, const session::Observation& seen,
            const std::vector<Answer>& answers);
  // Of what several readings tell together, of one suspect (derived.h).
  Fit judge_derived(std::size_t suspect, const Derived& seen) const;
  bool looked_before(std::size_t suspect, const session::Observation& seen, const Answer& own);
  void revive();

  LineupPtr lineup_;
  int threads_;
  bool keep_all_ = false;
  std::vector<Running> running_;
  Belief belief_;
  std::vector<session::Act> acts_;
  std::vector<session::Seen> seen_;
  struct Earlier {
    double value = 0;
    int state = -1;
    session::NotRead not_read;
    bool over_range;
  };
  std::map<std::string, Earlier>
      this_episode_;  // by key: what has been read since anything changed
  std::vector<std::string> steps_of_episode_, since_change_;
  std::map<std::string, double> readings_;   // numbers of this episode, by key
  std::vector<std::string> derived_;         // what was worked out of them already
  std::map<std::string, bool> looked_at_;    // steps that brought back looks and nothing else
  std::string last_change_;                  // the step that changed the machine last
  std::map<std::string, int> told_nothing_;  // change and test: how often since anybody was struck
  std::vector<std::vector<char>> fresh_;     // per act, per observation: was it news
};

}  // namespace legwork::suspects
