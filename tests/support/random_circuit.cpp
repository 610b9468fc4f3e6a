#include "tests/support/random_circuit.h"
#include "tests/support/units.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <vector>

#include "engine/circuit/builder.h"
#include "engine/circuit/check.h"
#include "engine/circuit/kinds.h"
#include "engine/unit/unit.h"

namespace legwork::test {
namespace {

using circuit::Circuit;
using circuit::Supply;

struct Donor {
  const circuit::Kind* kind;
  std::vector<circuit::Value> values;
};

// Every device of every unit, as its file describes it.
const std::vector<Donor>& donors() {
  static const std::vector<Donor> all = [] {
    std::vector<Donor> made;
    const std::string home = LEGWORK_SOURCE_DIR;
    for (const char* id : legwork::support::unit_ids()) {
      Diagnostics found;
      const auto unit =
          unit::load_file(home + "/circuits/" + id + ".yaml", home + "/assets", found);
      if (!unit) {
        std::fprintf(stderr, "%s", found.text().c_str());
        std::abort();
      }
      for (const circuit::Device& device : unit->circuit.devices) {
        Donor donor{device.kind, {}};
        for (const circuit::Value& value : device.values)
          if (value.given) donor.values.push_back(value);
        made.push_back(std::move(donor));
      }
    }
    return made;
  }();
  return all;
}

template <class T>
const T& any(const std::vector<T>& from, Random& random) {
  return from[random.below(from.size())];
}

circuit::SupplySpec any_supply(Random& random) {
  struct Row {
    Supply::Kind kind;
    double volts;
    bool earthed;
  };
  static const std::vector<Row> rows = {
      {Supply::Kind::wye, 208, true},         {Supply::Kind::wye, 480, true},
      {Supply::Kind::delta, 240, false},      {Supply::Kind::corner_delta, 240, true},
      {Supply::Kind::split_phase, 240, true}, {Supply::Kind::single, 115, true}};
  const Row& row = any(rows, random);
  circuit::SupplySpec spec;
  spec.kind = row.kind;
  spec.nominal_v = row.volts;
  spec.open_circuit_v = row.volts * random.between_reals(0.85, 1.1);
  spec.service_ohm = random.between_reals(0.01, 1);
  spec.frequency_hz = random.chance(0.2) ? 50 : 60;
  spec.earthed = row.earthed;
  return spec;
}

void shake(const circuit::Kind& kind, circuit::Value& value, Random& random) {
  if (!random.chance(0.3)) return;
  for (const circuit::ParamSpec& spec : kind.params) {
    if (spec.key != value.key || spec.type != circuit::ParamSpec::Type::quantity) continue;
    if (spec.dimension == Dimension::number) return;  // poles, taps: counts
    value.number = std::clamp(value.number * random.between_reals(0.6, 1.6), spec.low, spec.high);
  }
}

struct Item {
  std::string name;
  bool solid;  // nothing but contact and wire
  std::string from, to;
};

class Maze {
 public:
  Maze(circuit::Builder& builder, Random& random) : builder_(builder), random_(random) {
    for (const Supply::Leg& leg : raw().supply.legs) rails_.push_back(name(leg.terminal));
  }

  void add_devices() {
    const std::size_t count = 5 + random_.below(16);
    for (std::size_t i = 0; i < count; ++i) add_device(i);
  }

  void wire() {
    for (std::size_t i = items_.size(); i > 1; --i)
      std::swap(items_[i - 1], items_[random_.below(i)]);
    std::size_t next = 0;
    while (next < items_.size()) {
      std::vector<Item> run;
      bool loaded = false;
      const std::size_t wanted = 1 + random_.below(4);
      while (next < items_.size() && (run.size() < wanted || !loaded)) {
        loaded = loaded || !items_[next].solid;
        run.push_back(items_[next++]);
      }
      lay(run, loaded);
    }
    for (const std::string& lead : leads_) {
      circuit::Rung rung{{any_end(), mark(), {}}, {lead, mark(), {}}};
      builder_.add_rung(rung, mark());
      taps_.push_back(lead);
    }
  }

 private:
  Circuit& raw() { return builder_.raw(); }
  std::string name(circuit::TerminalId id) { return raw().terminals[id.slot()].name; }
  Mark mark() { return Mark{line_++, 1}; }
  std::string any_end() {
    if (random_.chance(0.03)) return "GND";
    return taps_.empty() || random_.chance(0.7) ? any(rails_, random_) : any(taps_, random_);
  }

  void add_device(std::size_t number) {
    const Donor& donor = any(donors(), random_);
    std::vector<circuit::Value> values = donor.values;
    for (circuit::Value& value : values) {
      if (value.key == "protects") {
        if (motor_.empty()) return;
        value.text = motor_;
      }
      shake(*donor.kind, value, random_);
    }
    const std::string called = "D" + std::to_string(number);
    const circuit::DeviceId id =
        builder_.add_device(called, donor.kind->name, std::move(values), mark());
    if (!id.valid()) return;
    const circuit::Device& device = raw().devices[id.slot()];
    for (const circuit::Part& part : device.parts) {
      const bool solid = part.element.valid() &&
                         raw().elements[part.element.slot()].role == circuit::ElementRole::contact;
      if (part.name == "secondary") {  // a supply of its own
        rails_.push_back(name(part.from));
        rails_.push_back(name(part.to));
        continue;
      }
      items_.push_back({part.name.empty() ? called : called + "." + part.name, solid,
                        name(part.from), name(part.to)});
    }
    if (!device.parts.empty()) return;
    if (donor.kind->load) motor_ = called;
    for (const circuit::TerminalId lead : device.terminals)
      if (!raw().terminals[lead.slot()].hidden) leads_.push_back(name(lead));
  }

  void lay(const std::vector<Item>& run, bool loaded) {
    circuit::Rung rung{{any_end(), mark(), {}}};
    for (std::size_t i = 0; i < run.size(); ++i) {
      const Mark here = mark();
      if (i + 1 < run.size() && random_.chance(0.2)) {
        rung.push_back(
            circuit::any_of({{{run[i].name, here, {}}}, {{run[i + 1].name, here, {}}}}, here));
        ++i;
      } else {
        rung.push_back({run[i].name, here, {}});
      }
    }
    // Contacts alone lead on to somewhere, seldom to another leg.
    rung.push_back(
        {loaded || taps_.empty() || random_.chance(0.1) ? any_end() : any(taps_, random_),
         mark(),
         {}});
    builder_.add_rung(rung, mark());
    for (const Item& item : run) {
      taps_.push_back(item.from);
      taps_.push_back(item.to);
    }
  }

  circuit::Builder& builder_;
  Random& random_;
  int line_ = 2;
  std::vector<std::string> rails_, taps_, leads_;
  std::vector<Item> items_;
  std::string motor_;
};

void break_supply(Circuit& circuit, Random& random) {
  Supply::Leg& leg = circuit.supply.legs[random.below(circuit.supply.legs.size())];
  switch (random.below(4)) {
    case 0:
      leg.dead = true;
      return;
    case 1:
      leg.extra_ohm = random.between_reals(0, 100);
      return;
    case 2:
      leg.emf = random.between_reals(0, 1.6) * leg.emf;
      return;
    default:
      std::swap(leg.emf, circuit.supply.legs.front().emf);
  }
}

double decades(Random& random, double most) {
  const double share = random.between_reals(-most, most);
  double factor = 1;
  for (int i = 0; i < static_cast<int>(share < 0 ? -share : share); ++i) factor *= 10;
  factor *= 1 + 9 * random.fraction();
  return share < 0 ? 1 / factor : factor;
}

void break_figure(Circuit& circuit, Random& random) {
  circuit::Element& element = circuit.elements[random.below(circuit.elements.size())];
  switch (random.below(4)) {
    case 0: {
      const double factor = decades(random, 6);
      element.y = factor * element.y;
      element.g = factor * element.g;
      break;
    }
    case 1:
      element.series_ohm += decades(random, 6);
      break;
    case 2:
      element.stuck =
          random.chance(0.5) ? circuit::Element::Stuck::made : circuit::Element::Stuck::open;
      break;
    default:
      element.y = element.y_rest;
      element.g = element.g_rest;
  }
}

}  // namespace

std::optional<Circuit> random_circuit(Random& random) {
  Diagnostics found;
  circuit::Builder builder(Source("random.yaml", std::string(400, '\n')), found);
  builder.supply(any_supply(random), Mark{1, 1});
  Maze maze(builder, random);
  maze.add_devices();
  circuit::WireSpec copper;
  copper.length_m = random.between_reals(0.2, 40);
  if (random.chance(0.5)) copper.conduit = "one for all";
  builder.wire_default(copper);
  maze.wire();
  Circuit made = builder.build();
  if (found.has_errors()) return std::nullopt;
  circuit::check(made, found);
  if (found.has_errors()) return std::nullopt;
  return made;
}

std::string break_something(Circuit& circuit, Random& random) {
  const std::uint64_t kind = random.below(10);
  if (kind == 0) {
    break_supply(circuit, random);
    return "supply";
  }
  if (kind <= 2) {
    break_figure(circuit, random);
    return "figure";
  }
  if (kind <= 4) {
    const auto wire = circuit::WireId::of(random.below(circuit.wires.size()));
    const auto modes = circuit::wire_modes();
    const circuit::WireFaultMode& mode = modes[random.below(modes.size())];
    mode.apply(circuit, wire, mode.levels[random.below(mode.levels.size())].severity);
    return circuit.wires[wire.slot()].name + ": " + std::string(mode.name);
  }
  const auto device = circuit::DeviceId::of(random.below(circuit.devices.size()));
  const circuit::Device& row = circuit.devices[device.slot()];
  if (row.kind->modes.empty()) return "nothing";
  const circuit::FaultMode& mode = row.kind->modes[random.below(row.kind->modes.size())];
  if (mode.possible != nullptr && !mode.possible(circuit, device)) return "nothing";
  const std::string what = row.name + ": " + std::string(mode.name);
  mode.apply(circuit, device, mode.levels[random.below(mode.levels.size())].severity);
  return what;
}

}  // namespace legwork::test
