#pragma once
// All tests that can be made from one place, on a set of worlds, with what each would tell. The
// inside of advice.h; not for other folders.

#include <map>
#include <span>
#include <string>
#include <vector>

#include "engine/session/attempt.h"
#include "engine/suspects/advice.h"
#include "engine/suspects/eyes.h"
#include "engine/suspects/forecast.h"
#include "engine/suspects/outlook.h"

namespace legwork::suspects {

// The suspects in question, as columns of every table here.
struct Columns {
  std::vector<int> suspect;
  std::vector<int> repair_class;
  std::vector<double> belief;
  int class_count = 0;
  // The same fault a step weaker and a step stronger, as columns; -1: none of them in question.
  std::vector<int> weaker;
  std::vector<int> stronger;
};
// Belief is half the shop's experience and half none (Prior::flat): what is rare has to be told
// apart too, or it could never be proven.
Columns columns_of(const Suspects& suspects);
// Of a lineup before anything was read.
Columns columns_of(const Lineup& lineup, const std::vector<int>& suspects);

// Where the columns' machines stand: one world a column, or several moments of one that cycles.
struct Worlds {
  std::vector<session::Site*> site;
  std::vector<std::size_t> column;  // of each site, in order
};
Worlds worlds_of(const std::vector<std::vector<session::Site*>>& of_column);

// What must come before a step of that kind at the attempt's place: gloves, meter, cover.
enum class Needs { nothing, hands_free, meter, meter_inside };
std::vector<session::Step> preparations(const session::Attempt& attempt, Needs needs);
// What a step would take there.
double minutes_of(const session::Attempt& attempt, const session::Step& step);
// Gives steps to the book alone; their minutes. The site stands still.
double book_only(session::Attempt& attempt, std::span<const session::Step> steps);

// Terminals where a lead can be put at the attempt's place with the cover off; earth first.
std::vector<circuit::TerminalId> terminals_at(const session::Attempt& attempt);

// Two nets, and the points of theirs that a technician would put the leads on.
struct Pair {
  std::size_t a = 0, b = 0;
  circuit::TerminalId red, black;
  double handy = 0;
  double bits = 0;
};

class Survey {
 public:
  // Reading a world changes nothing but the count of its readings.
  Survey(const Eyes& eyes, const Columns& columns, const Worlds& worlds, int threads);

  // Appends what can be tested where the attempt's book stands. `before` and its minutes are put in
  // front of each. `dead`: the circuit is locked out and proven dead, so ohms may be read.
  void tests(const session::Attempt& attempt, const std::vector<session::Step>& before,
             double minutes_before, bool dead, std::vector<Offer>& offers);
  // Ohms alone; of one part (valid), or of all.
  void ohms(const session::Attempt& attempt, const std::vector<session::Step>& before,
            double minutes_before, circuit::DeviceId part, std::vector<Offer>& offers);
  // A fuse that is out of its holder.
  void in_hand(const session::Attempt& attempt, const std::vector<session::Step>& before,
               double minutes_before, circuit::DeviceId fuse, std::vector<Offer>& offers);
  // The clamp put on where the attempt stands, a change made that may start something, and what the
  // clamp has held of it. The worlds stand after it, their peaks cleared before it.
  void peaks(const session::Attempt& attempt, const std::vector<session::Step>& before,
             double minutes_before, const std::vector<session::Step>& change, double change_minutes,
             std::vector<Offer>& offers);

  double open_bits() const { return outlook_.open_bits(); }
  // What one step would tell; false if it shows nothing.
  bool judge(const session::Step& step, Left& left, double& sure);

 private:
  using Observations = std::vector<std::vector<Band>>;  // per value that a step shows, per world

  std::vector<Pair> natural_pairs(const std::vector<circuit::TerminalId>& terminals,
                                  const std::vector<std::vector<int>>& nets) const;
  void keep_likely(const std::vector<Potentials>& worlds, const std::vector<int>& reps,
                   std::vector<Pair>& pairs) const;
  std::vector<Band> bands_of(const std::vector<Potentials>& worlds, const std::vector<int>& reps,
                             const Pair& pair) const;
  void supply(const session::Attempt& attempt, const std::vector<session::Step>& before,
              double minutes_before, std::vector<Offer>& offers);
  void low_impedance(const session::Attempt& attempt, const std::vector<session::Step>& before,
                     double minutes_before, const std::vector<Pair>& ghosts,
                     std::vector<Offer>& offers);
  void parts_of_dead(const session::Attempt& attempt, const std::vector<session::Step>& before,
                     double minutes_before, circuit::DeviceId part, std::vector<Offer>& offers);
  void volts(const session::Attempt& attempt, const std::vector<session::Step>& before,
             double minutes_before, std::vector<Offer>& offers);
  void legs(const session::Attempt& attempt, const std::vector<session::Step>& before,
            double minutes_before, std::vector<Offer>& offers);
  void clamp(const session::Attempt& attempt, const std::vector<session::Step>& before,
             double minutes_before, std::vector<Offer>& offers);
  void verbs(const session::Attempt& attempt, const std::vector<session::Step>& before,
             double minutes_before, bool dead, std::vector<Offer>& offers);
  void gauges(const session::Attempt& attempt, const std::vector<session::Step>& before,
              double minutes_before, std::vector<Offer>& offers);
  // The last `tests` of the steps are what was read.
  void add(std::vector<session::Step> steps, double minutes, const Observations& observations,
           double sure, std::vector<Offer>& offers, int tests = 1);
  std::vector<Band> derived_bands(const std::vector<std::map<std::string, double>>& read,
                                  std::string_view key) const;
  // Bands of one value in all worlds, widened half way to the neighbours in severity.
  std::vector<Band> bands(std::span<const Expectation> expected) const;
  std::vector<Band> widened(std::vector<Band> bands) const;
  void read(std::span<const session::Step> steps, std::vector<std::vector<session::Seen>>& seen);
  // Of one step, in all worlds. False: it shows nothing that can be compared.
  bool understand(const std::vector<session::Seen>& seen, Observations& observations,
                  double& sure) const;
  Observations gauge_pressures() const;

  const Eyes& eyes_;
  const Columns& columns_;
  Worlds worlds_;
  int threads_;
  Outlook outlook_;
  std::vector<int> weaker_,
      stronger_;  // per world: the neighbour's world of the same moment, or -1
};

// advise(), on columns and worlds of one's own.
Advice advise_on(const Lineup& lineup, const Columns& columns, const Worlds& worlds,
                 const session::Attempt& attempt, const AdviceOptions& options);

// The inside of advise_on() for steps that change the machine (changes.cpp).
void after_changes(const session::Attempt& attempt, const Lineup& lineup, const Columns& columns,
                   const Worlds& worlds, const AdviceOptions& options, std::vector<Offer>& offers);
bool locked_out(const session::Attempt& attempt);
// What is locked out is proven dead where the ohmmeter and the hands go, and not at the handle,
// whose line side stays live: a proof that was planned at the handle moves to the part of the test.
void prove_the_parts(const session::Attempt& attempt, std::vector<Offer>& offers);

}  // namespace legwork::suspects
