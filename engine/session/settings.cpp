#include "engine/session/settings.h"

#include <cmath>

#include "engine/base/parse_quantity.h"
#include "engine/base/suggest.h"
#include "engine/circuit/kinds.h"

namespace legwork::session {
namespace {

// Rows of thresholds that belong to a device.
std::vector<std::size_t> thresholds_of(const circuit::Circuit& circuit, circuit::DeviceId device) {
  std::vector<std::size_t> out;
  for (const circuit::Actuator& a : circuit.actuators) {
    if (a.device == device && a.kind == circuit::ActuatorKind::threshold)
      out.push_back(static_cast<std::size_t>(a.row));
  }
  return out;
}

// A parameter is a set point if its value is one of the points that the control switches at.
bool is_point(const circuit::Circuit& circuit, circuit::DeviceId device, double value) {
  for (const std::size_t row : thresholds_of(circuit, device)) {
    const circuit::Threshold& t = circuit.thresholds[row];
    if (value == t.high || value == t.low) return true;
  }
  return false;
}

const circuit::ParamSpec* spec_of(const circuit::Device& device, std::string_view key) {
  for (const circuit::ParamSpec& spec : device.kind->params) {
    if (spec.key == key) return &spec;
  }
  return nullptr;
}

std::string dashed(std::string_view key) {
  std::string out(key);
  for (char& c : out) {
    if (c == ' ') c = '-';
  }
  return out;
}

std::string key_of(const circuit::Device& device, std::string_view setting) {
  for (const circuit::Value& value : device.values) {
    if (dashed(value.key) == setting) return value.key;
  }
  return {};
}

}  // namespace

std::vector<SetPoint> set_points_of(const circuit::Circuit& circuit, circuit::DeviceId id) {
  std::vector<SetPoint> points;
  if (!id.valid()) return points;
  const circuit::Device& device = circuit.devices[id.slot()];
  for (const circuit::Value& v : device.values) {
    const circuit::ParamSpec* spec = spec_of(device, v.key);
    if (spec != nullptr && spec->type == circuit::ParamSpec::Type::quantity &&
        is_point(circuit, id, v.number))
      points.push_back({dashed(v.key), v.number, spec->dimension});
  }
  return points;
}

Message resolve_setting(const circuit::Circuit& circuit, const std::string& name,
                        std::string& setting, const std::string& value) {
  const circuit::DeviceId id = circuit.find_device(name);
  const circuit::Device& device = circuit.devices[id.slot()];
  std::vector<std::string> settings;
  for (SetPoint& point : set_points_of(circuit, id)) settings.push_back(std::move(point.name));
  if (settings.empty()) return say("{part} has no set point to be moved.", {{"part", Name{name}}});
  bool known = false;
  for (const std::string& one : settings) known = known || one == setting;
  if (!known) {
    const Message unknown = say("unknown setting '{setting}' of {part}",
                                {{"setting", Name{setting}}, {"part", Name{name}}});
    if (const Message hint = suggestion(setting, settings); !hint.empty())
      return with_hint(unknown, hint);
    return say("{unknown}. It has: {settings}.",
               {{"unknown", unknown}, {"settings", listed(settings)}});
  }
  const circuit::ParamSpec* spec = spec_of(device, key_of(device, setting));
  const Result<double> parsed = parse_quantity(value, spec->dimension);
  if (!parsed) return with_hint(parsed.failure().what, parsed.failure().hint);
  if (*parsed < spec->low || *parsed > spec->high) {
    return say("out of range: {part} takes {low} to {high}.",
               {{"part", Name{name}},
                {"low", amount(spec->low, spec->dimension)},
                {"high", amount(spec->high, spec->dimension)}});
  }
  return {};
}

double setting_shift(const sim::World& world, const std::string& name, const std::string& setting,
                     const std::string& value) {
  // The point by the file, the dial as it stands in this world.
  const circuit::Circuit& healthy = world.healthy()->circuit;
  const circuit::DeviceId id = healthy.find_device(name);
  const circuit::Device& device = healthy.devices[id.slot()];
  const std::string key = key_of(device, setting);
  const double written = device.number(key);
  const double wanted = *parse_quantity(value, spec_of(device, key)->dimension);
  for (const std::size_t row : thresholds_of(healthy, id)) {
    const circuit::Threshold& was = healthy.thresholds[row];
    if (written != was.high && written != was.low) continue;
    const circuit::Threshold& now = world.unit().circuit.thresholds[row];
    const double point = (written == was.high ? now.high : now.low) + world.circuit().shift[row];
    return wanted - point;
  }
  return 0;
}

}  // namespace legwork::session
