// Is the truth ever struck? Prints the readings that spoke against the one who it was:
//   truths [UNIT ...] [--each N] [--runs R] [--steps S] [--spread X] [--seed S] [--fault "TEXT"]
// Each fault is lived through R times, each time on a machine that differs from the believed one by
// X of what is believed to be unknown (1 if not given).
#include <fmt/format.h>

#include <cstdlib>
#include <map>
#include <string>
#include <vector>

#include "engine/suspects/likelihood.h"
#include "engine/suspects/parallel.h"
#include "tests/support/automatic.h"
#include "tests/support/truth.h"
#include "tests/support/units.h"

using namespace legwork::support;

int main(int argc, char** argv) {
  std::vector<std::string> units;
  std::string words;
  int each = 0, runs = 4, steps = 40;
  double spread = 1;
  std::uint64_t seed = 1;
  for (int i = 1; i < argc; ++i) {
    const std::string word = argv[i];
    const char* next = i + 1 < argc ? argv[i + 1] : "";
    if (word == "--each") {
      each = std::atoi(next), ++i;
    } else if (word == "--runs") {
      runs = std::atoi(next), ++i;
    } else if (word == "--steps") {
      steps = std::atoi(next), ++i;
    } else if (word == "--spread") {
      spread = std::atof(next), ++i;
    } else if (word == "--seed") {
      seed = std::strtoull(next, nullptr, 10), ++i;
    } else if (word == "--fault") {
      words = next, ++i;
    } else {
      units.push_back(word);
    }
  }
  if (units.empty())
    units.assign(legwork::support::unit_ids().begin(), legwork::support::unit_ids().end());
  int lives = 0, struck = 0, readings = 0, doubts = 0;
  std::map<std::string, int> by_step;
  for (const std::string& id : units) {
    const Shop shop = shop_of(id);
    if (shop.unit == nullptr) return 1;
    std::vector<legwork::fault::Fault> which;
    for (const auto& fault : each > 0 ? drawn(shop, each, seed) : all_faults(shop)) {
      if (legwork::fault::text(*shop.unit, fault).find(words) != std::string::npos)
        which.push_back(fault);
    }
    const auto tickets = tickets_of(shop, which, 2);
    std::vector<std::vector<TruthKept>> kept(tickets.size());
    legwork::suspects::for_each_index(tickets.size(), 2, [&](std::size_t k) {
      for (int run = 0; run < runs; ++run) {
        const std::uint64_t draw = seed + 1000 * k + static_cast<std::uint64_t>(run);
        const Ticket ticket =
            ready(shop, tickets[k], moved(shop.unit, run == 0 ? 0 : spread, draw), false);
        if (ticket.on_arrival != nullptr) kept[k].push_back(live_with_truth(ticket, draw, steps));
      }
    });
    for (std::size_t k = 0; k < tickets.size(); ++k) {
      for (std::size_t run = 0; run < kept[k].size(); ++run) {
        const TruthKept& one = kept[k][run];
        ++lives;
        if (one.readings == 0)
          fmt::print("{} | {} | not on arrival\n", tickets[k].scenario->id, run);
        readings += one.readings;
        struck += one.least < legwork::suspects::kRuledOut;
        for (const Doubt& d : one.doubts) {
          ++doubts;
          const std::string verb = d.line.substr(0, d.line.find(' '));
          ++by_step[verb == "temp" || verb == "look" || verb == "listen" || verb == "feel" ? d.line
                                                                                           : verb];
          fmt::print("{} | {} | {:.4f} | {:.0f} min | {}{} | expected{} | {}\n",
                     tickets[k].scenario->id, run, d.likelihood, d.minute, d.line, d.seen,
                     d.expected, d.otherwise);
        }
      }
    }
  }
  fmt::print(
      "{} lives, {} readings, {} spoke against the truth; ruled out against a perfect "
      "other in {}\n",
      lives, readings, doubts, struck);
  for (const auto& [step, count] : by_step) fmt::print("{:5} {}\n", count, step);
}
