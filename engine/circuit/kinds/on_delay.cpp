// On-delay timer: its contacts move some time after it was fed, and back at once when it is not.
#include <algorithm>
#include <string>
#include <vector>

#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/alter.h"
#include "engine/circuit/kinds/condemned.h"

namespace legwork::circuit {
namespace {

constexpr ParamSpec kParams[] = {
    {.key = "volts",
     .dimension = Dimension::voltage,
     .required = true,
     .low = 5,
     .high = 600,
     .doc = "rated volts of its supply, A1 to A2"},
    {.key = "draws",
     .dimension = Dimension::apparent_power,
     .fallback = 2,
     .low = 0.1,
     .high = 50,
     .doc = "what its electronics take"},
    {.key = "delay",
     .dimension = Dimension::time,
     .required = true,
     .low = 1,
     .high = 3600,
     .doc = "from being fed to 13-14 closed and 11-12 open"},
    {.key = "contacts",
     .type = ParamSpec::Type::text_list,
     .doc = "of NO (13 14), NC (11 12); both if left out"},
};

void emit(Emitter& e) {
  const double volts = e.number("volts");
  const Phasor y = load_admittance(e.number("draws"), volts, 0.9);
  Armature row;
  row.coil = e.coil("supply", e.point("A1"), e.point("A2"), y, y, 0.3 * y.re);
  row.pull_in_v = 0.7 * volts;
  row.drop_out_v = 0.4 * volts;
  row.pull_in_us = static_cast<std::int64_t>(e.number("delay") * 1e6 + 0.5);
  const ActuatorId timer = e.armature("timer", row);
  const std::vector<std::string>& contacts = e.value("contacts").words;
  const auto has = [&](const char* contact) {
    return contacts.empty() ||
           std::find(contacts.begin(), contacts.end(), contact) != contacts.end();
  };
  for (const std::string& wanted : contacts) {
    if (wanted != "NO" && wanted != "NC")
      e.complain("contacts", say("unknown auxiliary '{word}'", {{"word", Name{wanted}}}),
                 say("expected NO or NC"));
  }
  if (has("NO")) e.contact("NO", e.point("13"), e.point("14"), timer, 1, 0.02);
  if (has("NC")) e.contact("NC", e.point("11"), e.point("12"), timer, 0, 0.02);
}

void dead_inside(Circuit& c, DeviceId d, double) { open_part(c, d, "supply"); }
void never_times_out(Circuit& c, DeviceId d, double) {
  armature_of(c, d).stuck = Armature::Stuck::out;
}
void no_delay(Circuit& c, DeviceId d, double) { armature_of(c, d).pull_in_us = 20'000; }
void slow(Circuit& c, DeviceId d, double times) {
  Armature& row = armature_of(c, d);
  row.pull_in_us = static_cast<std::int64_t>(static_cast<double>(row.pull_in_us) * times);
}
void made_open(Circuit& c, DeviceId d, double) { stick_contact(c, d, "NO", Element::Stuck::open); }
void made_welded(Circuit& c, DeviceId d, double) {
  stick_contact(c, d, "NO", Element::Stuck::made);
}

constexpr Level kTimes[] = {{10, "ten times too long"}};
constexpr Condemn kFedAndOut[] = {{Take::volts, Shows::full, "supply"},
                                  {Take::volts, Shows::full, "NO"}};
constexpr Condemn kContactOpen[] = {{Take::volts, Shows::full, "NO"},
                                    {Take::look, Shows::other, "position"},
                                    {Take::ohms, Shows::open, "NO", true},
                                    {Take::look, Shows::other, "position"}};
constexpr Condemn kContactClosed[] = {{Take::volts, Shows::none, "NO"},
                                      {Take::look, Shows::first, "position"},
                                      {Take::ohms, Shows::shorted, "NO", true}};
constexpr Condemn kNoDelay[] = {{Take::volts, Shows::none, "NO"},
                                {Take::look, Shows::other, "position"}};

constexpr FaultMode kModes[] = {
    {.name = "dead inside",
     .levels = kYes,
     .prior = "timer: dead inside",
     .apply = dead_inside,
     .repairs = kReplace,
     .condemned_by = kFedAndOut},
    {.name = "never times out",
     .levels = kYes,
     .prior = "timer: never times out",
     .apply = never_times_out,
     .repairs = kReplace,
     .condemned_by = kFedAndOut},
    {.name = "no delay",
     .levels = kYes,
     .prior = "timer: no delay",
     .apply = no_delay,
     .repairs = kReplace,
     .condemned_by = kNoDelay},
    {.name = "too slow",
     .levels = kTimes,
     .prior = "timer: too slow",
     .apply = slow,
     .repairs = kReplace,
     .condemned_by = kFedAndOut,
     .dimension = Dimension::number},
    {.name = "contact stuck open",
     .levels = kYes,
     .prior = "timer: stuck open",
     .apply = made_open,
     .repairs = kReplace,
     .condemned_by = kContactOpen},
    {.name = "contact stuck closed",
     .levels = kYes,
     .prior = "timer: stuck closed",
     .apply = made_welded,
     .repairs = kReplace,
     .condemned_by = kContactClosed},
};
constexpr KindLook::State kLamp[] = {{0, "Its lamp for the output is dark."},
                                     {0.5, "Its lamp for the output is lit."}};
constexpr KindLook kLooks[] = {{"look", "position", kLamp}};

}  // namespace

std::span<const Kind> kinds_of_on_delay() {
  static constexpr Kind kKinds[] = {
      {.name = "on-delay timer",
       .doc = "supply A1 A2; contacts 13-14 and 11-12 move after its delay",
       .symbol = "coil",
       .front = "timer module",
       .params = kParams,
       .emit = emit,
       .modes = kModes,
       .looks = kLooks,
       .contact = "timed contact closes",
       .positions = "waits|timed out"}};
  return kKinds;
}

}  // namespace legwork::circuit
