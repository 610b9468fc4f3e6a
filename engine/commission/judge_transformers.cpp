// A control transformer against what hangs on it, in VA: what the plates say, all of it on at once.
#include <array>
#include <cmath>
#include <string_view>

#include "engine/circuit/kinds.h"
#include "engine/commission/judge_notes.h"

namespace legwork::commission {
namespace {

// IEC 60947-4-1: a coil is sure to close from 85 % of its volts.
constexpr double kHoldsAt = 0.85;
constexpr double kChatter_s = 1;

// Sizes of small control transformers in the trade, VA: common practice, no source.
constexpr std::array<double, 16> kSizes = {20,  40,  50,  75,  100,  150,  200,  250,
                                           300, 350, 500, 750, 1000, 1500, 2000, 3000};

Amount volt_amperes(double va) { return amount(va, Dimension::apparent_power, 0); }

// What a device takes while it works: the VA or watts of its row, or a motor's plate. What it takes
// for a moment only (an inrush, a release) is left out: transformers stand that.
double taken_by(const circuit::Device& device) {
  double va = 0;
  for (const circuit::ParamSpec& spec : device.kind->params) {
    const bool power =
        spec.dimension == Dimension::apparent_power || spec.dimension == Dimension::power;
    const bool moment = spec.key == "inrush" || spec.key == "release" || spec.key == "rating" ||
                        spec.key == "standby" || spec.key == "holding" || spec.key == "heater";
    const circuit::Value* value = device.find_value(spec.key);
    if (power && !moment && value != nullptr) va += value->number;
  }
  if (const circuit::Value* factor = device.find_value("power factor"); factor != nullptr)
    va /= factor->number;
  const circuit::Value* volts = device.find_value("volts");
  const circuit::Value* plate = device.find_value("full load");
  if (volts != nullptr && plate != nullptr) va += volts->number * plate->number;
  return va;
}

struct Load {
  circuit::DeviceId device;
  double va = 0;
};

std::vector<Load> loads_on(const circuit::Circuit& wiring, circuit::DeviceId transformer,
                           circuit::TerminalId x1, circuit::TerminalId x2) {
  const std::vector<std::int8_t> one = behind(wiring, x1, transformer);
  const std::vector<std::int8_t> other = behind(wiring, x2, transformer);
  std::vector<Load> loads;
  if (one[x2.slot()] != 0) return loads;  // a short: told elsewhere
  for (std::size_t d = 0; d < wiring.devices.size(); ++d) {
    const circuit::DeviceId id = circuit::DeviceId::of(d);
    const circuit::Device& device = wiring.devices[d];
    bool here = false, there = false;
    for (const circuit::TerminalId terminal : device.terminals) {
      here = here || one[terminal.slot()] != 0;
      there = there || other[terminal.slot()] != 0;
    }
    const double va = id != transformer && here && there ? taken_by(device) : 0;
    if (va > 0) loads.push_back({id, va});
  }
  return loads;
}

// Does the lived machine show that they lack volts?
bool lack_volts(const unit::Unit& unit, const Trial& trial, const std::vector<Load>& loads) {
  const auto is_one = [&](circuit::DeviceId device) {
    for (const Load& load : loads) {
      if (load.device == device) return true;
    }
    return false;
  };
  const std::vector<RatedPair> pairs = rated_pairs(unit.circuit);
  for (const Day& day : trial.days) {
    for (std::size_t i = 0; i < pairs.size(); ++i) {
      const double share = day.most_volts[i] / pairs[i].volts;
      if (is_one(pairs[i].device) && share > 0.25 && share < kHoldsAt) return true;
    }
    for (std::size_t i = 0; i < day.actuators.size(); ++i) {
      if (is_one(unit.circuit.actuators[i].device) && day.actuators[i].chatter_s > kChatter_s)
        return true;
    }
    if (!day.whole) return true;
  }
  return !ever_runs(unit, trial);
}

}  // namespace

bool judge_transformers(const unit::Unit& unit, const Trial& trial, Diagnostics& found) {
  bool starved = false;
  for (const circuit::Transformer& transformer : unit.circuit.transformers) {
    const circuit::Device& device = unit.circuit.devices[transformer.device.slot()];
    const circuit::Value* rating = device.find_value("rating");
    const circuit::TerminalId x1 = unit.circuit.find_terminal(device.name + ".X1");
    const circuit::TerminalId x2 = unit.circuit.find_terminal(device.name + ".X2");
    if (rating == nullptr || !x1.valid() || !x2.valid()) continue;
    const std::vector<Load> loads = loads_on(unit.circuit, transformer.device, x1, x2);
    double va = 0;
    for (const Load& load : loads) va += load.va;
    if (va <= rating->number) continue;
    double size = va;
    for (auto it = kSizes.rbegin(); it != kSizes.rend(); ++it) {
      if (*it >= va) size = *it;
    }
    List takes{{}, Joined::by_commas};
    for (const Load& load : loads) {
      takes.items.push_back(
          say("{device} {va}", {{"device", Name{unit.circuit.devices[load.device.slot()].name}},
                                {"va", volt_amperes(load.va)}}));
    }
    found.warning(unit.circuit.source, mark_of_value(device, "rating"),
                  say("{device} is {rating}, and what hangs on it takes {va} when all of it is on",
                      {{"device", Name{device.name}},
                       {"rating", volt_amperes(rating->number)},
                       {"va", volt_amperes(va)}}),
                  say("{loads}: take one of {size}, or feed some of them otherwise",
                      {{"loads", takes}, {"size", volt_amperes(size)}}));
    starved = starved || lack_volts(unit, trial, loads);
  }
  return starved;
}

}  // namespace legwork::commission
