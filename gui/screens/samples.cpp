#include "gui/screens/samples.h"

#include <initializer_list>
#include <string>
#include <vector>

#include "gui/screens/states.h"

namespace legwork::gui {
namespace {

void work(State& state, std::initializer_list<const char*> lines) {
  for (const char* line : lines) give_step(state, line);
}

void day_sheet(State& state) { state.screen = "day sheet"; }

void first_call(State& state) {
  open_ticket(state, "mb-002");
  state.screens->guide.open = true;
}

void reading(State& state) {
  open_ticket(state, "mb-002");
  work(state, {"go box", "look EF1", "temp box air", "go roof", "gloves on", "cover off roof",
               "volts TB.L1 TB.L2", "volts TB.L2 TB.L3"});
  OnSiteState& site = state.screens->on_site;
  site.hand = "volts";
  site.red = "CC.A1";
  site.black = "CC.A2";
  work(state, {"volts CC.A1 CC.A2"});
}

void things_to_do(State& state) {
  reading(state);
  state.screens->on_site.group = "on site.look";
  state.screens->on_site.steps_open = true;
}

void slip(State& state) {
  reading(state);
  state.screens->on_site.slip = "CC";
}

// Switched off, locked and proven; one end in the air, a part bridged.
void locked(State& state) {
  reading(state);
  work(state, {"open DISC", "lock DISC", "prove dead CC", "lift HPC.2>CC.A1", "jumper LPC.1 LPC.2",
               "look OL", "ohms CC.A1 CC.A2"});
}

void running(State& state) {
  open_ticket(state, "mb-004");
  work(state, {"go roof", "gloves on", "cover off roof", "gauges on", "look condenser",
               "look condenser with lamp", "look CC", "look CF1", "look CF2", "listen CM",
               "let it run 10 min"});
}

// A hand on what was not proven dead.
void asks_first(State& state) {
  reading(state);
  work(state, {"open DISC", "lock DISC"});
  ask_step(state, "replace CC");
}

void trail(State& state) {
  locked(state);
  state.screens->on_site.pad_open = state.screens->on_site.pad_trail = true;
}

// A ticket was asked for of which a call is open.
void asked_for(State& state) {
  reading(state);
  state.screens->day_sheet.read = false;
  state.screens->on_site = OnSiteState{};
  state.screen = "day sheet";
  ask_or_open(state, "mb-002");
}

void second_freezer(State& state) {
  open_ticket(state, "mb-039");
  work(state, {"go box", "look evaporator", "temp box air", "go yard", "gloves on",
               "cover off yard", "gauges on", "look condenser", "volts TB.L1 TB.L2"});
}

void in_the_box(State& state) {
  open_ticket(state, "mb-004");
  work(state, {"go box", "look evaporator", "look EF1", "look EF2", "look drain", "look product",
               "look air path", "temp box air"});
}

void harm(State& state) {
  reading(state);
  OnSiteState& site = state.screens->on_site;
  site.hand = "ohms";
  work(state, {"ohms CC.A1 CC.A2"});
}

void piping(State& state) {
  open_ticket(state, "mb-004");
  work(state, {"go roof", "gloves on", "gauges on", "temp liquid line"});
  state.screens->on_site.back = true;
}

// The other machines: opened, walked to, a first reading.
void fresh(State& state) { open_ticket(state, "mb-004"); }

void reach_in(State& state) {
  open_ticket(state, "mb-001");
  work(state, {"temp box air", "go back", "gloves on", "cover off back", "volts TS.L TS.N",
               "volts COL.95 COL.96"});
}

void cooler(State& state) {
  open_ticket(state, "mb-005");
  work(state, {"go box", "temp box air", "go yard", "gloves on", "cover off yard",
               "volts TB.L1 TB.L2", "volts HPC.1 HPC.2"});
}

void condensing_unit(State& state) {
  open_ticket(state, "mb-008");
  work(state, {"go yard", "gloves on", "cover off yard", "volts TB.L1 TB.L2", "volts MPM.1 MPM.2"});
}

void rooftop(State& state) {
  open_ticket(state, "mb-009");
  work(state, {"go roof", "gloves on", "cover off roof", "volts TB.L1 TB.L2", "volts R C",
               "volts LOR.A1 LOR.A2"});
}

void rack(State& state) {
  open_ticket(state, "mb-044");
  work(state,
       {"go yard", "gloves on", "cover off yard", "volts TB.L1 TB.L2", "volts CC1.A1 CC1.A2"});
}

void drawn(State& state) { open_ticket(state, "hat-wf-208-5"); }

void write_up(State& state) {
  reading(state);
  state.screens->on_site.view.write_up.stopped_by = "CC";
  state.screens->on_site.view.write_up.part = {"CC", "coil open"};
  state.screens->on_site.view.write_up.done = "Replaced the contactor";
  state.screen = "write-up";
}

// A clock was put off by the trainee's own hands and not set since: the sign-off asks.
void clock_behind(State& state) {
  reading(state);
  work(state, {"open DISC", "let it run 30 min", "close DISC", "let it run 5 min",
               "write up stopped by CC", "write up part CC: coil open",
               "write up root CC: coil open", "write up sure 90", "write up product hold",
               "write up watch site", "write up done Looked"});
  state.screen = "write-up";
  ask_step(state, "sign off");
}

// A whole call with its detours, signed off.
void debriefed(State& state) {
  open_ticket(state, "mb-002");
  work(state, {"ask since when",
               "go box",
               "temp box air",
               "go roof",
               "look condenser",
               "gloves on",
               "cover off roof",
               "volts TB.L1 TB.L2",
               "volts CC.A1 GND",
               "volts HPC.1 HPC.2",
               "ohms CC.A1 CC.A2",
               "volts CC.A1 CC.A2",
               "volts CC.A1 CC.A2",
               "look CC",
               "open DISC",
               "lock DISC",
               "prove dead CC",
               "ohms CC.A1 CC.A2",
               "replace CC",
               "unlock DISC",
               "close DISC",
               "clamp OL.T1>CM.T1",
               "let it run 15 min",
               "cover on roof",
               "go box",
               "temp box air",
               "write up stopped by CC",
               "write up part CC: coil open",
               "write up root CC: coil open",
               "write up sure 90",
               "write up product hold",
               "write up watch site",
               "write up done New contactor",
               "sign off"});
  const OnSiteState& site = state.screens->on_site;
  if (!site.door) return;
  open_debrief(state, site.door->log_path());
  wait_for_debrief(state);
}

void debrief_page(State& state) {
  debriefed(state);
  DebriefState& mine = state.screens->debrief;
  mine.asked = true;
  mine.page = 12;
}

void account(State& state) {
  debrief_page(state);
  state.screens->debrief.account = true;
}

void lead_gate(State& state) { state.screen = "lead"; }

void lead_day(State& state) {
  state.screen = "lead";
  LeadState& mine = state.screens->lead;
  mine.bench.open = true;
  mine.bench.unit = mine.chosen = state.home + "/circuits/wf-208.yaml";
  mine.bench.days = commission::day_charts("wf-208", {state.home, {"80 F"}, speech(state)});
}

void lead_form(State& state) {
  state.screen = "lead";
  state.screens->lead.bench.open = true;
  state.screens->lead.bench.writing = true;
}

void lead_answer(State& state) {
  state.screen = "lead";
  state.screens->lead.bench.open = true;
  open_lead(state, "mb-004");
  if (state.screens->lead.working) state.screens->lead.working->wait();
}

void keys(State& state) {
  reading(state);
  state.help = true;
}

void symbols(State& state) { state.screen = "symbols"; }

constexpr Sample kSamples[] = {
    {"day sheet", day_sheet},
    {"first call", first_call},
    {"on site", reading},
    {"on site, things to do", things_to_do},
    {"on site, slip", slip},
    {"on site, locked", locked},
    {"on site, running", running},
    {"on site, in the box", in_the_box},
    {"on site, harm", harm},
    {"on site, piping", piping},
    {"on site, asks first", asks_first},
    {"on site, trail", trail},
    {"day sheet, asked for", asked_for},
    {"on site, wf-115", second_freezer},
    {"on site, just arrived", fresh},
    {"on site, rf-115", reach_in},
    {"on site, wc-230", cooler},
    {"on site, rt-208", rooftop},
    {"on site, mt-460", condensing_unit},
    {"on site, rk-460", rack},
    {"on site, out of the hat", drawn},
    {"keys", keys},
    {"write-up", write_up},
    {"write-up, a clock stands behind", clock_behind},
    {"debrief, asked first", debriefed},
    {"debrief, page", debrief_page},
    {"debrief, account", account},
    {"lead", lead_answer},
    {"lead gate", lead_gate},
    {"lead day", lead_day},
    {"lead form", lead_form},
    {"symbols", symbols},
};

}  // namespace

std::span<const Sample> samples() { return kSamples; }

const Sample* find_sample(std::string_view name) {
  for (const Sample& sample : kSamples) {
    if (sample.name == name) return &sample;
  }
  return nullptr;
}

}  // namespace legwork::gui
