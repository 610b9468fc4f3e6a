#include "engine/session/names.h"

#include <fmt/format.h>
#include <algorithm>

#include "engine/base/suggest.h"
#include "engine/circuit/kinds.h"
#include "engine/session/prompting.h"

namespace legwork::session::names {
namespace {

std::string upper(std::string_view text) {
  std::string out(text);
  for (char& c : out) {
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  }
  return out;
}

// Puts `name` right in case and finds what it stands for: by the very index by which everything
// after looks it up, so that what passes here is there. Invalid: there is no such name.
template <class T>
T right_case(std::string& name, const std::vector<std::pair<std::string, T>>& index) {
  for (const auto& [known, id] : index) {
    if (name == known) return id;
  }
  const std::string wanted = upper(name);
  for (const auto& [known, id] : index) {
    if (wanted != upper(known)) continue;
    name = known;
    return id;
  }
  return {};
}

// The same for what has no index: places, points.
template <class Range>
bool right_case_of_id(std::string& name, const Range& range) {
  for (const auto& item : range) {
    if (name == item.id) return true;
  }
  const std::string wanted = upper(name);
  for (const auto& item : range) {
    if (wanted != upper(item.id)) continue;
    name = item.id;
    return true;
  }
  return false;
}

const circuit::Circuit& wiring(const Attempt& attempt) { return attempt.unit->circuit; }

}  // namespace

Message terminal(const Attempt& attempt, std::string& name) {
  if (right_case(name, wiring(attempt).terminal_index).valid()) return {};
  return with_hint(say("unknown terminal '{name}'", {{"name", Name{name}}}),
                   terminal_hint(attempt, name));
}

Message wire(const Attempt& attempt, std::string& name) {
  const circuit::Circuit& c = wiring(attempt);
  if (right_case(name, c.wire_index).valid()) return {};
  const circuit::WireId found = c.find_wire(name);
  if (found.valid()) {
    name = c.wires[found.slot()].name;
    return {};
  }
  return with_hint(say("unknown wire '{name}'", {{"name", Name{name}}}), wire_hint(attempt, name));
}

Message wires(const Attempt& attempt, std::string& names) {
  std::string out;
  int count = 0;
  std::size_t from = 0;
  while (from < names.size()) {
    const std::size_t end = std::min(names.find(' ', from), names.size());
    std::string one = names.substr(from, end - from);
    from = end + 1;
    if (one.empty()) continue;
    if (++count > 12) return say("No jaw takes more than twelve wires.");
    if (Message why = wire(attempt, one); !why.empty()) return why;
    out += (out.empty() ? "" : " ") + one;
  }
  if (out.empty()) return say("A jaw closes around a wire; none is named.");
  names = out;
  return {};
}

Message device(const Attempt& attempt, std::string& name) {
  const circuit::Circuit& c = wiring(attempt);
  if (right_case(name, c.device_index).valid()) return {};
  return with_hint(say("unknown part '{name}'", {{"name", Name{name}}}),
                   device_hint(*attempt.unit, attempt.book.place, name));
}

Message place(const Attempt& attempt, std::string& name) {
  const auto& all = attempt.unit->places;
  if (right_case_of_id(name, all)) return {};
  std::vector<std::string> words;
  for (const unit::Place& p : all) {
    if (upper(p.name.en) == upper(name)) {
      name = p.id;
      return {};
    }
    words.push_back(p.id);
  }
  const Message unknown = say("unknown place '{name}'", {{"name", Name{name}}});
  const Message hint = suggestion(name, words);
  if (!hint.empty()) return with_hint(unknown, hint);
  return say("{unknown}. There are: {places}.", {{"unknown", unknown}, {"places", listed(words)}});
}

Message probe(const Attempt& attempt, std::string& name) {
  const auto& all = attempt.unit->probes;
  if (right_case_of_id(name, all)) return {};
  std::vector<std::string> words;
  for (const unit::ProbePoint& p : all) words.push_back(p.id);
  const Message hint = suggestion(name, words);
  const Message unknown = say("unknown point '{name}'", {{"name", Name{name}}});
  if (!hint.empty()) return with_hint(unknown, hint);
  return say("{unknown}. A thermometer can be put on: {points}.",
             {{"unknown", unknown}, {"points", listed(words)}});
}

Message device_for(const Attempt& attempt, std::string& name, circuit::HandVerb verb,
                   const Phrase& what) {
  if (Message why = device(attempt, name); !why.empty()) return why;
  if (circuit::can_operate(wiring(attempt), id(attempt, name), verb)) return {};
  std::vector<std::string> list;
  for (std::size_t i = 0; i < wiring(attempt).devices.size(); ++i) {
    if (!circuit::can_operate(wiring(attempt), circuit::DeviceId::of(i), verb)) continue;
    list.push_back(wiring(attempt).devices[i].name);
  }
  if (list.empty())
    return say("{part} is not {what}; this unit has none.", {{"part", Name{name}}, {"what", what}});
  return say("{part} is not {what}. This unit has: {parts}.",
             {{"part", Name{name}}, {"what", what}, {"parts", listed(list)}});
}

circuit::DeviceId id(const Attempt& attempt, std::string_view device) {
  return wiring(attempt).find_device(device);
}

const unit::Place* find_place(const Attempt& attempt, std::string_view id) {
  return attempt.unit->find_place(id);
}

std::string place_of_device(const Attempt& attempt, circuit::DeviceId device) {
  if (!device.valid()) return {};
  const unit::Spot* spot = attempt.unit->spot_of(device);
  return spot == nullptr ? std::string() : spot->place;
}

Message place_name(const Attempt& attempt, std::string_view id) {
  const unit::Place* p = find_place(attempt, id);
  return p == nullptr ? Message(Name{id}) : Message(p->name);
}

Message reach_place(const Attempt& attempt, std::string_view place_id, Message thing) {
  if (place_id.empty() || place_id == attempt.book.place) return {};
  return say("{Thing} is at: {place}. You stand at: {here}.",
             {{"thing", std::move(thing)},
              {"place", place_name(attempt, place_id)},
              {"here", place_name(attempt, attempt.book.place)}});
}

Message reach_device(const Attempt& attempt, std::string_view device) {
  return reach_place(attempt, place_of_device(attempt, id(attempt, device)), Name{device});
}

Message reach_inside(const Attempt& attempt, std::string_view device) {
  if (Message why = reach_device(attempt, device); !why.empty()) return why;
  const unit::Spot* spot = attempt.unit->spot_of(id(attempt, device));
  if (spot == nullptr || !spot->in_panel || holds(attempt.book.covers_off, spot->place)) return {};
  return say("{part} is behind the cover; take it off first (cover off {place}).",
             {{"part", Name{device}}, {"place", Name{spot->place}}});
}

Message reach_terminal(const Attempt& attempt, circuit::TerminalId terminal) {
  if (terminal == circuit::kGround) return {};
  if (!terminal.valid()) return say("There is no such terminal.");
  const circuit::Terminal& t = wiring(attempt).terminals[terminal.slot()];
  if (t.hidden)
    return say("{terminal} is inside its part; no lead gets there.", {{"terminal", Name{t.name}}});
  if (!t.device.valid())
    return say("{terminal} is in the street's side of the supply; no lead gets there.",
               {{"terminal", Name{t.name}}});
  const std::string& device = wiring(attempt).devices[t.device.slot()].name;
  return reach_inside(attempt, device);
}

Message reach_wire(const Attempt& attempt, std::string_view wire) {
  const circuit::WireId id = wiring(attempt).find_wire(wire);
  if (!id.valid()) return with_hint(say("unknown wire '{name}'", {{"name", Name{wire}}}), {});
  const circuit::Wire& w = wiring(attempt).wires[id.slot()];
  const Message one = reach_terminal(attempt, w.from);
  if (one.empty()) return {};
  const Message other = reach_terminal(attempt, w.to);
  return other.empty() ? Message() : one;
}

bool has_panel(const Attempt& attempt, std::string_view place_id) {
  return std::any_of(attempt.unit->spots.begin(), attempt.unit->spots.end(),
                     [&](const unit::Spot& s) { return s.place == place_id && s.in_panel; });
}

std::vector<std::string> devices_here(const Attempt& attempt, circuit::HandVerb verb) {
  std::vector<std::string> out;
  for (std::size_t i = 0; i < wiring(attempt).devices.size(); ++i) {
    const circuit::DeviceId device = circuit::DeviceId::of(i);
    if (place_of_device(attempt, device) != attempt.book.place) continue;
    if (circuit::can_operate(wiring(attempt), device, verb)) {
      out.push_back(wiring(attempt).devices[i].name);
    }
  }
  return out;
}

bool holds(const std::vector<std::string>& list, std::string_view item) {
  return std::find(list.begin(), list.end(), item) != list.end();
}

void drop(std::vector<std::string>& list, std::string_view item) {
  list.erase(std::remove(list.begin(), list.end(), item), list.end());
}

void keep(std::vector<std::string>& list, std::string_view item) {
  if (!holds(list, item)) list.emplace_back(item);
}

}  // namespace legwork::session::names
