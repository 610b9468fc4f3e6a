#include "engine/session/hooked.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "engine/base/quantity.h"
#include "engine/session/verbs.h"
#include "engine/session/watching.h"

namespace legwork::session {
namespace {

constexpr std::size_t kMostOnTheWay =
    12;  // readings of one step: a chattering relay is enough once

struct HookRow {
  std::string_view verb;
  Instrument instrument;
  meter::Function function = meter::Function::volts;  // of meter and clamp
  bool needs_dead = false;                            // off before anything is switched on
};
constexpr HookRow kHookVerbs[] = {
    {"volts", Instrument::meter, meter::Function::volts},
    {"lowz", Instrument::meter, meter::Function::low_impedance_volts},
    {"dc", Instrument::meter, meter::Function::volts_dc},
    {"ohms", Instrument::meter, meter::Function::ohms, true},
    {"continuity", Instrument::meter, meter::Function::continuity, true},
    {"clamp", Instrument::clamp, meter::Function::amps},
    {"gauges", Instrument::gauges},
    {"gauges on", Instrument::gauges},
    {"temp", Instrument::thermometer},
};

constexpr std::pair<std::string_view, Instrument> kOffVerbs[] = {
    {"leads off", Instrument::meter},
    {"red lead off", Instrument::meter},
    {"black lead off", Instrument::meter},
    {"clamp off", Instrument::clamp},
    {"thermometer off", Instrument::thermometer},
};

const HookRow* hook_row_of(std::string_view verb) {
  for (const HookRow& row : kHookVerbs) {
    if (row.verb == verb) return &row;
  }
  return nullptr;
}

bool switches_on(std::string_view verb) {
  return verb == "close" || verb == "unlock" || verb == "insert" || verb == "push";
}

// The device that the first lead is on, or that the first wire begins at.
circuit::DeviceId device_of(const Site& site, const Step& step) {
  const circuit::Circuit& wiring = site.world.unit().circuit;
  if (step.arguments.empty()) return {};
  const std::string first = step.arguments[0].substr(0, step.arguments[0].find(' '));
  const std::string terminal = first.substr(0, first.find('>'));
  const circuit::TerminalId t = wiring.find_terminal(terminal);
  return t.valid() ? wiring.terminals[t.slot()].device : circuit::DeviceId{};
}

bool behind_cover(const Site& site, const Step& step) {
  const circuit::DeviceId device = device_of(site, step);
  const unit::Spot* spot = device.valid() ? site.world.unit().spot_of(device) : nullptr;
  return spot != nullptr && spot->in_panel;
}

bool stands_by(const Hooked& hooked, const Act& act) {
  return hooked.place == act.place && hooked.place == act.eyes.place;
}

}  // namespace

std::optional<Instrument> instrument_of(const Step& given) {
  const Step step = reading_of(given);
  const HookRow* row = hook_row_of(step.verb);
  const bool infrared =
      step.verb == "temp" && step.arguments.size() > 1 && !step.arguments[1].empty();
  if (row == nullptr || infrared) return std::nullopt;
  return row->instrument;
}

std::vector<Observation> read_now(Site& site, const Step& step) {
  Seen seen;
  if (const Verb* verb = find_verb(step.verb); verb != nullptr && verb->read != nullptr)
    verb->read(site, step.arguments, seen);
  return std::move(seen.observations);
}

std::vector<Observation> read_apart(Site& site, const Step& step) {
  const std::uint64_t kept = site.readings;
  constexpr std::uint64_t kApart = 1ull << 40;
  site.readings = kApart + static_cast<std::uint64_t>(site.world.tick()) * 8 +
                  static_cast<std::uint64_t>(*instrument_of(step));
  std::vector<Observation> out = read_now(site, step);
  site.readings = kept;
  for (Observation& o : out) o.source = Source::live_lead;
  return out;
}

double value_now(const Site& site, const Step& step, bool discharge) {
  const circuit::Circuit& wiring = site.world.unit().circuit;
  const Instrument instrument = *instrument_of(step);
  if (instrument == Instrument::gauges)
    return discharge ? site.gauges.discharge.shown_pa : site.gauges.suction.shown_pa;
  if (instrument == Instrument::thermometer) {
    for (const unit::ProbePoint& point : site.world.unit().probes) {
      if (point.id == step.arguments[0]) return site.world.quantity(point.quantity);
    }
    return 0;
  }
  meter::Place place;
  place.function = hook_row_of(step.verb)->function;
  if (instrument == Instrument::clamp) {
    const std::string& wires = step.arguments[0];
    for (std::size_t from = 0; from < wires.size();) {
      const std::size_t end = std::min(wires.find(' ', from), wires.size());
      place.conductors.push_back({wiring.find_wire(wires.substr(from, end - from)), false});
      from = end + 1;
    }
  } else {
    place.red = wiring.find_terminal(step.arguments[0]);
    place.black = wiring.find_terminal(step.arguments[1]);
  }
  return meter::exact_value(site.world.electrics(), place);
}

double moves_by(const Observation& o) {
  if (o.unit == "psig") return 2 * kPascalsPerPsi + 0.02 * std::fabs(o.value);
  if (o.unit == "°F") return 1 / 1.8;
  if (o.unit.ends_with("A")) return 0.1 + 0.03 * std::fabs(o.value);
  if (o.unit.ends_with("V")) return 1 + 0.02 * std::fabs(o.value);
  return 0.5 + 0.05 * std::fabs(o.value);  // ohms
}

bool has_moved(const Observation& before, const Observation& now) {
  if (before.over_range != now.over_range) return true;
  if (now.over_range) return false;
  if (before.not_read != now.not_read) return true;  // LIVE
  if (now.not_read != NotRead::read) return false;
  return std::fabs(now.value - before.value) > moves_by(before);
}

void unhook(Site& site, Instrument instrument) {
  std::erase_if(site.hooked,
                [&](const Hooked& it) { return *instrument_of(it.step) == instrument; });
}

std::optional<Instrument> taken_off_by(std::string_view verb) {
  for (const auto& [off, instrument] : kOffVerbs) {
    if (off == verb) return instrument;
  }
  return std::nullopt;
}

bool is_hooked(const Site& site, Instrument instrument) {
  return std::any_of(site.hooked.begin(), site.hooked.end(),
                     [&](const Hooked& it) { return *instrument_of(it.step) == instrument; });
}

void hook(Site& site, const Act& act, const Seen& seen) {
  if (const auto off = taken_off_by(act.step.verb)) {
    site.taken_off.clear();
    site.taken_off_tick = site.world.tick();
    for (const Hooked& it : site.hooked) {
      if (*instrument_of(it.step) == *off) site.taken_off.push_back(it);
    }
    unhook(site, *off);
    return;
  }
  if (act.step.verb == "leads back") {
    for (Hooked& it : site.taken_off) {
      unhook(site, *instrument_of(it.step));
      site.hooked.push_back(std::move(it));
    }
    site.taken_off.clear();
    return;
  }
  // Off with what the step makes impossible.
  std::erase_if(site.hooked, [&](const Hooked& it) {
    const HookRow& row = *hook_row_of(it.step.verb);
    if (row.instrument == Instrument::gauges) return act.step.verb == "gauges off";
    if (it.place != act.eyes.place || act.step.verb == "sign off") return true;
    if (!act.eyes.cover_off && behind_cover(site, it.step)) return true;
    return row.needs_dead && switches_on(act.step.verb);
  });
  const auto instrument = instrument_of(act.step);
  if (!instrument) {
    // The meter is in use: proving, microfarads, insulation.
    if (act.step.verb == "prove dead" || act.step.verb == "microfarads" ||
        act.step.verb == "insulation")
      unhook(site, Instrument::meter);
    if (act.step.verb == "peak") unhook(site, Instrument::clamp);
    return;
  }
  Hooked hooked{reading_of(act.step), act.place, {}};
  if (hooked.step.verb == "gauges on") hooked.step = {"gauges", {}};
  for (const Observation& o : seen.observations) {
    // Not what a watch says of its lowest and highest.
    if (o.source == Source::step && o.key.starts_with(hooked.step.verb)) hooked.last.push_back(o);
  }
  unhook(site, *instrument);
  if (!hooked.last.empty()) site.hooked.push_back(std::move(hooked));
}

void read_hooked(Site& site, const Act& act, Seen& seen) {
  for (std::size_t i = 0; i < site.hooked.size(); ++i) {
    if (!stands_by(site.hooked[i], act)) continue;
    const Step step = site.hooked[i].step;
    const bool just_read =
        step == act.step || (step.verb == "gauges" && act.step.verb == "gauges on");
    if (just_read) continue;
    std::vector<Observation> now = read_apart(site, step);
    std::vector<Observation>& last = site.hooked[i].last;
    for (std::size_t k = 0; k < now.size() && k < last.size(); ++k) {
      if (!has_moved(last[k], now[k])) continue;
      last[k] = now[k];
      seen.observations.push_back(std::move(now[k]));
    }
    site.hooked[i].on_the_way = last;
  }
}

void read_hooked_on_the_way(Site& site, const Act& act, Seen& seen) {
  for (std::size_t i = 0; i < site.hooked.size(); ++i) {
    if (site.hooked[i].place != act.place || seen.observations.size() >= kMostOnTheWay) continue;
    const Instrument instrument = *instrument_of(site.hooked[i].step);
    if (instrument != Instrument::meter && instrument != Instrument::clamp) continue;
    std::vector<Observation> now = read_apart(site, site.hooked[i].step);
    std::vector<Observation>& last = site.hooked[i].on_the_way;
    if (last.size() != site.hooked[i].last.size()) last = site.hooked[i].last;
    for (std::size_t k = 0; k < now.size() && k < last.size(); ++k) {
      if (!has_moved(last[k], now[k])) continue;
      now[k].tick = site.world.tick();
      last[k] = now[k];
      seen.observations.push_back(std::move(now[k]));
    }
  }
}

void read_hooked_again(Site& site, const std::vector<std::string>& lines, Seen& seen) {
  for (const std::string& line : lines) {
    const ParsedStep parsed = parse_step(line);
    if (!parsed.step || !instrument_of(*parsed.step)) continue;
    for (Observation& o : read_apart(site, *parsed.step)) seen.observations.push_back(std::move(o));
  }
}

std::vector<std::string> hooked_told(const Site& site, const Seen& seen) {
  std::vector<std::string> out;
  for (const Hooked& hooked : site.hooked) {
    const bool told =
        std::any_of(seen.observations.begin(), seen.observations.end(), [&](const Observation& o) {
          return o.source == Source::live_lead && o.tick == 0 &&
                 std::any_of(hooked.last.begin(), hooked.last.end(),
                             [&](const Observation& mine) { return mine.key == o.key; });
        });
    if (told) out.push_back(text(hooked.step));
  }
  return out;
}

}  // namespace legwork::session
