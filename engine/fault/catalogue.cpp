#include "engine/fault/catalogue.h"

#include <fmt/format.h>

#include <algorithm>

#include "engine/circuit/kinds.h"
#include "engine/config/reader.h"
#include "engine/fault/plant_modes.h"
#include "engine/fault/repairs.h"
#include "engine/plant/series.h"

namespace legwork::fault {
namespace {

using circuit::WireId;
using unit::Unit;

// Has an earlier wire of the same conduit had this mode?
bool conduit_is_done(const Unit& unit, WireId wire) {
  const std::string& conduit = unit.circuit.wires[wire.slot()].spec.conduit;
  for (std::size_t i = 0; i < wire.slot(); ++i) {
    if (unit.circuit.wires[i].spec.conduit == conduit) return true;
  }
  return false;
}

// A wire is one suspect of each mode; a device one of each level.
int level_count(const Unit& unit, const std::string& thing, const Mode& mode) {
  const bool wire =
      !unit.circuit.find_device(thing).valid() && unit.circuit.find_wire(thing).valid();
  return wire ? 1 : static_cast<int>(mode.levels.size());
}

std::vector<Candidate> candidates_of(const Unit& unit, const std::string& thing, const Mode& mode) {
  std::vector<Candidate> out;
  const int levels = level_count(unit, thing, mode);
  for (int i = 0; i < levels; ++i) {
    Candidate candidate;
    candidate.fault = {thing, mode.how, kUsualSeverity, {}};
    if (levels > 1) candidate.fault.severity = mode.levels[static_cast<std::size_t>(i)].severity;
    candidate.latent = mode.latent;
    candidate.role = mode.condition ? Role::condition : Role::part;
    for (const Cure& cure : mode.cures) candidate.repairs.push_back(repair_text(thing, cure));
    if (!candidate.repairs.empty()) candidate.repair_class = candidate.repairs.front();
    out.push_back(std::move(candidate));
  }
  return out;
}

}  // namespace

double Priors::weight(std::string_view kind, std::string_view how) const {
  double weight = 1;
  int best = -1;
  for (const PriorRow& row : rows) {
    if (row.kind != "*" && row.kind != kind) continue;
    if (row.how != "*" && row.how != how) continue;
    const int exact = (row.kind != "*" ? 2 : 0) + (row.how != "*" ? 1 : 0);
    if (exact > best) {
      best = exact;
      weight = row.weight;
    }
  }
  return weight;
}

Priors load_priors(const std::string& path, Diagnostics& found) {
  Priors priors;
  const Document document = read_document(path, found);
  if (!document.ok()) return priors;
  Reader file(document.root(), found, phrase("the priors"));
  const Node list = file.required("priors");
  file.finish();
  for (const Entry& entry : list.entries()) {
    const std::size_t colon = entry.key.find(": ");
    if (colon == std::string::npos) {
      found.error(
          document.source(), entry.key_mark,
          say("expected 'KIND: MODE' in quotes, found '{found}'", {{"found", Name{entry.key}}}));
      continue;
    }
    const std::optional<double> weight =
        read_quantity(entry.value, Dimension::number, found, {.min = 0, .max = 1e6});
    if (!weight) continue;
    priors.rows.push_back({entry.key.substr(0, colon), entry.key.substr(colon + 2), *weight});
  }
  return priors;
}

std::string kind_of(const Unit& unit, std::string_view what) {
  if (const circuit::DeviceId device = unit.circuit.find_device(what); device.valid()) {
    return std::string(unit.circuit.devices[device.slot()].kind->name);
  }
  if (unit.circuit.find_wire(what).valid()) return "wire";
  return std::string(numbered_thing(what).thing);
}

std::vector<Candidate> catalogue(const Unit& unit, const Priors& priors) {
  std::vector<Candidate> list;
  for (const std::string& thing : things(unit)) {
    const WireId wire =
        unit.circuit.find_device(thing).valid() ? WireId{} : unit.circuit.find_wire(thing);
    for (const Mode& mode : modes_of(unit, thing)) {
      if (wire.valid() && mode.per_conduit && conduit_is_done(unit, wire)) continue;
      const std::size_t colon = mode.prior.find(": ");
      const double weight =
          colon == std::string::npos
              ? priors.weight(kind_of(unit, thing), mode.how)
              : priors.weight(mode.prior.substr(0, colon), mode.prior.substr(colon + 2));
      // What was pulled through a building by hand fails more often than a factory harness.
      const bool factory = wire.valid() && !unit.circuit.wires[wire.slot()].spec.field;
      for (Candidate& candidate : candidates_of(unit, thing, mode)) {
        candidate.prior = weight / level_count(unit, thing, mode) * (factory ? 0.5 : 1.0);
        list.push_back(std::move(candidate));
      }
    }
  }
  return list;
}

namespace {
// Some steps between the two levels that this severity lies between; none if it is one of them.
// Ohms and the like, whose levels are a whole order apart, go by ratio.
std::vector<double> steps_about(const Mode& mode, double severity) {
  std::vector<double> out;
  if (says_which(mode) || severity == kUsualSeverity) return out;
  for (std::size_t i = 1; i < mode.levels.size(); ++i) {
    const double low = mode.levels[i - 1].severity, high = mode.levels[i].severity;
    if (!(low < severity && severity < high)) continue;
    const bool by_ratio = low > 0 && high >= 10 * low;
    const int steps = by_ratio ? 6 : 4;
    for (int k = 1; k < steps; ++k) {
      const double share = static_cast<double>(k) / steps;
      out.push_back(by_ratio ? low * plant::exp_series(share * plant::log_series(high / low))
                             : low + (high - low) * share);
    }
  }
  return out;
}

}  // namespace

void add_levels_of(const Unit& unit, const std::vector<Fault>& wrong,
                   std::vector<Candidate>& list) {
  constexpr double kRare = 0.1;  // prior of a level that the catalogue itself left out
  for (const Fault& fault : wrong) {
    for (const Mode& mode : modes_of(unit, fault.what)) {
      if (mode.how != fault.how) continue;
      std::vector<Candidate> all = candidates_of(unit, fault.what, mode);
      std::vector<double> more = steps_about(mode, fault.severity);
      // A wire is one suspect in the catalogue, at its usual severity.
      for (const Level& level : mode.levels) {
        if (all.size() < mode.levels.size() && level.severity != mode.usual)
          more.push_back(level.severity);
      }
      for (const double severity : more) {
        all.push_back(all.front());
        all.back().fault.severity = severity;
      }
      for (Candidate& one : all) {
        const bool known = std::any_of(list.begin(), list.end(), [&](const Candidate& c) {
          return c.fault.what == one.fault.what && c.fault.how == one.fault.how &&
                 c.fault.severity == one.fault.severity;
        });
        one.prior = kRare / static_cast<double>(all.size());
        if (!known) list.push_back(std::move(one));
      }
    }
  }
}

bool says_which(const Mode& mode) {
  double expected = 0;
  return mode.levels.size() > 1 &&
         std::all_of(mode.levels.begin(), mode.levels.end(), [&](const Level& level) {
           expected += 1;
           return level.severity == expected &&
                  level.words.ends_with(fmt::format(" {:.0f}", expected));
         });
}

}  // namespace legwork::fault
