// The steps of a condemning test, from where the trainee stands (condemning.h).
#include <algorithm>
#include <utility>

#include "engine/base/split.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/operate.h"
#include "engine/session/names.h"
#include "engine/session/verbs.h"
#include "engine/suspects/condemning.h"
#include "engine/suspects/natural.h"
#include "engine/suspects/survey.h"

namespace legwork::suspects {

namespace {

using circuit::Condemn;
using circuit::TerminalId;
using session::Attempt;
using session::Step;
using Take = Condemn::Take;

bool wants_dead(Take take) {
  return take == Take::ohms || take == Take::ohms_in_hand || take == Take::insulation ||
         take == Take::microfarads;
}

// Writes steps down and keeps the book of them, as far as a book knows without the site.
class Writer {
 public:
  explicit Writer(const Attempt& attempt) : at_(attempt) {}

  void add(Step step) {
    minutes_ += book_only(at_, std::vector<Step>{step});
    steps_.push_back(std::move(step));
  }
  bool go(const std::string& place) {
    if (place.empty() || place == at_.book.place) return true;
    const Step walk{"go", {place}};
    if (!session::would(at_, walk).accepted) return false;
    add(walk);
    return true;
  }
  void dress() {
    for (const Step& step : preparations(at_, Needs::meter_inside)) add(step);
  }
  std::vector<session::Line> offered(std::string_view verb) const {
    std::vector<session::Line> lines;
    const session::Verb* row = session::find_verb(verb);
    if (row != nullptr && row->offer != nullptr) row->offer(at_, lines);
    return lines;
  }
  // Live again, if it was locked out.
  void make_live() {
    for (const std::string& handle : std::vector<std::string>(at_.book.my_locks)) {
      go(session::names::place_of_device(at_, session::names::id(at_, handle)));
      add({"unlock", {handle}});
      add({"close", {handle}});
    }
  }
  // Opened, locked, and proven dead where the hands will be: `parts`, wires or devices. The handle
  // is one that holds them off, here if there is one here.
  // `hands`: they go in, so that whatever stands behind the same cover is held off too, where
  // handles can do that.
  bool make_dead(const std::string& place, const std::string& parts, bool hands) {
    std::vector<circuit::TerminalId> points = points_of(parts);
    const circuit::Circuit& wiring = at_.unit->circuit;
    if (hands) {
      std::vector<circuit::TerminalId> all = points;
      for (const circuit::TerminalId t : behind_cover(place)) all.push_back(t);
      std::vector<std::string> every = handles_from(place);
      every.insert(every.end(), at_.book.my_locks.begin(), at_.book.my_locks.end());
      if (held_off(wiring, every, all)) points = std::move(all);
    }
    if (!held_off(wiring, at_.book.my_locks, points)) {
      // One handle that does, or else one of each supply.
      std::vector<std::string> handles = handles_from(place);
      const auto holds = [&](const std::vector<std::string>& more) {
        std::vector<std::string> locks = at_.book.my_locks;
        locks.insert(locks.end(), more.begin(), more.end());
        return held_off(wiring, locks, points);
      };
      if (!holds(handles)) return false;
      const auto one = std::find_if(handles.begin(), handles.end(),
                                    [&](const std::string& handle) { return holds({handle}); });
      if (one != handles.end()) {
        handles = {*one};
      } else {
        for (std::size_t k = 0; k < handles.size();) {
          std::vector<std::string> fewer = handles;
          fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(k));
          if (holds(fewer)) {
            handles = std::move(fewer);
          } else {
            ++k;
          }
        }
      }
      for (const std::string& handle : handles) {
        const circuit::DeviceId id = session::names::id(at_, handle);
        if (!go(session::names::place_of_device(at_, id))) return false;
        dress();
        if (!session::handle_is_open(at_.site, id)) add({"open", {handle}});
        add({"lock", {handle}});
      }
    }
    if (!held_off(wiring, at_.book.my_locks, points) || !go(place)) return false;
    dress();
    add({"prove dead", {parts}});
    return true;
  }

  const Attempt& at() const { return at_; }
  const std::vector<Step>& steps() const { return steps_; }
  double minutes() const { return minutes_; }

 private:
  // Of what is behind the cover of a place. The line side of a handle has its own guard.
  std::vector<circuit::TerminalId> behind_cover(const std::string& place) const {
    std::vector<circuit::TerminalId> out;
    const circuit::Circuit& wiring = at_.unit->circuit;
    for (const unit::Spot& spot : at_.unit->spots) {
      if (spot.place != place || !spot.in_panel ||
          circuit::can_operate(wiring, spot.device, circuit::HandVerb::open))
        continue;
      const auto& terminals = wiring.devices[spot.device.slot()].terminals;
      out.insert(out.end(), terminals.begin(), terminals.end());
    }
    return out;
  }
  // Those of this place first.
  std::vector<std::string> handles_from(const std::string& place) const {
    std::vector<std::string> here, elsewhere;
    const circuit::Circuit& wiring = at_.unit->circuit;
    for (std::size_t d = 0; d < wiring.devices.size(); ++d) {
      const circuit::DeviceId id = circuit::DeviceId::of(d);
      const std::string& name = wiring.devices[d].name;
      if (!circuit::can_operate(wiring, id, circuit::HandVerb::open) ||
          session::names::holds(at_.book.my_locks, name) ||
          session::names::holds(at_.book.other_locks, name))
        continue;
      (session::names::place_of_device(at_, id) == place ? here : elsewhere).push_back(name);
    }
    here.insert(here.end(), elsewhere.begin(), elsewhere.end());
    return here;
  }
  // Terminals of devices and wires; of a handle only those that it holds off itself.
  std::vector<circuit::TerminalId> points_of(const std::string& parts) const {
    std::vector<circuit::TerminalId> out;
    const circuit::Circuit& wiring = at_.unit->circuit;
    for (const std::string_view word : words_in(parts)) {
      const circuit::WireId wire = wiring.find_wire(word);
      if (wire.valid()) {
        out.push_back(wiring.wires[wire.slot()].from);
        out.push_back(wiring.wires[wire.slot()].to);
      } else if (const circuit::TerminalId t = wiring.find_terminal(word); t.valid()) {
        out.push_back(t);
      } else if (const circuit::DeviceId id = wiring.find_device(word); id.valid()) {
        const bool handle = circuit::can_operate(wiring, id, circuit::HandVerb::open);
        const std::string own[] = {wiring.devices[id.slot()].name};
        for (const circuit::TerminalId one : wiring.devices[id.slot()].terminals) {
          if (!handle || held_off(wiring, own, {&one, 1})) out.push_back(one);
        }
      }
    }
    return out;
  }

  Attempt at_;
  std::vector<Step> steps_;
  double minutes_ = 0;
};

std::string_view verb_of(unit::Sense sense) {
  switch (sense) {
    case unit::Sense::look:
      return "look";
    case unit::Sense::listen:
      return "listen";
    case unit::Sense::feel:
      return "feel";
    case unit::Sense::smell:
      return "smell";
  }
  return "look";
}

}  // namespace

std::vector<Step> Condemning::steps(const Attempt& attempt, const fault::Fault& fault) const {
  std::vector<std::vector<Step>> all = plans(attempt, fault);
  return all.empty() ? std::vector<Step>{} : std::move(all.front());
}

bool Condemning::would_show(Attempt attempt, const fault::Fault& fault, std::span<const Step> steps,
                            std::vector<Reading> before) const {
  for (const Step& step : steps) {
    const session::Outcome outcome = session::submit(attempt, step);
    if (!outcome.accepted) continue;  // as whoever goes on with the next
    if (auto reading = reading_of(attempt.site, attempt.book.last_act, outcome.seen, eyes_))
      before.push_back(std::move(*reading));
  }
  return done(fault, before);
}

std::vector<std::vector<Step>> Condemning::plans(const Attempt& attempt, const fault::Fault& fault,
                                                 std::span<const Reading> before) const {
  const circuit::Circuit& wiring = eyes_.unit().circuit;
  const auto name = [&](TerminalId t) { return wiring.terminals[t.slot()].name; };
  const auto place_of = [&](TerminalId t) {
    return session::names::place_of_device(attempt, wiring.terminals[t.slot()].device);
  };
  const circuit::DeviceId device = wiring.find_device(fault.what);
  // The device at one end of these, for a wire that has no device of its own; one end may be earth.
  const auto device_at = [&](const Ends& ends) {
    const circuit::DeviceId a = wiring.terminals[ends.a.slot()].device;
    const circuit::DeviceId b = wiring.terminals[ends.b.slot()].device;
    return a.valid()   ? wiring.devices[a.slot()].name
           : b.valid() ? wiring.devices[b.slot()].name
                       : std::string();
  };
  // One row, from where the writer stands. False: it cannot be done.
  const auto write = [&](Writer& writer, const Row& row) {
    switch (row.take) {
      case Take::volts:
      case Take::drop: {
        writer.make_live();
        for (const Ends& ends : ends_of(fault, row)) {
          std::string place = place_of(ends.a);
          if (place.empty()) place = place_of(ends.b);
          if (!writer.go(place)) return false;
          writer.dress();
          writer.add({"volts", {name(ends.a), name(ends.b)}});
        }
        return true;
      }
      case Take::amps: {
        writer.make_live();
        const auto wires = wires_of(fault, row);
        const auto good = std::find_if(wires.begin(), wires.end(), [&](circuit::WireId wire) {
          return eyes_.rungs().clamp(wire);
        });
        if (good == wires.end()) return false;
        const circuit::Wire& wire = wiring.wires[good->slot()];
        std::string place = place_of(wire.from);
        if (place.empty()) place = place_of(wire.to);
        if (!writer.go(place)) return false;
        writer.dress();
        writer.add({"clamp", {wire.name}});
        return true;
      }
      case Take::ohms:
      case Take::ohms_in_hand:
      case Take::microfarads: {
        const std::vector<Ends> all = ends_of(fault, row);
        if (all.empty()) return false;
        std::string place = place_of(all.front().a), at = fault.what;
        if (place.empty()) place = place_of(all.front().b);
        if (!device.valid()) at = device_at(all.front());
        if (at.empty()) return false;
        const bool farads = row.take == Take::microfarads;
        // A path parallel to it would read too: its wires are lifted at one end. The hands are on
        // them, and capacitors are discharged while it is proven dead.
        std::vector<circuit::WireId> lifted;
        std::vector<Step> lifts;
        for (const Ends& ends : all) {
          for (std::size_t w = 0; w < wiring.wires.size(); ++w) {
            const circuit::Wire& wire = wiring.wires[w];
            const bool its = wire.from == ends.a || wire.to == ends.a;
            const circuit::WireId id = circuit::WireId::of(w);
            // Not the wire that is measured itself.
            if (!its || wire.jumper || row.take == Take::ohms_in_hand || wire.name == fault.what ||
                std::find(lifted.begin(), lifted.end(), id) != lifted.end())
              continue;
            lifted.push_back(id);
            lifts.push_back({"lift at", {wire.name, name(ends.a)}});
          }
        }
        for (const Step& lift : lifts) at += " " + lift.arguments[0];
        if (!writer.make_dead(place, at, !lifts.empty() || row.take == Take::ohms_in_hand))
          return false;
        for (const Step& lift : lifts) writer.add(lift);
        if (row.take == Take::ohms_in_hand) writer.add({"pull", {fault.what}});
        for (const Ends& ends : all)
          writer.add({farads ? "microfarads" : "ohms", {name(ends.a), name(ends.b)}});
        return true;
      }
      case Take::insulation: {
        const std::vector<Ends> all =
            ends_of(fault, {Take::ohms, Condemn::Shows::anything, "leads"});
        if (all.empty()) return false;
        std::string at = fault.what;
        if (!device.valid()) at = device_at(all.front());
        const TerminalId lead = all.front().a == circuit::kGround ? all.front().b : all.front().a;
        if (at.empty()) return false;
        // Whatever else hangs on its wires would read too, and a neutral is earth: they are lifted.
        std::vector<Step> lifts;
        for (const Ends& ends : all) {
          for (const TerminalId t : {ends.a, ends.b}) {
            for (const circuit::Wire& wire : wiring.wires) {
              if (wire.jumper || t == circuit::kGround || (wire.from != t && wire.to != t))
                continue;
              Step lift{"lift at", {wire.name, name(t)}};
              if (device.valid() && std::find(lifts.begin(), lifts.end(), lift) == lifts.end())
                lifts.push_back(std::move(lift));
            }
          }
        }
        for (const Step& lift : lifts) at += " " + lift.arguments[0];
        if (!writer.make_dead(place_of(lead), at, !lifts.empty())) return false;
        for (const Step& lift : lifts) writer.add(lift);
        writer.add({"insulation", {name(lead), "GND"}});
        return true;
      }
      case Take::look: {
        const auto looks = looks_of(fault, row);
        if (looks.empty()) return false;
        const unit::Look& look = *looks.front();
        if (!writer.go(look.place)) return false;
        const unit::Spot* spot = eyes_.unit().spot_of(wiring.find_device(look.target));
        if (spot != nullptr && spot->in_panel) writer.dress();
        const std::string with = look.needs.empty() ? "" : "with " + look.needs;
        writer.add({std::string(verb_of(look.sense)), {look.target, with}});
        return true;
      }
      case Take::gauges:
        if (!writer.go(eyes_.unit().gauge_place)) return false;
        writer.add({writer.at().site.gauges.on ? "gauges" : "gauges on", {}});
        return true;
      case Take::temperature:
        for (const unit::ProbePoint& probe : eyes_.unit().probes) {
          if (probe.quantity != row.of) continue;
          if (!writer.go(probe.place)) return false;
          writer.add({"temp", {probe.id, ""}});
          return true;
        }
        return false;
      case Take::leak:
        for (const unit::Place& place : eyes_.unit().places) {
          if (!place.outdoors && !eyes_.unit().gauge_place.empty()) continue;
          if (!writer.go(place.id)) continue;
          writer.add({"find leak", {}});
          return true;
        }
        return false;
      case Take::legs:
        writer.make_live();
        for (const unit::Place& place : eyes_.unit().places) {
          const std::vector<TerminalId>& points = eyes_.rungs().supply_at(place.id);
          if (points.size() < 2 || !writer.go(place.id)) continue;
          writer.dress();
          for (std::size_t a = 0; a < points.size(); ++a) {
            for (std::size_t b = a + 1; b < points.size(); ++b)
              writer.add({"volts", {name(points[a]), name(points[b])}});
          }
          return true;
        }
        return false;
      case Take::sense: {
        const circuit::Value* senses =
            device.valid() ? wiring.devices[device.slot()].find_value("senses") : nullptr;
        if (senses == nullptr) return true;
        if (senses->text == "head" || senses->text == "suction") {
          if (!writer.go(eyes_.unit().gauge_place)) return false;
          writer.add({writer.at().site.gauges.on ? "gauges" : "gauges on", {}});
          return true;
        }
        for (const unit::ProbePoint& probe : eyes_.unit().probes) {
          if (probe.quantity != read_as(senses->text)) continue;
          if (!writer.go(probe.place)) return false;
          writer.add({"temp", {probe.id, ""}});
          return true;
        }
        return false;
      }
    }
    return false;
  };
  std::vector<std::pair<double, std::vector<Step>>> all;
  for (std::vector<Row> rows : ways_of(fault)) {
    if (!std::all_of(rows.begin(), rows.end(), [&](const Row& row) { return can(fault, row); }))
      continue;
    std::erase_if(rows, [&](const Row& row) { return shown(fault, row, before); });
    // What wants it live comes before what wants it dead.
    std::stable_sort(rows.begin(), rows.end(), [](const Row& a, const Row& b) {
      return wants_dead(a.take) < wants_dead(b.take);
    });
    Writer writer(attempt);
    if (std::all_of(rows.begin(), rows.end(), [&](const Row& row) { return write(writer, row); }))
      all.emplace_back(writer.minutes(), writer.steps());
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<std::vector<Step>> out;
  for (auto& [minutes, steps] : all) out.push_back(std::move(steps));
  return out;
}

}  // namespace legwork::suspects
