#include "engine/fault/fault.h"

#include <fmt/format.h>

#include <cassert>

#include "engine/base/parse_quantity.h"
#include "engine/base/split.h"
#include "engine/base/suggest.h"
#include "engine/fault/modes.h"

namespace legwork::fault {
namespace {

using unit::Unit;

const Mode* find_mode(const std::vector<Mode>& modes, std::string_view how) {
  for (const Mode& mode : modes) {
    if (mode.how == how) return &mode;
  }
  return nullptr;
}

Message level_words(const Mode& mode) {
  List words;
  for (const Level& level : mode.levels) {
    if (level.words.empty()) continue;
    words.items.push_back(
        say("{number} ({words})",
            {{"number", Name{fmt::format("{}", level.severity)}}, {"words", Name{level.words}}}));
  }
  return words;
}

Result<double> read_severity(const Mode& mode, std::string_view text) {
  for (const Level& level : mode.levels) {
    if (!level.words.empty() && level.words == text) return level.severity;
  }
  Result<double> number = parse_quantity(text, mode.dimension);
  if (!number) number = parse_quantity(text, Dimension::number);  // bare: SI
  const Name how{mode.how}, low{fmt::format("{}", mode.low())};
  if (!number) {
    const Message expected = say("expected a number as the severity of '{how}', found '{text}'",
                                 {{"how", how}, {"text", Name{text}}});
    const Message known = level_words(mode);
    return Failure(known.empty() ? expected
                                 : say("{expected}; or one of {known}",
                                       {{"expected", expected}, {"known", known}}));
  }
  if (*number < mode.low() || *number > mode.high()) {
    return Failure(
        mode.low() < mode.high()
            ? say("out of range: severity of '{how}' is {low} to {high}",
                  {{"how", how}, {"low", low}, {"high", Name{fmt::format("{}", mode.high())}}})
            : say("unexpected severity: '{how}' has none but {low}", {{"how", how}, {"low", low}}));
  }
  return number;
}

}  // namespace

Result<Fault> parse_fault(const Unit& unit, std::string_view text) {
  const std::size_t first = text.find(':');
  if (first == std::string_view::npos)
    return Failure(say("expected 'WHAT: HOW' or 'WHAT: HOW: SEVERITY', found '{text}'",
                       {{"text", Name{text}}}));
  const std::string_view what = trimmed(text.substr(0, first));
  std::string_view how = trimmed(text.substr(first + 1));
  std::string_view severity;
  if (const std::size_t second = how.find(':'); second != std::string_view::npos) {
    severity = trimmed(how.substr(second + 1));
    how = trimmed(how.substr(0, second));
  }
  Fault fault;
  fault.what = proper_name(unit, what);
  if (fault.what.empty())
    return Failure(say("unknown part or condition '{what}'", {{"what", Name{what}}}),
                   suggestion(what, things(unit)));
  const std::vector<Mode> modes = modes_of(unit, fault.what);
  const Mode* mode = find_mode(modes, how);
  if (mode == nullptr) {
    std::vector<std::string_view> known;
    for (const Mode& each : modes) known.push_back(each.how);
    return Failure(say("unknown way for '{what}' to fail: '{how}'",
                       {{"what", Name{fault.what}}, {"how", Name{how}}}),
                   known.empty() ? say("it has no way to fail")
                                 : suggestion_or_all(how, known, phrase("expected {words}")));
  }
  fault.how = mode->how;
  if (severity.empty()) return fault;
  const Result<double> read = read_severity(*mode, severity);
  if (!read) return read.failure();
  fault.severity = *read;
  return fault;
}

std::string text(const Unit& unit, const Fault& fault) {
  if (fault.severity == kUsualSeverity) return fmt::format("{}: {}", fault.what, fault.how);
  std::string severity = fmt::format("{}", fault.severity);
  const std::vector<Mode> modes = modes_of(unit, fault.what);
  if (const Mode* mode = find_mode(modes, fault.how); mode != nullptr) {
    for (const Level& level : mode->levels) {
      if (level.severity == fault.severity && !level.words.empty()) severity = level.words;
    }
  }
  return fmt::format("{}: {}: {}", fault.what, fault.how, severity);
}

Unit with_faults(const Unit& healthy, const std::vector<Fault>& faults) {
  Unit changed = healthy;
  for (const Fault& fault : faults) {
    // Modes of the healthy unit: a wire that another fault has moved still has its own name.
    const std::vector<Mode> modes = modes_of(healthy, fault.what);
    const Mode* mode = find_mode(modes, fault.how);
    assert(mode != nullptr && "a fault that this unit does not have");
    if (mode == nullptr) continue;
    mode->apply(changed, fault.severity == kUsualSeverity ? mode->usual : fault.severity);
  }
  const circuit::Circuit& before = healthy.circuit;
  const circuit::Circuit& after = changed.circuit;
  if (before.elements.size() != after.elements.size() ||
      before.terminals.size() != after.terminals.size() ||
      before.wires.size() != after.wires.size()) {
    circuit::refresh_pattern(changed.circuit);
  }
  return changed;
}

}  // namespace legwork::fault
