#include "engine/circuit/builder.h"

#include <algorithm>
#include <array>
#include <map>
#include <string>

#include "engine/base/split.h"
#include "engine/base/suggest.h"
#include "engine/circuit/emitter.h"

namespace legwork::circuit {
namespace {

// Conductors in one conduit: farads per metre between neighbours and to the conduit, which is
// earthed. Common practice, no source.
constexpr double kNeighbourFaradPerMetre = 80e-12;
constexpr double kEarthFaradPerMetre = 60e-12;
// Several times the largest machine that we know of.
constexpr std::size_t kMostWires = 1200;
// Copper in a conduit, lightly loaded: the ambient of NEC table 310.16 (30 C).
constexpr double kWireKelvin = 303.15;

constexpr std::string_view kSecondSupply = "2";  // its lugs: 2L 2N, 2L1 2L2 2N

struct LegRow {
  std::string_view lug;
  Phasor emf;  // in units of the line-to-line voltage (single: of line to neutral)
};

// Emfs per kind of supply, against its tied point; lines first.
std::vector<LegRow> leg_rows(Supply::Kind kind) {
  const double to_star = 1.0 / kRoot3;
  switch (kind) {
    case Supply::Kind::wye:
      return {
          {"L1", {to_star, 0}}, {"L2", to_star * kTurn240}, {"L3", to_star * kTurn120}, {"N", {}}};
    case Supply::Kind::delta:
      return {{"L1", {to_star, 0}}, {"L2", to_star * kTurn240}, {"L3", to_star * kTurn120}};
    case Supply::Kind::corner_delta: {
      const Phasor corner = to_star * kTurn240;
      return {{"L1", Phasor{to_star, 0} - corner}, {"L2", {}}, {"L3", to_star * kTurn120 - corner}};
    }
    case Supply::Kind::split_phase:
      return {{"L1", {0.5, 0}}, {"L2", {-0.5, 0}}, {"N", {}}};
    case Supply::Kind::single:
      break;
  }
  return {{"L", {1, 0}}, {"N", {}}};
}

// "L1" is called "S1" where something stands ahead of the unit, "N" "SN", "L" "SL"; of the second
// supply "2L" "2SL".
std::string upstream_lug(std::string_view lug) {
  std::string name;
  if (lug.starts_with(kSecondSupply)) {
    name = kSecondSupply;
    lug.remove_prefix(kSecondSupply.size());
  }
  return name + "S" + std::string(lug == "N" || lug == "L" ? lug : lug.substr(1));
}

}  // namespace

RungItem any_of(std::vector<Rung> branches, Mark mark) {
  RungItem item;
  item.mark = mark;
  item.any = std::move(branches);
  return item;
}

Builder::Builder(Source source, Diagnostics& diagnostics) : diagnostics_(diagnostics) {
  circuit_.source = std::move(source);
  circuit_.terminals.push_back({"GND", DeviceId(), false});
}

void Builder::note(Mark mark, Message message, Message hint) {
  failed_ = true;
  diagnostics_.error(circuit_.source, mark, std::move(message), std::move(hint));
}

TerminalId Builder::add_terminal(std::string name, DeviceId device, bool hidden) {
  const TerminalId id = TerminalId::of(circuit_.terminals.size());
  circuit_.terminals.push_back({std::move(name), device, hidden});
  if (device.valid()) circuit_.devices[device.slot()].terminals.push_back(id);
  return id;
}

void Builder::supply(const SupplySpec& spec, Mark mark) {
  Supply& supply = circuit_.supply;
  has_supply_ = true;
  supply.kind = spec.kind;
  supply.nominal_v = spec.nominal_v;
  supply.open_circuit_v = spec.open_circuit_v > 0 ? spec.open_circuit_v : spec.nominal_v;
  supply.service_ohm = spec.service_ohm;
  supply.frequency_hz = spec.frequency_hz;
  supply.mark = mark;
  for (const LegRow& row : leg_rows(spec.kind)) {
    Supply::Leg leg;
    leg.terminal = add_terminal(std::string(row.lug), DeviceId(), false);
    leg.emf = supply.open_circuit_v * row.emf;
    leg.earthed = spec.earthed && norm(row.emf) == 0;
    leg.line = row.lug != "N";
    supply.legs.push_back(leg);
    if (leg.line) supply.line_count = supply.legs.size();
  }
  if (!spec.earthed || spec.kind == Supply::Kind::delta)
    supply.star = add_terminal("star of the supply", DeviceId(), true);
}

void Builder::second_supply(const SupplySpec& spec, std::string_view in_step_with, Mark mark) {
  Supply& supply = circuit_.supply;
  const TerminalId named = find_point(in_step_with.empty() ? "L1" : in_step_with);
  Phasor turn{1, 0};
  bool found = in_step_with.empty();
  for (const Supply::Leg& leg : supply.legs) {
    if (leg.terminal != named || !leg.line) continue;
    found = true;
    const double size = abs(leg.emf);
    if (size > 0) turn = (1 / size) * leg.emf;
  }
  if (!found) {
    std::vector<std::string_view> lines;
    for (const Supply::Leg& leg : supply.legs)
      if (leg.line) lines.push_back(circuit_.terminals[leg.terminal.slot()].name);
    note(mark, say("unknown leg '{leg}' of the supply", {{"leg", Name{in_step_with}}}),
         say("expected {words}", {{"words", one_of(lines)}}));
  }
  supply.second_mark = mark;
  const double volts = spec.open_circuit_v > 0 ? spec.open_circuit_v : spec.nominal_v;
  for (const LegRow& row : leg_rows(spec.kind)) {
    Supply::Leg leg;
    leg.terminal =
        add_terminal(std::string(kSecondSupply) + std::string(row.lug), DeviceId(), false);
    leg.emf = volts * row.emf * turn;
    leg.earthed = norm(row.emf) == 0;
    leg.line = row.lug != "N";
    leg.panel = 1;
    leg.service_ohm = spec.service_ohm;
    supply.legs.push_back(leg);
  }
}

DeviceId Builder::add_device(std::string_view name, std::string_view kind_name,
                             std::vector<Value> values, Mark mark) {
  const Kind* kind = find_kind(kind_name);
  if (kind == nullptr) {
    note(mark,
         say("unknown {what} '{word}'",
             {{"what", phrase("kind of device")}, {"word", Name{kind_name}}}),
         suggestion(kind_name, kind_names()));
    return {};
  }
  for (const Device& other : circuit_.devices) {
    if (other.name != name) continue;
    note(mark, say("duplicate device '{device}'", {{"device", Name{name}}}),
         say("the other one is in line {line}", {{"line", Number{other.mark.line}}}));
    return {};
  }
  if (find_point(name).valid()) {
    note(mark, say("duplicate name '{name}': a terminal of the supply is called so",
                   {{"name", Name{name}}}));
    return {};
  }
  const DeviceId id = DeviceId::of(circuit_.devices.size());
  Device device;
  device.name = std::string(name);
  device.kind = kind;
  device.values = std::move(values);
  device.mark = mark;
  const bool was_failed = failed_;
  failed_ = false;
  finish_values(device);
  const bool sound = !failed_;
  failed_ = failed_ || was_failed;
  circuit_.devices.push_back(std::move(device));
  if (sound) {
    Emitter emitter(*this, id);
    kind->emit(emitter);
  }
  return id;
}

void Builder::finish_values(Device& device) {
  std::vector<std::string_view> keys;
  for (const ParamSpec& spec : device.kind->params) keys.push_back(spec.key);
  for (const Value& value : device.values)
    if (std::find(keys.begin(), keys.end(), value.key) == keys.end())
      note(value.mark,
           say("unknown key '{key}' in {what}",
               {{"key", Name{value.key}}, {"what", legwork::Term{std::string(device.kind->name)}}}),
           suggestion(value.key, keys));
  for (const ParamSpec& spec : device.kind->params) {
    const auto given = std::find_if(device.values.begin(), device.values.end(),
                                    [&spec](const Value& value) { return value.key == spec.key; });
    if (given == device.values.end()) {
      if (spec.required)
        note(device.mark, say("missing key '{key}' in {what}",
                              {{"key", Name{spec.key}}, {"what", Name{device.name}}}));
      Value value;
      value.key = std::string(spec.key);
      value.number = spec.fallback;
      value.text = std::string(spec.fallback_text);
      if (spec.type == ParamSpec::Type::text_list) {
        for (const std::string_view word : split(spec.fallback_text, '|'))
          value.words.emplace_back(word);
      }
      device.values.push_back(std::move(value));
      continue;
    }
    given->given = true;
    if (spec.type == ParamSpec::Type::quantity &&
        !(given->number >= spec.low && given->number <= spec.high))
      note(given->mark,
           say("out of range: '{key}' of {device}",
               {{"key", Name{given->key}}, {"device", Name{device.name}}}),
           say("from {low} to {high}", {{"low", Amount{spec.low, spec.dimension, kShortest}},
                                        {"high", Amount{spec.high, spec.dimension, kShortest}}}));
    if (spec.type == ParamSpec::Type::choice) {
      const std::vector<std::string_view> words = split(spec.choices, '|');
      if (std::find(words.begin(), words.end(), given->text) == words.end())
        note(given->mark,
             say("unknown {what} '{word}'",
                 {{"what", Name{given->key}}, {"word", Name{given->text}}}),
             say("expected {words}", {{"words", one_of(words)}}));
    }
  }
}

TerminalId Builder::find_point(std::string_view name) {
  for (std::size_t i = 0; i < circuit_.terminals.size(); ++i)
    if (!circuit_.terminals[i].hidden && circuit_.terminals[i].name == name)
      return TerminalId::of(i);
  // The supply's lugs ahead of a panel exist once somebody names them.
  for (const Supply::Leg& leg : circuit_.supply.legs)
    if (upstream_lug(circuit_.terminals[leg.terminal.slot()].name) == name)
      return add_terminal(std::string(name), DeviceId(), false);
  return {};
}

const Part* Builder::find_part(std::string_view name) {
  const std::size_t dot = name.find('.');
  const std::string_view device_name = name.substr(0, dot);
  const std::string_view part_name =
      dot == std::string_view::npos ? std::string_view() : name.substr(dot + 1);
  for (const Device& device : circuit_.devices) {
    if (device.name != device_name) continue;
    for (const Part& part : device.parts)
      if (part.name == part_name) return &part;
  }
  return nullptr;
}

Builder::Ends Builder::pass(const RungItem& item, bool may_be_part) {
  if (!item.any.empty()) {
    Ends ends;
    for (const Rung& branch : item.any) {
      const Ends one = run(branch, false);
      ends.in.insert(ends.in.end(), one.in.begin(), one.in.end());
      ends.out.insert(ends.out.end(), one.out.begin(), one.out.end());
    }
    return ends;
  }
  if (may_be_part) {
    if (const Part* part = find_part(item.name)) {
      if (std::find(used_parts_.begin(), used_parts_.end(), item.name) != used_parts_.end())
        note(item.mark,
             say("duplicate part '{part}': it is in a rung already", {{"part", Name{item.name}}}),
             say("to meet it there, end this rung on one of its terminals"));
      used_parts_.push_back(item.name);
      return {{part->from}, {part->to}};
    }
  }
  const TerminalId terminal = find_point(item.name);
  if (terminal.valid()) return {{terminal}, {terminal}};
  // Say what is wrong, and what would have been right.
  const std::string device_name = item.name.substr(0, item.name.find('.'));
  std::vector<std::string> words;
  bool device_known = false;
  for (const Device& device : circuit_.devices) {
    if (device.name != device_name) continue;
    device_known = true;
    for (const TerminalId id : device.terminals)
      if (!circuit_.terminals[id.slot()].hidden)
        words.push_back(circuit_.terminals[id.slot()].name);
    if (may_be_part)
      for (const Part& part : device.parts)
        if (!part.name.empty()) words.push_back(device.name + "." + part.name);
  }
  if (device_known) {
    const bool device_at_end = item.name == device_name && !may_be_part;
    note(item.mark,
         say(device_at_end
                 ? phrase("expected a terminal, found the device '{name}' at the end of a rung")
             : may_be_part ? phrase("unknown part or terminal '{name}'")
                           : phrase("unknown terminal '{name}'"),
             {{"name", Name{item.name}}}),
         say("one of {words}", {{"words", one_of({words.begin(), words.end()})}}));
  } else {
    for (const Device& device : circuit_.devices) words.push_back(device.name);
    for (const Terminal& terminal_known : circuit_.terminals)
      if (!terminal_known.hidden) words.push_back(terminal_known.name);
    Message hint = suggestion(item.name, words);
    if (hint.empty()) hint = suggestion(device_name, words);
    note(item.mark, say("unknown device '{device}' in a rung", {{"device", Name{device_name}}}),
         hint);
  }
  return {};
}

Builder::Ends Builder::run(const Rung& rung, bool ends_are_terminals) {
  Ends all;
  for (std::size_t i = 0; i < rung.size(); ++i) {
    const bool is_end = ends_are_terminals && (i == 0 || i + 1 == rung.size());
    if (is_end && !rung[i].any.empty()) {
      note(rung[i].mark, say("expected a terminal at the end of a rung, found parallel parts"));
      return {};
    }
    const Ends here = pass(rung[i], !is_end);
    if (here.in.empty()) return {};
    if (i == 0) {
      all = here;
      continue;
    }
    for (const TerminalId in : here.in) join(all.out[0], in, rung[i].mark);
    for (std::size_t k = 1; k < all.out.size(); ++k) join(all.out[k], here.in[0], rung[i].mark);
    all.out = here.out;
  }
  return all;
}

void Builder::add_rung(const Rung& rung, Mark mark) {
  if (rung.size() < 2) {
    note(mark, say("expected at least two ends in a rung"));
    return;
  }
  run(rung, true);
}

void Builder::join(TerminalId from, TerminalId to, Mark mark) {
  if (from == to) {
    note(mark, say("unexpected second mention of {terminal}: a wire from a terminal to itself",
                   {{"terminal", Name{circuit_.terminals[from.slot()].name}}}));
    return;
  }
  joins_.push_back({from, to, mark});
}

void Builder::wire_default(const WireSpec& spec) { default_wire_ = spec; }
void Builder::wire_rule(const WireRule& rule) { rules_.push_back(rule); }

bool Builder::fits(const std::string& pattern, TerminalId id) const {
  const Terminal& terminal = circuit_.terminals[id.slot()];
  if (pattern == "*" || pattern == terminal.name) return true;
  return terminal.device.valid() && circuit_.devices[terminal.device.slot()].name == pattern;
}

void Builder::place_supply() {
  for (Supply::Leg& leg : circuit_.supply.legs) {
    const std::string upstream = upstream_lug(circuit_.terminals[leg.terminal.slot()].name);
    for (std::size_t i = 0; i < circuit_.terminals.size(); ++i)
      if (circuit_.terminals[i].name == upstream && !circuit_.terminals[i].device.valid())
        leg.terminal = TerminalId::of(i);
  }
}

void Builder::lay_wires() {
  if (joins_.size() > kMostWires) {
    note(joins_[kMostWires].mark, say("out of range: more than {most} {what}",
                                      {{"most", Number{kMostWires}}, {"what", phrase("wires")}}));
    joins_.resize(kMostWires);
  }
  std::map<std::string, int> named;  // so many wires between these two
  for (const Join& join : joins_) {
    Wire wire;
    wire.name =
        circuit_.terminals[join.from.slot()].name + ">" + circuit_.terminals[join.to.slot()].name;
    if (const int number = ++named[wire.name]; number > 1)
      wire.name += "#" + std::to_string(number);
    wire.from = join.from;
    wire.to = join.to;
    wire.mark = join.mark;
    wire.spec = default_wire_;
    for (const WireRule& rule : rules_) {
      if ((fits(rule.from, join.from) && fits(rule.to, join.to)) ||
          (fits(rule.from, join.to) && fits(rule.to, join.from)))
        wire.spec = rule.spec;
    }
    wire.element = ElementId::of(circuit_.elements.size());
    Element element;
    element.a = join.from;
    element.b = join.to;
    element.role = ElementRole::wire;
    element.wire = WireId::of(circuit_.wires.size());
    element.g = 1.0 / copper_ohm(wire.spec.length_m, wire.spec.copper_m2, kWireKelvin);
    element.y = {element.g, 0};
    element.y_rest = {kOpenSiemens, 0};
    circuit_.elements.push_back(element);
    circuit_.wires.push_back(std::move(wire));
  }
}

void Builder::couple_conduits() {
  const double omega = 6.283185307179586 * circuit_.supply.frequency_hz;
  const auto couple = [&](TerminalId a, TerminalId b, double farad) {
    if (a == b) return;
    Element element;
    element.a = a;
    element.b = b;
    element.role = ElementRole::stray;
    element.farad = farad;
    element.y = {0, omega * farad};
    circuit_.elements.push_back(element);
  };
  // Half of the capacitance at each end; neighbours are those next to each other in the file.
  const std::size_t count = circuit_.wires.size();
  std::vector<std::string> done;
  for (std::size_t i = 0; i < count; ++i) {
    const std::string conduit = circuit_.wires[i].spec.conduit;
    if (conduit.empty()) continue;
    const Wire* previous = nullptr;
    if (std::find(done.begin(), done.end(), conduit) != done.end()) continue;
    done.push_back(conduit);
    for (std::size_t k = i; k < count; ++k) {
      const Wire& wire = circuit_.wires[k];
      if (wire.spec.conduit != conduit) continue;
      const double half = 0.5 * wire.spec.length_m;
      couple(wire.from, kGround, half * kEarthFaradPerMetre);
      couple(wire.to, kGround, half * kEarthFaradPerMetre);
      if (previous != nullptr) {
        couple(previous->from, wire.from, half * kNeighbourFaradPerMetre);
        couple(previous->to, wire.to, half * kNeighbourFaradPerMetre);
      }
      previous = &wire;
    }
  }
}

Circuit Builder::build() {
  if (!has_supply_) note({}, say("missing supply"));
  for (const WireRule& rule : rules_) {
    for (const std::string& end : {rule.from, rule.to}) {
      bool known = false;
      for (std::size_t i = 0; i < circuit_.terminals.size() && !known; ++i)
        known = fits(end, TerminalId::of(i));
      if (!known) note(rule.mark, say("unknown end '{end}' of a wire", {{"end", Name{end}}}));
    }
  }
  place_supply();
  lay_wires();
  couple_conduits();
  refresh_index(circuit_);
  if (!failed_) refresh_pattern(circuit_);
  return std::move(circuit_);
}

}  // namespace legwork::circuit
