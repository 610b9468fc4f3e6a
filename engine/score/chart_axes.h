#pragma once
// Axes of a chart over a call, for the window and the page.
//
//   const double step = round_step(high - low, 4);          // 20, for 0 to 65
//   for (double minute : clock_marks(310, 41, 6)) ...        // 0, 10, 20 …: 05:10, 05:20, 05:30

#include <string>
#include <vector>

namespace legwork::score {

// 1, 2 or 5 of a power of ten, so that `span` has at most `most` of them.
double round_step(double span, int most);
// Minutes since the ticket began at which the site clock is written: whole fives, tens, quarters,
// halves or hours, at most `most` of them. `begins`: minute of the day at 0.
std::vector<double> clock_marks(int begins, double last, int most);
int minute_of_day(const std::string& clock);  // 310, of "05:10"; 0 if it is no time

}  // namespace legwork::score
