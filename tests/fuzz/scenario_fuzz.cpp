// Any bytes as a scenario, held against the freezer.
#include "engine/session/ticket_files.h"
#include "engine/sim/lookout.h"
#include "tests/fuzz/target.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace legwork;
  static const unit::UnitPtr unit = fuzz::shipped("wf-208");
  Diagnostics found;
  auto scenario = fault::load_scenario(fuzz::text_of(data, size), "scenario.yaml", found);
  fuzz::must_be_said(found, scenario.has_value());
  if (!scenario) return 0;
  fuzz::must(is_plain_name(scenario->id) && is_plain_name(scenario->unit), "ids are names");
  Diagnostics against;
  const bool good = fault::check_scenario(*scenario, *unit, against);
  fuzz::must_be_said(against, good);
  const session::TicketView view = session::ticket_view(*scenario);
  fuzz::must(first_control(english(view.title) + english(view.said) + english(view.teaches)) ==
                 std::string::npos,
             "a ticket steers no terminal");
  if (good) sim::World(unit, scenario->faults(), sim::surroundings_of(scenario->ticket)).run(20);
  return 0;
}
