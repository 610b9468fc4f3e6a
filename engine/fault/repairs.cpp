#include "engine/fault/repairs.h"

#include "engine/base/suggest.h"
#include "engine/fault/plant_modes.h"

namespace legwork::fault {
namespace {

using unit::Unit;

std::string normal(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const bool space = c == ' ' || c == '\t';
    if (space && (out.empty() || out.back() == ' ')) continue;
    out.push_back(space ? ' ' : c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c);
  }
  while (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

Repair repair_of(const std::string& thing, const Cure& cure) {
  Repair repair;
  repair.verb = cure.verb;
  repair.object = cure.object.empty() ? thing : cure.object;
  repair.part = cure.part;
  repair.manner = cure.manner;
  repair.minutes = cure.minutes;
  repair.cost = cure.cost;
  repair.power_off = cure.power_off;
  repair.by_owner = cure.by_owner;
  repair.recovery = cure.recovery;
  repair.replaces_part = cure.verb == "replace";
  repair.wets_condenser = cure.verb == "wash" && thing == "condenser";
  const NumberedThing numbered = numbered_thing(thing);
  repair.melts_frost = cure.verb == "thaw" && numbered.thing == "evaporator";
  repair.which = numbered.which;
  return repair;
}

// What can be done to a healthy part as well: replacing any device, tightening any wire.
void add_always(const Unit& unit, const std::string& thing, std::vector<Repair>& list) {
  const bool is_device = unit.circuit.find_device(thing).valid();
  const bool is_wire = !is_device && unit.circuit.find_wire(thing).valid();
  if (!is_device && !is_wire) return;
  const std::string verb = is_device ? "replace" : "tighten";
  for (const Repair& repair : list) {
    if (repair.object == thing && repair.verb == verb) return;
  }
  Cure cure{verb, "", "", is_device ? 30.0 : 10.0, is_device ? 20.0 : 0.0, true, false};
  if (ahead_of_handles(unit, thing)) leave_to_owner(cure);
  list.push_back(repair_of(thing, cure));
}

void add_unless_known(Repair repair, std::vector<Repair>& list) {
  for (const Repair& other : list) {
    if (other.object == repair.object && other.verb == repair.verb && other.part == repair.part &&
        other.manner == repair.manner)
      return;
  }
  list.push_back(std::move(repair));
}

// What the modes of one thing call for, and what can always be done to it.
std::vector<Repair> repairs_of(const Unit& unit, const std::string& thing) {
  std::vector<Repair> list;
  for (const Mode& mode : modes_of(unit, thing)) {
    for (const Cure& cure : mode.cures) add_unless_known(repair_of(thing, cure), list);
  }
  add_always(unit, thing, list);
  return list;
}

}  // namespace

std::string repair_text(std::string_view thing, const Cure& cure) {
  std::string text = cure.verb;
  text += ' ';
  text += cure.object.empty() ? thing : cure.object;
  for (const std::string* word : {&cure.part, &cure.manner}) {
    if (!word->empty()) text += " " + *word;
  }
  return text;
}

// In the reader's words: those that read as they are, then those done to any part.
Message repair_words(std::string_view text) {
  static constexpr Phrase kWays[] = {
      phrase("replace {part}"),
      phrase("replace {part} coil"),
      phrase("replace {part} clip"),
      phrase("replace {part} probe"),
      phrase("replace air filter"),
      phrase("replace belt"),
      phrase("replace expansion valve"),
      phrase("replace capillary tube"),
      phrase("replace liquid line drier"),
      phrase("replace box gasket"),
      phrase("tighten {part}"),
      phrase("tighten belt"),
      phrase("tighten supply leg {part}"),
      phrase("turn {part} on"),
      phrase("clear {part}"),
      phrase("move {part} probe"),
      phrase("move {part} to the right tap"),
      phrase("fasten {part}"),
      phrase("refit {part} blade"),
      phrase("swap {part} leads"),
      phrase("swap back supply legs"),
      phrase("reland {part}"),
      phrase("fill {part} oil"),
      phrase("restore supply leg {part}"),
      phrase("restore supply of the second panel"),
      phrase("correct supply voltage"),
      phrase("wash condenser face"),
      phrase("wash condenser inside out"),
      phrase("clear condenser air path"),
      phrase("clear condenser guard"),
      phrase("thaw evaporator by hand"),
      phrase("clean evaporator"),
      phrase("clear evaporator product"),
      phrase("thaw drain"),
      phrase("repair leak and weigh in charge"),
      phrase("recover and weigh in charge"),
      phrase("adjust expansion valve"),
      phrase("strap on expansion valve bulb"),
      phrase("open liquid line receiver valve"),
      phrase("open suction line service valve"),
      phrase("close box door"),
      phrase("move out box warm product"),
      phrase("reset {part}"),
      phrase("set {part}"),
      phrase("replace head-pressure valve"),
      phrase("adjust head-pressure valve"),
      // of one of several
      phrase("thaw {part} by hand"),
      phrase("thaw {part}"),
      phrase("clean {part}"),
      phrase("clear {part} product"),
      phrase("adjust {part}"),
      phrase("strap on {part} bulb"),
      phrase("close {part} door"),
      phrase("replace {part} gasket"),
      phrase("move out {part} warm product"),
  };
  const Phrase* best = nullptr;
  std::string_view part;
  for (const Phrase& way : kWays) {
    const std::size_t blank = way.text.find("{part}");
    if (blank == std::string_view::npos) {
      if (way.text == text) return way;
      continue;
    }
    const std::string_view before = way.text.substr(0, blank);
    const std::string_view after = way.text.substr(blank + 6);
    if (text.size() <= before.size() + after.size() || !text.starts_with(before) ||
        !text.ends_with(after) || (best != nullptr && best->text.size() > way.text.size()))
      continue;
    best = &way;
    part = text.substr(before.size(), text.size() - before.size() - after.size());
  }
  if (best == nullptr) return Term{std::string(text)};
  return say(*best, {{"part", Term{std::string(part)}}});
}

std::string Repair::text() const {
  return repair_text(object, {verb, manner, part, 0, 0, false, false});
}

std::vector<Repair> repairs(const Unit& unit) {
  std::vector<Repair> list;
  for (const std::string& thing : things(unit)) {
    for (Repair& repair : repairs_of(unit, thing)) add_unless_known(std::move(repair), list);
  }
  return list;
}

Result<Repair> find_repair(const Unit& unit, std::string_view text) {
  const std::string wanted = normal(text);
  // Most often it is a thing's own repair: no need to make the whole list.
  for (const std::string& thing : things(unit)) {
    if (wanted.find(normal(thing)) == std::string::npos) continue;
    for (Repair& repair : repairs_of(unit, thing)) {
      if (normal(repair.text()) == wanted) return std::move(repair);
    }
  }
  std::vector<std::string> texts;
  for (const Repair& repair : repairs(unit)) {
    texts.push_back(repair.text());
    if (normal(texts.back()) == wanted) return repair;
  }
  return Failure(say("unknown repair '{repair}'", {{"repair", Name{text}}}),
                 suggestion(text, texts));
}

bool cures(const Unit& unit, const Repair& repair, const Fault& fault) {
  const bool itself = fault.what == repair.object;
  const bool whole_part = itself && repair.verb == "replace" && repair.part.empty() &&
                          unit.circuit.find_device(fault.what).valid();
  for (const Mode& mode : modes_of(unit, fault.what)) {
    if (mode.how != fault.how) continue;
    // A new part has none of the old one's faults; but a new fuse stands in the old clip.
    bool in_a_part = !mode.cures.empty();
    for (const Cure& cure : mode.cures) {
      const bool object = cure.object.empty() ? itself : cure.object == repair.object;
      if (object && cure.verb == repair.verb && cure.manner == repair.manner &&
          cure.part == repair.part) {
        return true;
      }
      in_a_part = in_a_part && !cure.part.empty();
    }
    return whole_part && !in_a_part;
  }
  return false;
}

std::vector<Fault> remaining(const Unit& unit, const std::vector<Fault>& faults,
                             const Repair& repair) {
  std::vector<Fault> left;
  for (const Fault& fault : faults) {
    if (!cures(unit, repair, fault)) left.push_back(fault);
  }
  return left;
}

}  // namespace legwork::fault
