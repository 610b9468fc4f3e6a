#include "engine/fault/catalogue.h"

#include <algorithm>

#include "engine/circuit/kinds.h"
#include "engine/config/reader.h"
#include "engine/fault/modes.h"
#include "engine/fault/repairs.h"

namespace legwork::fault {
namespace {

using circuit::WireId;
using unit::Unit;

// The list is cut to its limit by leaving out what is least likely; of equals, the later one.
void keep_likeliest(std::vector<Candidate>& list, std::size_t limit) {
  if (list.size() <= limit) return;
  std::vector<std::size_t> order(list.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::stable_sort(order.begin(), order.end(),
                   [&list](std::size_t a, std::size_t b) { return list[a].prior > list[b].prior; });
  order.resize(limit);
  std::sort(order.begin(), order.end());
  std::vector<Candidate> kept;
  kept.reserve(limit);
  for (const std::size_t index : order) kept.push_back(std::move(list[index]));
  list = std::move(kept);
}

// Has an earlier wire of the same conduit had this mode?
bool conduit_is_done(const Unit& unit, WireId wire) {
  const std::string& conduit = unit.circuit.wires[wire.slot()].spec.conduit;
  for (std::size_t i = 0; i < wire.slot(); ++i) {
    if (unit.circuit.wires[i].spec.conduit == conduit) return true;
  }
  return false;
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
  Reader file(document.root(), found, "the priors");
  const Node list = file.required("priors");
  file.finish();
  for (const Entry& entry : list.entries()) {
    const std::size_t colon = entry.key.find(": ");
    if (colon == std::string::npos) {
      found.error(document.source(), entry.key_mark,
                  "expected 'KIND: MODE' in quotes, found '" + entry.key + "'");
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
  return std::string(what);
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
      // A wire is one suspect of each mode; a device one of each level.
      const std::size_t levels = wire.valid() ? 1 : mode.levels.size();
      for (std::size_t i = 0; i < levels; ++i) {
        Candidate candidate;
        candidate.fault = {thing, mode.how, kUsualSeverity, {}};
        if (mode.levels.size() > 1 && !wire.valid()) {
          candidate.fault.severity = mode.levels[i].severity;
        }
        candidate.prior = weight / static_cast<double>(levels) * (factory ? 0.5 : 1.0);
        candidate.latent = mode.latent;
        candidate.role = mode.condition ? Role::condition : Role::part;
        for (const Cure& cure : mode.cures) candidate.repairs.push_back(repair_text(thing, cure));
        if (!candidate.repairs.empty()) candidate.repair_class = candidate.repairs.front();
        list.push_back(std::move(candidate));
      }
    }
  }
  keep_likeliest(list, kCatalogueLimit);
  return list;
}

}  // namespace legwork::fault
