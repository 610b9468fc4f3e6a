#pragma once
// `legwork check`, without its terminal: unit and scenario files read, held against each other and
// run. Units live three days and have their controls proven (trial.h), scenarios are run until they
// show what they say (showing.h). What was run is kept, so that a second check takes a moment.
//
//   const Checked checked = check_files({"circuits", "scenarios"}, {.home = home_folder()});
//   fmt::print("{}", checked.found.text());

#include <functional>
#include <string>
#include <vector>

#include "engine/base/diagnostics.h"

namespace legwork::commission {

struct CheckOptions {
  std::string home;     // folder of assets, circuits and scenarios
  std::string kept_in;  // folder for what was run; empty: nothing is kept
  bool quick = false;   // read only, run nothing
  bool routes = true;   // work scenarios as the lead's page does, and tell its errors
  int threads = 2;
  // Told, from any thread but by one at a time, how much of the running is done, and what is next.
  std::function<void(int done, int all, const std::string& file)> progress = {};
};

struct Checked {
  Diagnostics found;
  int files = 0;
};

// Files, and folders of them.
Checked check_files(const std::vector<std::string>& paths, const CheckOptions& options);

}  // namespace legwork::commission
