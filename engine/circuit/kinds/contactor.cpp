// Contactor and relay: a coil, an armature, poles and auxiliaries.
#include <cstddef>

#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/alter.h"
#include "engine/circuit/kinds/condemned.h"

namespace legwork::circuit {
namespace {

using Type = ParamSpec::Type;

#define LEGWORK_COIL_PARAMS(POLES, SEALED, CONTACT)                                            \
  {.key = "coil",                                                                              \
   .dimension = Dimension::voltage,                                                            \
   .required = true,                                                                           \
   .low = 5,                                                                                   \
   .high = 600,                                                                                \
   .doc = "rated volts of the coil"},                                                          \
      {.key = "sealed",                                                                        \
       .dimension = Dimension::apparent_power,                                                 \
       .fallback = SEALED,                                                                     \
       .low = 0.1,                                                                             \
       .high = 1000,                                                                           \
       .doc = "with the armature in"},                                                         \
      {.key = "inrush",                                                                        \
       .dimension = Dimension::apparent_power,                                                 \
       .low = 0,                                                                               \
       .high = 10000,                                                                          \
       .doc = "with the armature out; 8 times sealed if left out"},                            \
      {.key = "coil resistance",                                                               \
       .dimension = Dimension::resistance,                                                     \
       .low = 0,                                                                               \
       .high = 1e6,                                                                            \
       .doc = "by ohmmeter; 0.55 of the inrush impedance if left out"},                        \
      {.key = "poles", .fallback = POLES, .low = 0, .high = 4, .doc = "P1 between L1 and T1"}, \
      {.key = "auxiliaries",                                                                   \
       .type = Type::text_list,                                                                \
       .doc = "of NC (11 12), NO (13 14), NC2 (21 22), NO2 (23 24)"},                          \
      {.key = "contact",                                                                       \
       .dimension = Dimension::resistance,                                                     \
       .fallback = CONTACT,                                                                    \
       .low = 1e-5,                                                                            \
       .high = 1,                                                                              \
       .doc = "ohms of a made contact"},                                                       \
      {.key = "pull-in",                                                                       \
       .dimension = Dimension::fraction,                                                       \
       .fallback = 0.75,                                                                       \
       .low = 0.3,                                                                             \
       .high = 0.85,                                                                           \
       .doc = "share of rated volts; for contactors IEC 60947-4-1: 85 % at the latest"},       \
  {                                                                                            \
    .key = "drop-out", .dimension = Dimension::fraction, .fallback = 0.5, .low = 0.2,          \
    .high = 0.75, .doc = "share of rated volts; for contactors IEC 60947-4-1: 20 to 75 %"      \
  }

constexpr ParamSpec kContactorParams[] = {LEGWORK_COIL_PARAMS(3, 20, 0.001)};
constexpr ParamSpec kRelayParams[] = {LEGWORK_COIL_PARAMS(0, 5, 0.01)};
#undef LEGWORK_COIL_PARAMS

struct Auxiliary {
  std::string_view name, from, to;
  int made_at;
};
constexpr Auxiliary kAuxiliaries[] = {
    {"NC", "11", "12", 0}, {"NO", "13", "14", 1}, {"NC2", "21", "22", 0}, {"NO2", "23", "24", 1}};

void emit_sized(Emitter& e, std::int64_t pull_in_us, std::int64_t drop_out_us) {
  const double volts = e.number("coil");
  const double sealed_va = e.number("sealed");
  const double inrush_va = e.number("inrush") > 0 ? e.number("inrush") : 8 * sealed_va;
  // An armature in closes the iron: the coil takes less than with it out.
  if (sealed_va > inrush_va) {
    e.complain("sealed", say("out of range: 'sealed' is more than 'inrush'"),
               say("inrush is several times sealed"));
  }
  const double ohm = e.number("coil resistance") > 0 ? e.number("coil resistance")
                                                     : 0.55 * volts * volts / inrush_va;
  // Power factors 0.3 sealed, 0.75 at inrush: common practice, no source.
  const ElementId coil =
      e.coil("coil", e.point("A1"), e.point("A2"), load_admittance(sealed_va, volts, 0.3),
             load_admittance(inrush_va, volts, 0.75), 1 / ohm);
  Armature row;
  row.coil = coil;
  row.pull_in_v = e.number("pull-in") * volts;
  row.drop_out_v = e.number("drop-out") * volts;
  row.pull_in_us = pull_in_us;
  row.drop_out_us = drop_out_us;
  const ActuatorId armature = e.armature("armature", row);
  const int poles = static_cast<int>(e.number("poles"));
  for (int pole = 1; pole <= poles; ++pole) {
    const std::string number = std::to_string(pole);
    e.contact("P" + number, e.point("L" + number), e.point("T" + number), armature, 1,
              e.number("contact"));
  }
  for (const std::string& wanted : e.value("auxiliaries").words) {
    bool known = false;
    for (const Auxiliary& auxiliary : kAuxiliaries) {
      if (auxiliary.name != wanted) continue;
      known = true;
      e.contact(auxiliary.name, e.point(auxiliary.from), e.point(auxiliary.to), armature,
                auxiliary.made_at, 0.01);
    }
    if (!known)
      e.complain("auxiliaries", say("unknown auxiliary '{word}'", {{"word", Name{wanted}}}),
                 say("expected NC, NO, NC2 or NO2"));
  }
}

// Pull-in and drop-out times: common practice, no source.
void emit_contactor(Emitter& e) {
  emit_sized(e, 18'000, 12'000);
  e.circuit().actuators[e.circuit().find_actuator(e.device(), "armature").slot()].by_hand = true;
}
void emit_relay(Emitter& e) { emit_sized(e, 12'000, 8'000); }

void coil_open(Circuit& c, DeviceId d, double) { open_part(c, d, "coil"); }
void coil_shorted(Circuit& c, DeviceId d, double ohm) { short_part(c, d, "coil", ohm); }
void wrong_voltage(Circuit& c, DeviceId d, double ratio) {
  Element& coil = element_of(c, d, "coil");
  const double scale = 1 / (ratio * ratio);
  coil.y = scale * coil.y;
  coil.y_rest = scale * coil.y_rest;
  coil.g *= scale;
  coil.g_rest *= scale;
  armature_of(c, d).pull_in_v *= ratio;
  armature_of(c, d).drop_out_v *= ratio;
}
void blocked(Circuit& c, DeviceId d, double) { armature_of(c, d).stuck = Armature::Stuck::out; }
void welded(Circuit& c, DeviceId d, double) { armature_of(c, d).stuck = Armature::Stuck::in; }
void ring_broken(Circuit& c, DeviceId d, double) {
  // Without its shading ring the pull falls to nothing twice a cycle: it lets go again and again.
  armature_of(c, d).drop_out_v = 100 * armature_of(c, d).pull_in_v;
}
std::string pole_name(double pole) { return "P" + std::to_string(static_cast<int>(pole)); }
void pole_open(Circuit& c, DeviceId d, double pole) {
  stick_contact(c, d, pole_name(pole), Element::Stuck::open);
}
void pole_welded(Circuit& c, DeviceId d, double pole) {
  stick_contact(c, d, pole_name(pole), Element::Stuck::made);
}
void pole_burnt(Circuit& c, DeviceId d, double ohm) { add_series(c, d, "P2", ohm); }
void nc_open(Circuit& c, DeviceId d, double) { stick_contact(c, d, "NC", Element::Stuck::open); }
void nc_closed(Circuit& c, DeviceId d, double) { stick_contact(c, d, "NC", Element::Stuck::made); }
bool three_poles(const Circuit& c, DeviceId d) { return has_part(c, d, "P3"); }
bool two_poles(const Circuit& c, DeviceId d) { return has_part(c, d, "P2"); }
bool has_nc(const Circuit& c, DeviceId d) { return has_part(c, d, "NC"); }

constexpr Level kShort[] = {{1, "1 ohm"}};
constexpr Level kRatio[] = {{1.9, "nearly twice the volts"}};
constexpr Level kPoles[] = {{1, "pole 1"}, {2, "pole 2"}, {3, "pole 3"}};
constexpr Level kOnePole[] = {{1, "pole 1"}};
constexpr Level kBurnt[] = {{0.5, "0.5 ohm"}, {3, "3 ohm"}};
constexpr Repair kCoil[] = {{"replace coil", 25, 20}, {"replace", 40, 45}};
constexpr Repair kWhole[] = {{"replace", 40, 45}};
constexpr Repair kClear[] = {{"clear", 15, 0}, {"replace", 40, 45}};

constexpr Condemn kOddCoil[] = {{Take::ohms, Shows::off_value, "coil"}};
// Fed and not in.
constexpr Condemn kBlocked[] = {{Take::volts, Shows::full, "coil"},
                                {Take::look, Shows::first, "position"}};
// Not fed and in.
constexpr Condemn kWelded[] = {{Take::volts, Shows::none, "coil"},
                               {Take::look, Shows::other, "position"}};
constexpr Condemn kPoleWelded[] = {{Take::ohms, Shows::shorted, "pole"},
                                   {Take::volts, Shows::none, "pole", true},
                                   {Take::volts, Shows::none, "coil"}};
constexpr Condemn kBurntPole[] = {{Take::drop, Shows::some, "P2"}};
constexpr Condemn kChatters[] = {{Take::look, Shows::wrong, "noise"}};
constexpr Condemn kAuxiliaryOpen[] = {{Take::volts, Shows::full, "NC"},
                                      {Take::look, Shows::first, "position"},
                                      {Take::ohms, Shows::open, "NC", true}};
constexpr Condemn kAuxiliaryClosed[] = {{Take::volts, Shows::none, "NC"},
                                        {Take::look, Shows::other, "position"}};

constexpr FaultMode kModes[] = {
    {.name = "coil open",
     .levels = kYes,
     .prior = "contactor: coil open",
     .apply = coil_open,
     .repairs = kCoil,
     .condemned_by = kOpenCoil},
    {.name = "coil shorted",
     .levels = kShort,
     .prior = "contactor: coil shorted",
     .apply = coil_shorted,
     .repairs = kCoil,
     .condemned_by = kShortedCoil,
     .dimension = Dimension::resistance},
    {.name = "coil of the wrong voltage",
     .levels = kRatio,
     .prior = "contactor: coil of the wrong voltage",
     .apply = wrong_voltage,
     .repairs = kCoil,
     .condemned_by = kOddCoil,
     .dimension = Dimension::number},
    {.name = "stuck open",
     .levels = kYes,
     .prior = "contactor: stuck open",
     .apply = blocked,
     .repairs = kClear,
     .condemned_by = kBlocked},
    {.name = "welded closed",
     .levels = kYes,
     .prior = "contactor: welded closed",
     .apply = welded,
     .repairs = kWhole,
     .condemned_by = kWelded},
    {.name = "pole welded",
     .levels = kOnePole,
     .prior = "contactor: pole welded",
     .apply = pole_welded,
     .repairs = kWhole,
     .condemned_by = kPoleWelded,
     .dimension = Dimension::number,
     .possible = two_poles},
    {.name = "pole open",
     .levels = kPoles,
     .prior = "contactor: pole open",
     .apply = pole_open,
     .repairs = kWhole,
     .condemned_by = kOpenPole,
     .dimension = Dimension::number,
     .possible = three_poles},
    {.name = "pole burnt",
     .levels = kBurnt,
     .prior = "contactor: pole burnt",
     .apply = pole_burnt,
     .repairs = kWhole,
     .condemned_by = kBurntPole,
     .dimension = Dimension::resistance,
     .possible = two_poles},
    {.name = "chatters",
     .levels = kYes,
     .prior = "contactor: chatters",
     .apply = ring_broken,
     .repairs = kWhole,
     .condemned_by = kChatters},
    {.name = "auxiliary stuck open",
     .levels = kYes,
     .prior = "contactor: auxiliary stuck open",
     .apply = nc_open,
     .repairs = kWhole,
     .condemned_by = kAuxiliaryOpen,
     .possible = has_nc},
    {.name = "auxiliary stuck closed",
     .levels = kYes,
     .prior = "contactor: auxiliary stuck closed",
     .apply = nc_closed,
     .repairs = kWhole,
     .condemned_by = kAuxiliaryClosed,
     .possible = has_nc},
};
constexpr KindLook::State kArmature[] = {{0, "Out."}, {0.5, "Pulled in."}};
constexpr KindLook::State kBuzz[] = {{0, "Quiet."}, {0.5, "Hums."}, {1.5, "Buzzes and clatters."}};
constexpr KindLook kLooks[] = {{"look", "position", kArmature, KindLook::Glance::too},
                               {"listen", "noise", kBuzz}};

}  // namespace

std::span<const Kind> kinds_of_contactor() {
  static constexpr Kind kKinds[] = {
      {.name = "contactor",
       .doc = "power poles pulled in by a coil",
       .symbol = "contactor",
       .front = "contactor",
       .params = kContactorParams,
       .emit = emit_contactor,
       .modes = kModes,
       .looks = kLooks,
       .skill = "load or switch"},
      {.name = "relay",
       .doc = "control relay: a coil and auxiliaries",
       .symbol = "relay",
       .front = "relay",
       .params = kRelayParams,
       .emit = emit_relay,
       .modes = kModes,
       .looks = kLooks,
       .holds_out = true,
       .skill = "load or switch"},
  };
  return kKinds;
}

}  // namespace legwork::circuit
