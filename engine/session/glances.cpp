#include "engine/session/glances.h"

#include <algorithm>
#include <cmath>

#include "engine/base/quantity.h"

namespace legwork::session {
namespace {

constexpr std::string_view kDisplay = "display ";
// K. A display that moved by less is not told again: 2 °F.
constexpr double kDisplayMoved = 2 / 1.8;
constexpr double kDisplayDigit = 1 / 1.8;  // K: it shows whole degrees Fahrenheit

int state_shown(const Site& site, const unit::Look& look) {
  const double value = site.world.quantity(look.quantity);
  int state = 0;
  for (std::size_t i = 1; i < look.states.size(); ++i) {
    if (value >= look.states[i].from) state = static_cast<int>(i);
  }
  return state;
}

Observation observation_of(const unit::Look& look, int state) {
  Observation o;
  o.key = look.id;
  o.state = state;
  o.states = static_cast<int>(look.states.size());
  o.value = state;
  o.words = look.states[static_cast<std::size_t>(state)].words;
  o.error_rate = kGlanceDoubt;
  o.source = Source::glance;
  return o;
}

Observation observation_of(const std::string& device, double k) {
  Observation o;
  o.key = std::string(kDisplay) + device;
  o.value = k;
  o.unit = display_unit(Dimension::temperature);
  o.number = std::round((k - 273.15) * 1.8 + 32);
  o.resolution = kDisplayDigit;
  o.accuracy = kDisplayDigit;
  return o;
}

Observation at_a_glance(Observation o) {
  o.source = Source::glance;
  return o;
}

bool is_display(const unit::Look& look) { return look.quantity.ends_with(".display"); }

}  // namespace

std::optional<double> displayed_k(const sim::World& world, circuit::DeviceId device) {
  const circuit::Circuit& wiring = world.unit().circuit;
  for (const circuit::Actuator& actuator : wiring.actuators) {
    if (actuator.device != device || actuator.kind != circuit::ActuatorKind::threshold) continue;
    const circuit::Threshold& row = wiring.thresholds[static_cast<std::size_t>(actuator.row)];
    if (!row.supply_a.valid() || !row.sense.valid()) continue;
    if (world.quantity(wiring.devices[device.slot()].name + ".display") != 1) return std::nullopt;
    const double felt =
        row.frozen ? row.frozen_at : world.senses()[row.sense.slot()] + row.sense_shift;
    return felt;
  }
  return std::nullopt;
}

std::optional<Observation> read_display(const sim::World& world, const std::string& device) {
  const std::optional<double> k = displayed_k(world, world.unit().circuit.find_device(device));
  return k ? std::optional(observation_of(device, *k)) : std::nullopt;
}

std::vector<int> glances_from(const unit::Unit& unit, const Eyes& eyes) {
  std::vector<int> out;
  for (std::size_t i = 0; i < unit.glances.size(); ++i) {
    const unit::Look& look = unit.glances[i];
    if (look.place == eyes.place && (eyes.cover_off || !look.inside))
      out.push_back(static_cast<int>(i));
  }
  return out;
}

void glance(Site& site, const Eyes& eyes, Seen& seen) {
  const unit::Unit& unit = site.world.unit();
  site.glanced.resize(unit.glances.size());
  for (const int i : glances_from(unit, eyes)) {
    const unit::Look& look = unit.glances[static_cast<std::size_t>(i)];
    Site::Glanced& before = site.glanced[static_cast<std::size_t>(i)];
    const int state = state_shown(site, look);
    if (state != before.state) seen.observations.push_back(observation_of(look, state));
    if (is_display(look)) {
      const auto k = displayed_k(site.world, unit.circuit.find_device(look.target));
      const bool moved = k && !(std::fabs(*k - before.display_k) < kDisplayMoved);
      if (moved) seen.observations.push_back(at_a_glance(observation_of(look.target, *k)));
      if (moved || !k) before.display_k = k ? *k : -1;
    }
    before.state = state;
  }
}

void glance_again(Site& site, const std::vector<int>& glances, Seen& seen) {
  const unit::Unit& unit = site.world.unit();
  for (const int i : glances) {
    const unit::Look& look = unit.glances[static_cast<std::size_t>(i)];
    seen.observations.push_back(observation_of(look, state_shown(site, look)));
    if (!is_display(look)) continue;
    if (const auto k = displayed_k(site.world, unit.circuit.find_device(look.target)))
      seen.observations.push_back(at_a_glance(observation_of(look.target, *k)));
  }
}

std::vector<int> glances_told(const unit::Unit& unit, const Seen& seen) {
  std::vector<int> out;
  for (std::size_t i = 0; i < unit.glances.size(); ++i) {
    const unit::Look& look = unit.glances[i];
    const bool told =
        std::any_of(seen.observations.begin(), seen.observations.end(), [&](const Observation& o) {
          return o.source == Source::glance &&
                 (o.key == look.id ||
                  (is_display(look) && o.key == std::string(kDisplay) + look.target));
        });
    if (told) out.push_back(static_cast<int>(i));
  }
  return out;
}

}  // namespace legwork::session
