#include "engine/suspects/natural.h"

#include <algorithm>

#include "engine/base/among.h"
#include "engine/circuit/kinds.h"
#include "engine/session/feeding.h"
#include "engine/session/verbs.h"

namespace legwork::suspects {

namespace {

using session::Step;

// Amps on the plate under which a clamp is awkward.
constexpr double kSmallAmps = 0.5;

bool natural_pair(const Eyes& eyes, const Step& step) {
  const circuit::Circuit& wiring = eyes.unit().circuit;
  const circuit::TerminalId a = wiring.find_terminal(step.arguments[0]);
  const circuit::TerminalId b = wiring.find_terminal(step.arguments[1]);
  if (!a.valid() || !b.valid()) return false;
  const Leads leads = eyes.rungs().leads(a, b);
  if (among(step.verb, {"volts", "lowz"})) return leads != Leads::unnatural;
  if (step.verb == "insulation") {
    const bool to_earth = a == circuit::kGround || b == circuit::kGround;
    const circuit::DeviceId d = wiring.terminals[(a == circuit::kGround ? b : a).slot()].device;
    return to_earth && d.valid() && wiring.devices[d.slot()].kind->load;
  }
  if (step.verb == "dc") return leads == Leads::load;
  return leads == Leads::load || leads == Leads::contact || leads == Leads::conductor;
}

}  // namespace

bool natural(const Eyes& eyes, const Step& step) {
  if (among(step.verb,
            {"volts", "lowz", "dc", "ohms", "continuity", "microfarads", "insulation"}) &&
      step.arguments.size() == 2)
    return natural_pair(eyes, step);
  if (among(step.verb, {"clamp", "peak"}) && !step.arguments.empty()) {
    const circuit::WireId wire = eyes.unit().circuit.find_wire(step.arguments[0]);
    return wire.valid() && eyes.rungs().clamp(wire);
  }
  if (step.verb == "temp" && step.arguments.size() == 2 && !step.arguments[1].empty())
    return !eyes.blind(session::text(step));
  return !among(step.verb, {"jumper", "push", "open door", "close door"});
}

bool natural(const Eyes& eyes, std::span<const Step> steps) {
  for (std::size_t k = 0; k < steps.size(); ++k) {
    if (!natural(eyes, steps[k])) return false;
    if (steps[k].verb != "open") continue;
    const auto rest = steps.subspan(k + 1);
    const auto next = [&](std::string_view verb) {
      return std::find_if(rest.begin(), rest.end(), [&](const Step& s) { return s.verb == verb; });
    };
    const auto locked = next("lock"), closed = next("close"), waited = next("let it run");
    const bool safe = locked != rest.end() && (closed == rest.end() || locked < closed);
    const bool released = closed != rest.end() && waited != rest.end() && waited < closed;
    if (!safe && !released) return false;
  }
  return true;
}

double handiness(const Eyes& eyes, circuit::TerminalId a, circuit::TerminalId b) {
  switch (eyes.rungs().leads(a, b)) {
    case Leads::load:
    case Leads::contact:
      return 1.0;
    case Leads::supply:
      return 0.95;
    case Leads::conductor:
    case Leads::parked:
      return 0.9;
    case Leads::earth:
      return 0.8;
    case Leads::unnatural:
      return 0;
  }
  return 0;
}

double reach(const Eyes& eyes, std::span<const Step> steps) {
  if (steps.empty()) return 1;
  const Resolutions::Reach& table = eyes.table().reach;
  const Step& step = steps.back();
  const auto argument = [&](std::size_t k) {
    return k < step.arguments.size() ? std::string_view(step.arguments[k]) : std::string_view{};
  };
  double weight = 1;
  if (step.verb == "temp") {
    const bool infrared = !argument(1).empty();
    const bool air =
        std::any_of(eyes.unit().probes.begin(), eyes.unit().probes.end(),
                    [&](const unit::ProbePoint& p) { return p.id == argument(0) && p.air; });
    weight = infrared ? table.infrared : air ? table.air : table.pipe;
    // Nobody walks for a shot of the infrared thermometer.
    const bool walks =
        std::any_of(steps.begin(), steps.end(), [](const Step& one) { return one.verb == "go"; });
    if (infrared && walks) weight *= table.infrared;
  } else if (step.verb == "feel") {
    weight = argument(0) == "compressor" || argument(0) == "CM" ? table.compressor : table.touch;
  } else if (among(step.verb, {"look", "listen", "smell"})) {
    weight = table.look;
  } else if (among(step.verb, {"clamp", "peak"})) {
    const circuit::WireId wire = eyes.unit().circuit.find_wire(argument(0));
    const bool small = wire.valid() && eyes.rungs().plate_amps(wire) < kSmallAmps;
    const bool shared = wire.valid() && eyes.rungs().loads_on(wire) > 1;
    weight = small ? table.small_amps : shared ? table.feed_amps : table.amps;
  } else if (step.verb.starts_with("gauges")) {
    weight = table.gauges;
  } else if (among(step.verb, {"ohms", "continuity", "microfarads", "insulation"})) {
    weight = table.ohms;
  } else if (among(step.verb, {"volts", "lowz"})) {
    weight = table.volts;
  }
  for (const Step& one : steps) {
    if (one.verb == "lock" || one.verb.starts_with("let it run")) weight *= table.waiting;
  }
  return weight;
}

bool held_off(const circuit::Circuit& wiring, std::span<const std::string> handles,
              std::span<const circuit::TerminalId> terminals) {
  const std::vector<char> fed =
      session::fed_by_supply(wiring, [&](const circuit::Circuit&, const circuit::Element& element) {
        return element.role == circuit::ElementRole::contact && element.device.valid() &&
               std::find(handles.begin(), handles.end(),
                         wiring.devices[element.device.slot()].name) != handles.end();
      });
  return std::none_of(terminals.begin(), terminals.end(), [&](circuit::TerminalId t) {
    return t.valid() && t != circuit::kGround && fed[t.slot()] != 0;
  });
}

bool uses_leads(const Step& step) {
  return among(step.verb, {"volts", "lowz", "dc", "clamp", "peak"});
}

bool held_by_supply(const circuit::Device& device) { return device.kind->holds_out; }

}  // namespace legwork::suspects
