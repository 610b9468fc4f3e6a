// What is written on a part and how it is set, and a screw shot with the infrared thermometer.

#include <cmath>

#include "engine/base/quantity.h"
#include "engine/circuit/kinds.h"
#include "engine/session/names.h"
#include "engine/session/verbs.h"

namespace legwork::session {
namespace {

using circuit::ParamSpec;

// --- plate ---

Message plate_resolve(const Attempt& a, Line& line) { return names::device(a, line[0]); }
Message plate_refuse(const Attempt& a, const Line& line) { return names::reach_inside(a, line[0]); }

// A dial that a hand can turn shows where it stands; a disc has its points stamped on it.
bool has_dial(const circuit::Kind& kind) {
  for (const circuit::FaultMode& mode : kind.modes) {
    for (const circuit::Repair& repair : mode.repairs) {
      if (repair.name == "set") return true;
    }
  }
  return false;
}

const circuit::Threshold* threshold_of(const circuit::Circuit& wiring, circuit::DeviceId device,
                                       int& row) {
  for (const circuit::Actuator& actuator : wiring.actuators) {
    if (actuator.device != device || actuator.kind != circuit::ActuatorKind::threshold) continue;
    row = actuator.row;
    return &wiring.thresholds[static_cast<std::size_t>(actuator.row)];
  }
  return nullptr;
}

// Each set point as its dial stands: an observation, as it may stand wrong.
void plate_read(Site& site, const Line& line, Seen& seen) {
  const circuit::Circuit& sound = site.world.healthy()->circuit;
  const circuit::Circuit& wiring = site.world.unit().circuit;
  const circuit::DeviceId id = sound.find_device(line[0]);
  const circuit::Device& device = sound.devices[id.slot()];
  int row = -1;
  const circuit::Threshold* before = threshold_of(sound, id, row);
  if (before == nullptr || !has_dial(*device.kind)) return;
  const circuit::Threshold& now = wiring.thresholds[static_cast<std::size_t>(row)];
  const double moved =
      now.shift - before->shift + site.world.circuit().shift[static_cast<std::size_t>(row)];
  for (const ParamSpec& spec : device.kind->params) {
    const bool point =
        spec.type == ParamSpec::Type::quantity &&
        (spec.dimension == Dimension::pressure || spec.dimension == Dimension::temperature);
    const circuit::Value* value = point ? device.find_value(spec.key) : nullptr;
    if (value == nullptr || (value->number != before->high && value->number != before->low))
      continue;
    const double si = value->number + moved;
    Observation o;
    o.key = "setting " + line[0] + " " + std::string(spec.key);
    o.value = si;
    o.unit = display_unit(spec.dimension);
    o.number = std::round(spec.dimension == Dimension::pressure ? psig_from_pascals(si)
                                                                : (si - 273.15) * 1.8 + 32);
    o.resolution = spec.dimension == Dimension::pressure ? kPascalsPerPsi : 1 / 1.8;
    o.accuracy = o.resolution;  // a scale, read by eye
    seen.observations.push_back(std::move(o));
  }
}

// What nobody stamps on a part: windings, coils, and what the set points say.
bool is_stamped(const ParamSpec& spec) {
  constexpr std::string_view kInside[] = {
      "coil resistance", "winding", "run winding",        "senses", "start winding",
      "draws",           "drives",  "primary resistance", "poles",  "contact"};
  return std::find(std::begin(kInside), std::end(kInside), spec.key) == std::end(kInside);
}

void plate_book(Attempt& a, const Line& line, Outcome& out) {
  const circuit::Device& device = a.unit->circuit.devices[names::id(a, line[0]).slot()];
  List list{{}, Joined::by_commas};
  list.items.push_back(Term{std::string(device.kind->name)});
  for (const ParamSpec& spec : device.kind->params) {
    const circuit::Value* value = device.find_value(spec.key);
    if (value == nullptr || !value->given || !is_stamped(spec)) continue;
    if (spec.type == ParamSpec::Type::quantity) {
      const bool set = has_dial(*device.kind) && (spec.dimension == Dimension::pressure ||
                                                  spec.dimension == Dimension::temperature);
      if (set) continue;  // read off its dial
      list.items.push_back(
          say("{what} {value}", {{"what", Term{std::string(spec.key)}},
                                 {"value", amount(value->number, spec.dimension)}}));
    } else if (spec.type == ParamSpec::Type::choice) {
      list.items.push_back(say(
          "{what} {value}", {{"what", Term{std::string(spec.key)}}, {"value", Term{value->text}}}));
    }
  }
  out.seen.said.push_back(
      say("Written on {part}: {list}.", {{"part", Name{line[0]}}, {"list", list}}));
}

void plate_offer(const Attempt& a, std::vector<Line>& lines) {
  for (const circuit::Device& device : a.unit->circuit.devices) {
    if (names::place_of_device(a, names::id(a, device.name)) != a.book.place) continue;
    if (names::reach_inside(a, device.name).empty()) lines.push_back({device.name});
  }
}

// --- shoot ---

// K for each watt lost in a joint, after some minutes: a lug on a strip of this size (common
// practice, no source).
constexpr double kKelvinPerWatt = 5;
constexpr double kHottestK = 200;  // above the air: by then it is burnt off

Message shoot_resolve(const Attempt& a, Line& line) { return names::terminal(a, line[0]); }
Message shoot_refuse(const Attempt& a, const Line& line) {
  return names::reach_terminal(a, a.unit->circuit.find_terminal(line[0]));
}

// What the joint's own resistance makes of the amps that flow through it now.
void shoot_read(Site& site, const Line& line, Seen& seen) {
  const unit::Unit& unit = site.world.unit();
  const circuit::Circuit& wiring = unit.circuit;
  const circuit::TerminalId t = wiring.find_terminal(line[0]);
  double watts = 0;
  for (std::size_t i = 0; i < wiring.elements.size(); ++i) {
    const circuit::Element& element = wiring.elements[i];
    if ((element.a != t && element.b != t) || element.series_ohm <= 0) continue;
    const double amps = circuit::abs(site.world.electrics().amps(circuit::ElementId::of(i)));
    watts += amps * amps * element.series_ohm;
  }
  const circuit::DeviceId device = wiring.terminals[t.slot()].device;
  const unit::Spot* spot = device.valid() ? unit.spot_of(device) : nullptr;
  const unit::Place* place = spot == nullptr ? nullptr : unit.find_place(spot->place);
  const double air_k = place == nullptr ? site.world.surroundings().room_k
                       : place->in_box
                           ? plant::evaporator_of(site.world.outputs(), place->box).box_k
                       : place->outdoors ? site.world.surroundings().outdoor_k
                                         : site.world.surroundings().room_k;
  const double k = air_k + std::min(kHottestK, kKelvinPerWatt * watts);
  Observation o;
  o.key = "shoot " + line[0];
  o.value = k;
  o.unit = display_unit(Dimension::temperature);
  o.number = std::round((k - 273.15) * 1.8 + 32);
  o.resolution = 1 / 1.8;
  o.accuracy = 2;  // K: the usual ±2 °C of a hand-held one (common practice, no source)
  seen.observations.push_back(std::move(o));
}

constexpr Verb kVerbs[] = {
    {.name = "plate",
     .pattern = "plate {part}",
     .group = Group::look,
     .label = phrase("Read what is written on: {it}"),
     .help = phrase("What is written on a part, and how its dial is set: plate HPC."),
     .minutes = 0.5,
     .resolve = plate_resolve,
     .refuse = plate_refuse,
     .read = plate_read,
     .book = plate_book,
     .offer = plate_offer},
    {.name = "shoot",
     .pattern = "shoot {terminal}",
     .group = Group::measure,
     .label = phrase("shoot"),
     .help =
         phrase("Shoot a screw or a lug with the infrared thermometer: a bad joint is hot while "
                "amps flow through it."),
     .minutes = 0.5,
     .resolve = shoot_resolve,
     .refuse = shoot_refuse,
     .read = shoot_read,
     .open_ended = true},
};

}  // namespace

std::span<const Verb> verbs_parts() { return kVerbs; }

}  // namespace legwork::session
