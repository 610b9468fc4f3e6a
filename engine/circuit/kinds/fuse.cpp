// Fuse: a link that melts, in a holder from which it can be pulled.
#include "engine/circuit/emitter.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/kinds/alter.h"
#include "engine/circuit/kinds/condemned.h"

namespace legwork::circuit {
namespace {

constexpr ParamSpec kParams[] = {
    {.key = "rating",
     .dimension = Dimension::current,
     .required = true,
     .low = 0.05,
     .high = 1000,
     .doc = "amps on its cap"},
    {.key = "class",
     .type = ParamSpec::Type::choice,
     .fallback_text = "time delay",
     .choices = "time delay|fast",
     .doc = "time delay carries a motor's start"},
};

void emit(Emitter& e) {
  const double rating = e.number("rating");
  const bool slow = e.text("class") == "time delay";
  const ActuatorId holder = e.hand("holder", 1);
  const ActuatorId link = e.heat("link", {.gone = true});
  const ElementId path = e.contact("", e.point("1"), e.point("2"), holder, 1, 0.1 / rating);
  e.also_driven(path, link, 0);
  // Melts in the end at 1.3 times its rating. Time delay: 500 % for 10 s at least (UL 248-8 and
  // UL 248-12, time-delay class J and R; from memory), and its short-circuit link at once from
  // 15 times; fast: well under a second at 500 %.
  e.thermal({.element = path,
             .per_amp2 = 1 / (1.3 * 1.3 * rating * rating),
             .instant_a = (slow ? 15 : 8) * rating,
             .heating_tau_s = slow ? 160.0 : 5.0,
             .cooling_tau_s = slow ? 160.0 : 5.0,
             .trips = link});
}

void blown(Circuit& c, DeviceId d, double) { heat_trip_of(c, d).stuck_at = 1; }
void weak(Circuit& c, DeviceId d, double share) {
  for (Thermal& thermal : c.thermals)
    if (thermal.element.valid() && c.elements[thermal.element.slot()].device == d)
      thermal.per_amp2 /= share * share;
}
void clip_open(Circuit& c, DeviceId d, double) { stick_contact(c, d, "", Element::Stuck::open); }
void clip_slack(Circuit& c, DeviceId d, double ohm) { add_series(c, d, "", ohm); }

constexpr Level kSmall[] = {{0.4, "0.4 of the right size"}};
constexpr Level kBig[] = {{3, "three times the right size"}};
constexpr Level kSlack[] = {{0.5, "0.5 ohm"}, {3, "3 ohm"}};
constexpr Repair kRenew[] = {{"replace", 3, 1}};
constexpr Repair kClip[] = {{"replace clip", 20, 4}};

// In its holder full voltage across it, if anything behind it takes current; else in the hand.
constexpr Condemn kBlown[] = {{Take::volts, Shows::full},
                              {Take::ohms_in_hand, Shows::open, "", true}};
// Voltage across fuse and clip, and the fuse good in the hand.
constexpr Condemn kClipOpen[] = {{Take::volts, Shows::full}, {Take::ohms_in_hand, Shows::shorted}};

constexpr FaultMode kModes[] = {
    {.name = "blown",
     .levels = kYes,
     .prior = "fuse: blown",
     .apply = blown,
     .repairs = kRenew,
     .condemned_by = kBlown},
    {.name = "too small",
     .levels = kSmall,
     .prior = "fuse: too small",
     .apply = weak,
     .repairs = kRenew,
     .condemned_by = kBlown},
    {.name = "too big",
     .levels = kBig,
     .prior = "fuse: too big",
     .apply = weak,
     .repairs = kRenew,
     .latent = true},
    {.name = "good but clip open",
     .levels = kYes,
     .prior = "fuse: clip open",
     .apply = clip_open,
     .repairs = kClip,
     .condemned_by = kClipOpen},
    {.name = "clip slack",
     .levels = kSlack,
     .prior = "fuse: clip slack",
     .apply = clip_slack,
     .repairs = kClip,
     .condemned_by = kDropAcross,
     .dimension = Dimension::resistance},
};

// A link that has melted is not seen through its body; the clips are.
constexpr KindLook::State kClips[] = {
    {0, "Its clips are bright and hold it tight; nothing shows on its body, blown or not."},
    {0.5, "Its clips are slack and have gone dull with heat."},
    {1.5, "One of its clips is sprung open and does not touch it."}};
constexpr KindLook kLooks[] = {{"look", "clips", kClips}};

}  // namespace

std::span<const Kind> kinds_of_fuse() {
  static constexpr Kind kKinds[] = {
      {.name = "fuse",
       .doc = "a fuse in its holder",
       .symbol = "fuse",
       .front = "fuse",
       .params = kParams,
       .emit = emit,
       .modes = kModes,
       .looks = kLooks,
       .legs = true,
       .supply_order = 5,
       .supply_points = "2",
       .parks = true,
       .skill = "power path"},
  };
  return kKinds;
}

}  // namespace legwork::circuit
