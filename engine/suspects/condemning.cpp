#include "engine/suspects/condemning.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "engine/circuit/kinds.h"
#include "engine/session/names.h"
#include "engine/session/verbs.h"
#include "engine/sim/effects.h"
#include "engine/suspects/natural.h"
#include "engine/suspects/spread.h"
#include "engine/suspects/survey.h"

namespace legwork::suspects {

namespace {

using circuit::Condemn;
using circuit::TerminalId;
using session::Attempt;
using session::Observation;
using session::Step;
using Take = Condemn::Take;
using Shows = Condemn::Shows;

// Ohms. A contact or a fuse that is whole reads less (common practice: below 2 ohm with leads).
constexpr double kWholeOhms = 2;
// Ohms. A wire reads less with the leads in it (common practice, no source); the windings of a
// large motor beside it read half an ohm.
constexpr double kConductorOhms = 0.3;
// Ohms. Less to earth is grounded: 1 megohm, IEEE 43 (from memory) for old windings.
constexpr double kInsulationOhms = 1e6;
// Of what the plate says: a capacitor with less is weak; common practice, 6 % tolerance and meter.
constexpr double kWeakFarads = 0.90;
// Times full load. Amps of a rotor that does not turn are five to seven.
constexpr double kLockedAmps = 2.5;

bool is(const Observation& o, std::string_view verb) {
  return std::string_view(o.key).starts_with(verb) &&
         (o.key.size() == verb.size() || o.key[verb.size()] == ' ');
}

double number(const circuit::Device& device, std::string_view key) {
  const circuit::Value* value = device.find_value(key);
  return value == nullptr ? 0 : value->number;
}

}  // namespace

std::optional<Reading> reading_of(const session::Site& site, const session::Act& act,
                                  const session::Seen& seen, const Eyes& eyes) {
  // A search for a leak shows nothing that is read off, and is part of a test all the same.
  if (!seen.reads() && act.step.verb != "find leak") return std::nullopt;
  Reading reading{act.step, act.place, seen.observations, false};
  if (act.step.verb != "volts" || act.step.arguments.size() != 2) return reading;
  const circuit::Circuit& wiring = site.world.unit().circuit;
  const TerminalId a = wiring.find_terminal(act.step.arguments[0]);
  const TerminalId b = wiring.find_terminal(act.step.arguments[1]);
  if (a.valid() && b.valid())
    reading.ghost =
        circuit::abs(site.world.electrics().thevenin(a, b).ohms) > eyes.table().ghost_ohms;
  return reading;
}

const fault::Mode* Condemning::mode_of(const fault::Fault& fault) const {
  auto it = std::find_if(modes_.begin(), modes_.end(),
                         [&](const auto& known) { return known.first == fault.what; });
  if (it == modes_.end()) {
    modes_.emplace_back(fault.what, fault::modes_of(eyes_.unit(), fault.what));
    it = modes_.end() - 1;
  }
  const auto mode = std::find_if(it->second.begin(), it->second.end(),
                                 [&](const fault::Mode& m) { return m.how == fault.how; });
  return mode == it->second.end() ? nullptr : &*mode;
}

std::vector<std::vector<Condemn>> Condemning::ways_of(const fault::Fault& fault) const {
  std::vector<std::vector<Condemn>> ways;
  const fault::Mode* mode = mode_of(fault);
  if (mode == nullptr) return ways;
  for (const Condemn& row : mode->condemned_by) {
    if (ways.empty() || row.or_else) ways.emplace_back();
    ways.back().push_back(row);
  }
  return ways;
}

// The pairs of points between which a row is read.
std::vector<Condemning::Ends> Condemning::ends_of(const fault::Fault& fault, const Row& row) const {
  const circuit::Circuit& wiring = eyes_.unit().circuit;
  std::vector<Ends> out;
  const circuit::DeviceId id = wiring.find_device(fault.what);
  if (!id.valid()) {
    const circuit::WireId wire = wiring.find_wire(fault.what);
    if (wire.valid())
      out.push_back({wiring.wires[wire.slot()].from, wiring.wires[wire.slot()].to, true});
    return out;
  }
  const circuit::Device& device = wiring.devices[id.slot()];
  const auto visible = [&](TerminalId t) {
    return t.valid() && !wiring.terminals[t.slot()].hidden;
  };
  if (row.of == "leads" || row.take == Take::insulation) {
    std::vector<TerminalId> leads;
    std::copy_if(device.terminals.begin(), device.terminals.end(), std::back_inserter(leads),
                 visible);
    // Of a single-phase motor volts and amps are those of its run winding, C to R.
    const bool run =
        (row.take == Take::volts || row.take == Take::drop || row.take == Take::amps) &&
        leads.size() == 3 && wiring.terminals[leads[0].slot()].name.ends_with(".C");
    for (std::size_t i = 0; i < leads.size(); ++i) {
      for (std::size_t j = i + 1; j < leads.size(); ++j) {
        if (!run || (i == 0 && j == 1)) out.push_back({leads[i], leads[j], false});
      }
    }
    return out;
  }
  const auto add = [&](const circuit::Part& part) {
    if (visible(part.from) && visible(part.to)) out.push_back({part.from, part.to, false});
  };
  if (row.of == "pole") {
    const auto pole = static_cast<std::size_t>(
        fault.severity >= 1 && fault.severity < 10 ? fault.severity - 1 : 0);
    for (std::size_t k = 0, n = 0; k < device.parts.size(); ++k) {
      if (is_load(wiring, device.parts[k]) ||
          (device.parts.size() > 3 && device.parts[k].name[0] != 'P'))
        continue;
      if (n++ == pole) add(device.parts[k]);
    }
    return out;
  }
  std::string_view names = row.of;
  if (names.empty() && !device.parts.empty()) {
    // The sole part, or its first contact, or its first.
    const auto contact = std::find_if(device.parts.begin(), device.parts.end(),
                                      [&](const circuit::Part& p) { return !is_load(wiring, p); });
    add(contact == device.parts.end() ? device.parts.front() : *contact);
    return out;
  }
  while (!names.empty() && out.empty()) {
    const std::size_t end = std::min(names.find('|'), names.size());
    for (const circuit::Part& part : device.parts) {
      if (part.name == names.substr(0, end)) add(part);
    }
    names.remove_prefix(std::min(end + 1, names.size()));
  }
  return out;
}

// Wires in which the clamp tells the amps of a row.
std::vector<circuit::WireId> Condemning::wires_of(const fault::Fault& fault, const Row& row) const {
  const circuit::Circuit& wiring = eyes_.unit().circuit;
  std::vector<circuit::WireId> out;
  for (const Ends& ends : ends_of(fault, row)) {
    for (std::size_t w = 0; w < wiring.wires.size(); ++w) {
      const circuit::Wire& wire = wiring.wires[w];
      const auto touches = [&](TerminalId t) { return wire.from == t || wire.to == t; };
      const circuit::WireId id = circuit::WireId::of(w);
      if (!wire.jumper && (touches(ends.a) || touches(ends.b)) &&
          std::find(out.begin(), out.end(), id) == out.end())
        out.push_back(id);
    }
  }
  return out;
}

std::vector<const unit::Look*> Condemning::looks_of(const fault::Fault& fault,
                                                    const Row& row) const {
  const std::string own = fault.what + "." + std::string(row.of);
  std::vector<const unit::Look*> out;
  for (const unit::Look& look : eyes_.unit().looks) {
    if (look.quantity == row.of || look.quantity == own) out.push_back(&look);
  }
  return out;
}

int Condemning::sound_state(const unit::Look& look) const {
  const unit::Unit& unit = eyes_.unit();
  if (sound_.empty()) {
    sound_.assign(unit.looks.size(), 0);
    const auto world =
        sim::world_in_state(eyes_.unit_ptr(), sim::State::cooling, {}, sim::usual_day(unit));
    for (std::size_t k = 0; world && k < unit.looks.size(); ++k) {
      const double value = world->quantity(unit.looks[k].quantity);
      for (std::size_t s = 1; s < unit.looks[k].states.size(); ++s) {
        if (value >= unit.looks[k].states[s].from) sound_[k] = static_cast<int>(s);
      }
    }
  }
  return sound_[static_cast<std::size_t>(&look - unit.looks.data())];
}

// One point by a wire: where a lead sits as well.
bool Condemning::wired(TerminalId a, TerminalId b) const {
  if (a == b) return true;
  const auto& wires = eyes_.unit().circuit.wires;
  return std::any_of(wires.begin(), wires.end(), [&](const circuit::Wire& wire) {
    return !wire.jumper && ((wire.from == a && wire.to == b) || (wire.from == b && wire.to == a));
  });
}

bool Condemning::across(const Reading& reading, const Ends& ends) const {
  if (reading.step.arguments.size() != 2) return false;
  const circuit::Circuit& wiring = eyes_.unit().circuit;
  const TerminalId a = wiring.find_terminal(reading.step.arguments[0]);
  const TerminalId b = wiring.find_terminal(reading.step.arguments[1]);
  if (!a.valid() || !b.valid()) return false;
  if ((a == ends.a && b == ends.b) || (a == ends.b && b == ends.a)) return true;
  if (ends.exact) return false;
  return (wired(a, ends.a) && wired(b, ends.b)) || (wired(a, ends.b) && wired(b, ends.a));
}

bool Condemning::shows_volts(const Row& row, const Ends& ends, const Observation& seen) const {
  const double full = eyes_.rungs().volts(ends.a, ends.b);
  const Resolutions& table = eyes_.table();
  if (row.take == Take::drop) {
    const double least = std::max(table.made_share * full, table.made_least_v);
    return seen.value > least && seen.value < (1 - table.volts_part) * full;
  }
  switch (row.shows) {
    case Shows::none:
      return seen.value < table.volts_none * full;
    case Shows::full:
      return seen.value >= (1 - table.volts_part) * full;
    case Shows::low:
      return seen.value < (1 - table.supply_share) * full;
    case Shows::high:
      return seen.value > (1 + table.supply_share) * full;
    default:
      return true;
  }
}

bool Condemning::shows_ohms(const Row& row, const Ends& ends, const Observation& seen) const {
  if (row.shows == Shows::anything) return true;
  // A conductor that is none has whatever lies beside it between its ends.
  if (row.shows == Shows::open && ends.exact && !seen.over_range && !seen.unit.empty())
    return seen.value > kConductorOhms;
  if (row.shows == Shows::open) return seen.over_range;
  if (seen.over_range || seen.unit.empty()) return false;
  // Its own ohms, of the sound part.
  const circuit::Circuit& wiring = eyes_.unit().circuit;
  double own = 0;
  for (const circuit::Element& element : wiring.elements) {
    const bool its = (element.a == ends.a && element.b == ends.b) ||
                     (element.a == ends.b && element.b == ends.a);
    if (its && element.g > 0) own = std::max(own, 1 / element.g);
  }
  const double share = eyes_.table().ohms_share;
  if (row.shows == Shows::shorted)
    return seen.value < std::max(kWholeOhms, eyes_.table().shorted_share * own);
  return own <= 0 || std::fabs(seen.value - own) > share * own;
}

bool Condemning::legs_shown(const Row& row, std::span<const Reading> readings) const {
  const Rungs& rungs = eyes_.rungs();
  const circuit::Circuit& wiring = eyes_.unit().circuit;
  for (const unit::Place& place : eyes_.unit().places) {
    const std::size_t points = rungs.supply_at(place.id).size();
    if (points < 2) continue;
    std::vector<std::uint32_t> pairs;
    bool spoke = row.shows == Shows::anything;
    for (const Reading& reading : readings) {
      if (reading.step.verb != "volts" || reading.place != place.id || reading.observations.empty())
        continue;
      const TerminalId a = wiring.find_terminal(reading.step.arguments[0]);
      const TerminalId b = wiring.find_terminal(reading.step.arguments[1]);
      if (!a.valid() || !b.valid() || !rungs.proves_supply(place.id, a, b)) continue;
      const std::uint32_t legs = rungs.legs(a) | rungs.legs(b);
      if (std::find(pairs.begin(), pairs.end(), legs) == pairs.end()) pairs.push_back(legs);
      spoke = spoke || shows_volts(row, {a, b, true}, reading.observations.front());
    }
    if (spoke && pairs.size() >= points * (points - 1) / 2) return true;
  }
  return false;
}

// What the control follows, as gauge or thermometer showed it, on the side of its plate's points
// where its contact should be made or apart.
bool Condemning::sense_shown(const fault::Fault& fault, const Row& row,
                             std::span<const Reading> readings) const {
  const circuit::Circuit& wiring = eyes_.unit().circuit;
  const circuit::DeviceId id = wiring.find_device(fault.what);
  if (!id.valid()) return true;
  const circuit::Device& device = wiring.devices[id.slot()];
  const circuit::Value* senses = device.find_value("senses");
  if (senses == nullptr) return true;
  const std::string_view sense = read_as(senses->text);
  const double opens = number(device, "opens"), closes = number(device, "closes");
  for (const Reading& reading : readings) {
    for (const Observation& o : reading.observations) {
      bool follows = (sense == "head" && o.key == "gauges discharge") ||
                     (sense == "suction" && o.key == "gauges suction");
      for (const unit::ProbePoint& probe : eyes_.unit().probes)
        follows = follows || (probe.quantity == sense && o.key.starts_with("temp " + probe.id));
      if (!follows) continue;
      if (row.shows == Shows::anything || opens == closes) return true;
      const bool on_rise = opens > closes;
      const bool made = on_rise ? o.value < closes : o.value > closes;
      const bool apart = on_rise ? o.value > opens : o.value < opens;
      if (row.shows == Shows::made ? made : apart) return true;
    }
  }
  return false;
}

bool Condemning::shown(const fault::Fault& fault, const Row& row,
                       std::span<const Reading> readings) const {
  if (row.take == Take::legs) return legs_shown(row, readings);
  if (row.take == Take::sense) return sense_shown(fault, row, readings);
  const auto any = [&](const auto& speaks) {
    return std::any_of(readings.begin(), readings.end(), [&](const Reading& r) {
      return std::any_of(r.observations.begin(), r.observations.end(),
                         [&](const Observation& o) { return speaks(r, o); });
    });
  };
  switch (row.take) {
    case Take::volts:
    case Take::drop: {
      const std::vector<Ends> all = ends_of(fault, row);
      const auto read = [&](const Ends& ends) {
        return any([&](const Reading& r, const Observation& o) {
          const bool counts = !r.ghost || row.shows == Shows::anything;
          return counts && (is(o, "volts") || is(o, "lowz")) && across(r, ends) &&
                 shows_volts(row, ends, o);
        });
      };
      // A motor is fed on all of its leads.
      return !all.empty() && (row.shows == Shows::full ? std::all_of(all.begin(), all.end(), read)
                                                       : std::any_of(all.begin(), all.end(), read));
    }
    case Take::ohms:
    case Take::ohms_in_hand:
    case Take::microfarads: {
      const std::vector<Ends> all = ends_of(fault, row);
      const bool farads = row.take == Take::microfarads;
      const circuit::DeviceId id = eyes_.unit().circuit.find_device(fault.what);
      const double plate =
          id.valid() ? number(eyes_.unit().circuit.devices[id.slot()], "capacitance") : 0;
      return std::any_of(all.begin(), all.end(), [&](const Ends& ends) {
        return any([&](const Reading& r, const Observation& o) {
          if (!across(r, ends)) return false;
          if (farads) return is(o, "microfarads") && o.value < kWeakFarads * plate;
          return (is(o, "ohms") || is(o, "continuity")) && shows_ohms(row, ends, o);
        });
      });
    }
    case Take::insulation: {
      std::vector<TerminalId> own;
      for (const Ends& ends : ends_of(fault, {Take::ohms, Shows::anything, "leads"}))
        own.insert(own.end(), {ends.a, ends.b});
      return any([&](const Reading& r, const Observation& o) {
        if (!is(o, "insulation") && !is(o, "ohms")) return false;
        const circuit::Circuit& wiring = eyes_.unit().circuit;
        TerminalId t = wiring.find_terminal(r.step.arguments[0]);
        TerminalId earth = wiring.find_terminal(r.step.arguments[1]);
        if (t == circuit::kGround) std::swap(t, earth);
        const bool its =
            std::any_of(own.begin(), own.end(), [&](TerminalId e) { return wired(e, t); });
        return earth == circuit::kGround && its &&
               (row.shows == Shows::anything || (!o.over_range && o.value < kInsulationOhms));
      });
    }
    case Take::amps: {
      const std::vector<circuit::WireId> wires = wires_of(fault, row);
      const circuit::DeviceId id = eyes_.unit().circuit.find_device(fault.what);
      const double plate =
          id.valid() ? number(eyes_.unit().circuit.devices[id.slot()], "full load") : 0;
      return any([&](const Reading& r, const Observation& o) {
        if (!is(o, "clamp") && !is(o, "peak")) return false;
        const circuit::WireId wire = eyes_.unit().circuit.find_wire(r.step.arguments[0]);
        if (std::find(wires.begin(), wires.end(), wire) == wires.end()) return false;
        const double none = eyes_.table().amps_none;
        return row.shows == Shows::none   ? o.value < none
               : row.shows == Shows::some ? o.value >= none
               : row.shows == Shows::high ? o.value > kLockedAmps * plate
                                          : true;
      });
    }
    case Take::look: {
      const auto looks = looks_of(fault, row);
      return any([&](const Reading&, const Observation& o) {
        const auto look = std::find_if(looks.begin(), looks.end(),
                                       [&](const unit::Look* l) { return l->id == o.key; });
        if (look == looks.end()) return false;
        return row.shows == Shows::first   ? o.state == 0
               : row.shows == Shows::other ? o.state > 0
               : row.shows == Shows::wrong ? o.state != sound_state(**look)
                                           : true;
      });
    }
    case Take::gauges:
      return any([](const Reading&, const Observation& o) { return is(o, "gauges"); });
    case Take::temperature:
      return any([&](const Reading&, const Observation& o) {
        return std::any_of(eyes_.unit().probes.begin(), eyes_.unit().probes.end(),
                           [&](const unit::ProbePoint& probe) {
                             return probe.quantity == row.of && !eyes_.blind(o.key) &&
                                    o.key.starts_with("temp " + probe.id);
                           });
      });
    case Take::leak:
      return std::any_of(readings.begin(), readings.end(),
                         [](const Reading& r) { return r.step.verb == "find leak"; });
    case Take::legs:
    case Take::sense:
      break;
  }
  return false;
}

bool Condemning::done(const fault::Fault& fault, std::span<const Reading> readings) const {
  const auto ways = ways_of(fault);
  return std::any_of(ways.begin(), ways.end(), [&](const std::vector<Row>& rows) {
    return std::all_of(rows.begin(), rows.end(),
                       [&](const Row& row) { return shown(fault, row, readings); });
  });
}

bool Condemning::advances(const fault::Fault& fault, std::span<const Reading> before,
                          std::span<const Reading> with) const {
  const auto ways = ways_of(fault);
  return std::any_of(ways.begin(), ways.end(), [&](const std::vector<Row>& rows) {
    return std::any_of(rows.begin(), rows.end(), [&](const Row& row) {
      return !shown(fault, row, before) && shown(fault, row, with);
    });
  });
}

bool Condemning::can(const fault::Fault& fault, const Row& row) const {
  switch (row.take) {
    case Take::look:
      return !looks_of(fault, row).empty();
    case Take::gauges:
      return !eyes_.unit().gauge_place.empty();
    case Take::temperature:
      return std::any_of(eyes_.unit().probes.begin(), eyes_.unit().probes.end(),
                         [&](const unit::ProbePoint& p) { return p.quantity == row.of; });
    case Take::leak:
      return true;
    case Take::legs:
      return std::any_of(
          eyes_.unit().places.begin(), eyes_.unit().places.end(),
          [&](const unit::Place& p) { return eyes_.rungs().supply_at(p.id).size() > 1; });
    case Take::sense: {
      const circuit::DeviceId id = eyes_.unit().circuit.find_device(fault.what);
      if (!id.valid()) return false;
      const circuit::Value* senses = eyes_.unit().circuit.devices[id.slot()].find_value("senses");
      if (senses == nullptr) return false;
      if (senses->text == "head" || senses->text == "suction")
        return !eyes_.unit().gauge_place.empty();
      return std::any_of(
          eyes_.unit().probes.begin(), eyes_.unit().probes.end(),
          [&](const unit::ProbePoint& p) { return p.quantity == read_as(senses->text); });
    }
    default: {
      const std::vector<Ends> ends = ends_of(fault, row);
      return !ends.empty() && std::all_of(ends.begin(), ends.end(), [&](const Ends& e) {
        return within_reach(e, row.take == Take::insulation);
      });
    }
  }
}

// Two leads reach from one point to the other: both at one place, neither on the street's side. Of
// insulation one of them is enough, as the other is earth.
bool Condemning::within_reach(const Ends& ends, bool one) const {
  const auto place = [&](TerminalId t) {
    const unit::Spot* spot =
        t == circuit::kGround
            ? nullptr
            : eyes_.unit().spot_of(eyes_.unit().circuit.terminals[t.slot()].device);
    return spot == nullptr ? std::string() : spot->place;
  };
  const std::string a = place(ends.a), b = place(ends.b);
  if (one || ends.a == circuit::kGround || ends.b == circuit::kGround)
    return !a.empty() || !b.empty();
  return !a.empty() && a == b;
}

bool Condemning::possible(const fault::Fault& fault) const {
  const auto ways = ways_of(fault);
  return std::any_of(ways.begin(), ways.end(), [&](const std::vector<Row>& rows) {
    return std::all_of(rows.begin(), rows.end(), [&](const Row& row) { return can(fault, row); });
  });
}

}  // namespace legwork::suspects
