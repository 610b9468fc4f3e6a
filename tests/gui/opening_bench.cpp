// How long a debrief takes to open, from the key pressed to the first frame with its pages: of a
// call just worked in the window, and of a shift of the past. Run twice: what does not depend on
// the trainee is kept in LEGWORK_DATA, and is warm the second time.
//
//   opening_bench [TICKET ...]

#include <fmt/format.h>

#include <chrono>
#include <fstream>
#include <string>
#include <thread>
#include <vector>

#include "gui/headless.h"
#include "gui/screens/states.h"

namespace legwork::gui {
namespace {

using Clock = std::chrono::steady_clock;
constexpr double kGoalMs = 1000;

double since(Clock::time_point start) {
  return std::chrono::duration<double, std::milli>(Clock::now() - start).count();
}

void row(const std::string& what, double ms) {
  fmt::print("{:<58} {:>8.1f} ms  goal {:>5.0f} ms  {:>5.2f} of it\n", what, ms, kGoalMs,
             ms / kGoalMs);
}

std::vector<std::string> steps_of(const std::string& ticket) {
  std::ifstream file(std::string(LEGWORK_SOURCE_DIR) + "/tests/terminal/calls/" + ticket +
                     ".steps");
  std::vector<std::string> steps;
  for (std::string line; std::getline(file, line);) {
    if (!line.empty() && line[0] != '#') steps.push_back(line);
  }
  return steps;
}

// From now to a frame with pages; the question that comes before them is passed by at once.
bool to_pages(State& state, Headless& page, const std::string& what, Clock::time_point start) {
  DebriefState& debrief = state.screens->debrief;
  page.settle(1);
  row(what + ", first frame", since(start));
  debrief.asked = true;
  while (!debrief.debrief && debrief.why.empty()) {
    page.settle(1);
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
  page.settle(1);
  row(what + ", first frame with pages", since(start));
  if (!debrief.why.empty()) fmt::print("{}\n", english(debrief.why));
  return debrief.why.empty();
}

bool measure(const std::string& ticket) {
  State state;
  state.home = LEGWORK_SOURCE_DIR;
  state.works_ahead = true;
  Headless page(state, 1600, 1000);
  const std::vector<std::string> steps = steps_of(ticket);
  if (!page.problem().empty() || steps.empty() || !open_ticket(state, ticket)) {
    fmt::print("{}: {}{}\n", ticket, page.problem(), english(state.notice));
    return false;
  }
  const Clock::time_point opened = Clock::now();
  for (std::size_t i = 0; i + 1 < steps.size(); ++i) give_step(state, steps[i]);
  page.settle();
  const double worked = since(opened);
  while (!state.screens->beside.making->caught_up())
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  fmt::print("{}: {} steps in {:.0f} ms, all worked out {:.0f} ms after the ticket was opened\n",
             ticket, steps.size(), worked, since(opened));
  Clock::time_point start = Clock::now();
  give_step(state, steps.back());
  if (!to_pages(state, page, ticket + ", just signed off", start)) return false;
  const std::string log = state.screens->debrief.log;
  start = Clock::now();
  open_debrief(state, log);
  return to_pages(state, page, ticket + ", a shift of the past", start);
}

}  // namespace
}  // namespace legwork::gui

int main(int count, char** words) {
  std::vector<std::string> tickets(words + 1, words + count);
  if (tickets.empty()) tickets = {"mb-002", "mb-004"};
  bool fine = true;
  for (const std::string& ticket : tickets) fine = legwork::gui::measure(ticket) && fine;
  return fine ? 0 : 1;
}
