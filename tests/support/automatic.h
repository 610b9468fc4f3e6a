#pragma once
// Automatic tickets: a fault of a unit's catalogue, run from a healthy machine until somebody would
// call, and the ticket that they would give: box, compressor, fans.
//
//   Shop shop = shop_of(unit, priors);
//   std::vector<AutomaticTicket> tickets = tickets_of(shop, which);   // those that show on arrival
//   Ticket ticket = ready(shop, tickets[0]);                          // for trainees.h
//
// One weather and one hour for all of a unit's tickets, so that its suspects are run once.

#include <memory>
#include <string>
#include <vector>

#include "engine/fault/catalogue.h"
#include "engine/suspects/arrivals.h"
#include "tests/support/trainees.h"

namespace legwork::support {

struct Shop {
  unit::UnitPtr unit;
  std::vector<fault::Candidate> candidates;  // those that can be seen at all
  // So many of them are suspects of every ticket; the others, of those about the same fault.
  std::size_t common = static_cast<std::size_t>(-1);
  fault::Ticket ticket;
  plant::BoxTemperatures sound_high_k{};  // warmest of each box of the sound machine in two days
  score::Rubric rubric;
};
inline constexpr double kMildK = 297.0;  // 75 °F
// The name of a test of a unit.
inline std::string test_name(std::string unit_id) {
  unit_id[2] = '_';
  return unit_id;
}
Shop shop_of(const std::string& unit_id, double outdoor_k = kMildK);

struct AutomaticTicket {
  fault::Fault fault;
  std::shared_ptr<const fault::Scenario> scenario;
  std::vector<suspects::Arrived> arrived;  // of all suspects
};
// Nothing for those that nobody would call about within a day and a half.
std::shared_ptr<const fault::Scenario> complaint_of(const Shop& shop, const fault::Fault& fault);
std::vector<AutomaticTicket> tickets_of(const Shop& shop, const std::vector<fault::Fault>& faults,
                                        int threads, suspects::ArrivalWork* work = nullptr);
// `true_unit`: what stands on site, if it is not quite the unit of the file.
Ticket ready(const Shop& shop, const AutomaticTicket& ticket, unit::UnitPtr true_unit = nullptr,
             bool with_reference = true);

std::vector<fault::Fault> all_faults(const Shop& shop);
// At most `count` faults that show, drawn by seed; `any_severity`: of any severity between the
// least and the greatest of their kind, not only those of the catalogue.
std::vector<fault::Fault> drawn(const Shop& shop, int count, std::uint64_t seed,
                                bool any_severity = false);
// The same, one of each fault family in turn (fuses, contactors, wires, the condenser ...), so that
// what there is most of does not crowd out the rest.
std::vector<fault::Fault> drawn_by_family(const Shop& shop, int count, std::uint64_t seed);
// The unit as it might stand on site: what nobody knows of it (supply, charge, coils and their
// air) anywhere within `times` what is believed.
unit::UnitPtr moved(const unit::UnitPtr& unit, double times, std::uint64_t seed);

// The same luck for the same ticket, whichever others it is played among.
std::uint64_t luck_of(const AutomaticTicket& ticket);

// What came of it, per way of working.
struct Results {
  std::vector<double> readings, minutes, score;
  int passed = 0, truth_struck = 0, calls = 0;
};
struct Sweep {
  std::vector<Results> by_habit = std::vector<Results>(kHabits);
  std::vector<std::string> remarks;  // calls that did not go as they should, and why
  int tickets = 0;
  int without = -1;  // a way of working that is left out
};
void play(const Ticket& ticket, std::uint64_t seed, Sweep& sweep);
// All tickets of a unit, by all ways of working, each with its own luck. `spread`: each on
// a unit moved() by so much; 0: as the file has it.
void play_all(const Shop& shop, const std::vector<AutomaticTicket>& tickets, int threads,
              double spread, Sweep& sweep);
void join(const Sweep& part, Sweep& sweep);
std::string table(const Sweep& sweep);
double median(std::vector<double> values);

}  // namespace legwork::support
