// Goals and what was measured, as lines of one table.
#pragma once

#include <cstdio>
#include <ctime>

namespace legwork::bench {

// Processor time of this process: others on the machine do not count.
inline double processor_us() {
  timespec now{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return 1e6 * static_cast<double>(now.tv_sec) + 1e-3 * static_cast<double>(now.tv_nsec);
}

enum class Ask { at_least, at_most };

inline void print_head() { std::printf("%-58s %12s %12s %8s\n", "", "goal", "measured", "ratio"); }
// The ratio is above 1 where the measured figure is better than the goal.
inline void print_row(const char* name, Ask ask, double goal, double measured) {
  const double ratio = ask == Ask::at_least ? measured / goal : goal / measured;
  std::printf("%-58s  %s%10.6g %12.6g %8.2f%s\n", name, ask == Ask::at_least ? ">=" : "<=", goal,
              measured, ratio, ratio < 1 ? "  short" : "");
}

}  // namespace legwork::bench
