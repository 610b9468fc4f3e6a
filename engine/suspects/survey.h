#pragma once
// All tests that can be made from one place, on a set of worlds, with what each would tell. The
// inside of advice.h; not for other folders.

#include <span>
#include <string>
#include <vector>

#include "engine/session/attempt.h"
#include "engine/suspects/advice.h"

namespace legwork::suspects {

// The suspects still in the running, as columns of every table here.
struct Columns {
  std::vector<int> suspect;
  std::vector<int> repair_class;
  std::vector<double> belief;
  int class_count = 0;
};
Columns columns_of(const Suspects& suspects);

// What must come before a step of that kind at the attempt's place: gloves, meter, cover.
enum class Needs { nothing, hands_free, meter, meter_inside };
std::vector<session::Step> preparations(const session::Attempt& attempt, Needs needs);
// Gives steps to the book alone; their minutes. The site stands still.
double book_only(session::Attempt& attempt, std::span<const session::Step> steps);

class Survey {
 public:
  // `worlds`: one a column. Reading a world changes nothing but the count of its readings.
  Survey(const Columns& columns, std::vector<session::Site*> worlds, int threads);

  // Appends what can be tested where the attempt's book stands. `before` and its minutes are put in
  // front of each. `dead`: the circuit is locked out and proven dead, so ohms may be read.
  void tests(const session::Attempt& attempt, const std::vector<session::Step>& before,
             double minutes_before, bool dead, std::vector<Offer>& offers);

  // Label of each column for one step, as would be seen; false if the step shows nothing.
  bool label_step(const session::Step& step, std::vector<std::uint8_t>& label, int& outcomes,
                  double& sure);

 private:
  void volts(const session::Attempt& attempt, const std::vector<session::Step>& before,
             double minutes_before, std::vector<Offer>& offers);
  void ohms(const session::Attempt& attempt, const std::vector<session::Step>& before,
            double minutes_before, std::vector<Offer>& offers);
  void clamp(const session::Attempt& attempt, const std::vector<session::Step>& before,
             double minutes_before, std::vector<Offer>& offers);
  void verbs(const session::Attempt& attempt, const std::vector<session::Step>& before,
             double minutes_before, std::vector<Offer>& offers);
  void gauges(const session::Attempt& attempt, const std::vector<session::Step>& before,
              double minutes_before, std::vector<Offer>& offers);
  void add(std::vector<session::Step> steps, double minutes, std::span<const Expectation> expected,
           std::vector<Offer>& offers);
  void add(std::vector<session::Step> steps, double minutes, std::vector<std::uint8_t> label,
           int outcomes, double sure, std::vector<Offer>& offers);

  const Columns& columns_;
  std::vector<session::Site*> worlds_;
  int threads_;
};

// Labels of columns from labels of all their moments: columns that share a label at any moment
// could be mistaken for each other. `column` tells whose moment each is.
std::vector<std::uint8_t> merged_labels(const std::vector<std::uint8_t>& of_moment,
                                        const std::vector<std::size_t>& column, std::size_t columns,
                                        int& outcomes);

// advise(), on columns and worlds of one's own.
Advice advise_on(const Columns& columns, const std::vector<session::Site*>& worlds,
                 const session::Attempt& attempt, const AdviceOptions& options);

}  // namespace legwork::suspects
