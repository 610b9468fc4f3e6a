// Prints what each way of working makes of automatic tickets:
//   strategies [UNIT ...] [--each N]      N faults of each unit, drawn by seed; without: all
#include <fmt/format.h>

#include <cstdlib>
#include <string>
#include <vector>

#include "tests/support/automatic.h"

int main(int argc, char** argv) {
  using namespace legwork::support;
  std::vector<std::string> units;
  int each = 0;
  for (int i = 1; i < argc; ++i) {
    const std::string word = argv[i];
    if (word == "--each" && i + 1 < argc) {
      each = std::atoi(argv[++i]);
    } else {
      units.push_back(word);
    }
  }
  if (units.empty()) units = {"wf-208", "wc-230", "rf-115", "rt-208", "mt-460"};
  Sweep all;
  for (const std::string& id : units) {
    const Shop shop = shop_of(id);
    if (shop.unit == nullptr) {
      fmt::print(stderr, "{}: no such unit\n", id);
      return 1;
    }
    std::vector<int> which;
    if (each > 0) {
      which = drawn(shop, each, 1);
    } else {
      for (std::size_t i = 0; i < shop.candidates.size(); ++i) which.push_back(static_cast<int>(i));
    }
    legwork::suspects::ArrivalWork work;
    const auto tickets = tickets_of(shop, which, 2, &work);
    fmt::print(
        "{}: {} of {} faults are called about; {} as the sound machine, {:.0f} h simulated\n", id,
        tickets.size(), which.size(), work.as_sound, work.hours);
    std::uint64_t seed = 1;
    for (const AutomaticTicket& t : tickets) {
      const Ticket ticket = ready(shop, t);
      if (ticket.on_arrival == nullptr) {
        all.remarks.push_back(t.scenario->id + " | does not show when it is run exactly");
        continue;
      }
      play(ticket, seed++, all);
      std::fflush(stdout);
    }
  }
  fmt::print("{}", table(all));
  for (const std::string& remark : all.remarks) fmt::print("{}\n", remark);
}
