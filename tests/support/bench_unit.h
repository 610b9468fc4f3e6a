// A unit file's circuit on the bench: no plant, its senses set by hand, its shafts loaded by hand.
//
//   BenchUnit bench("circuits/wf-208.yaml");
//   bench.sense("box.sensed", kelvin_from_fahrenheit(-2));
//   bench.run(10);                                     // seconds
//   bench.volts("CC.A1", "CC.A2");                     // 10 megohm
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/quantity.h"
#include "engine/circuit/operate.h"
#include "engine/circuit/settle.h"

namespace legwork::test {

constexpr double psig(double value) { return pascals_from_psig(value); }

class BenchUnit {
 public:
  // A whole unit file of this source tree, or the text of a circuit alone (see circuit_text below).
  explicit BenchUnit(std::string_view file);
  explicit BenchUnit(circuit::Circuit circuit);

  const circuit::Circuit& circuit() const { return *circuit_; }
  circuit::State& state() { return state_; }
  circuit::Electrics& electrics() { return *electrics_; }

  // The circuit exchanged for a changed copy, its state carried over.
  void change(circuit::Circuit changed);
  void fail(std::string_view device, std::string_view mode, double severity = 1);
  void fail_wire(std::string_view wire, std::string_view mode, double severity = 1);

  void sense(std::string_view name, double si);
  void load(std::string_view device, double constant_w, double square_w);
  circuit::SettleReport run(double seconds);  // in ticks of 250 ms; the last tick's report
  // Seconds until a device's actuator moves, in ticks; 1e9 if it does not within the limit.
  double seconds_until_moved(const char* device, const char* part, double limit_s);
  circuit::OperateResult hand(circuit::HandVerb verb, std::string_view device, double value = 0);

  double volts(std::string_view a, std::string_view b, double meter_ohm = 10e6) const;
  double amps(std::string_view wire) const;
  double load_amps(
      std::string_view device) const;  // through its first part, or into its first lead
  double ohms(std::string_view a, std::string_view b) const;
  int position(std::string_view device, std::string_view part = {}) const;
  double speed(std::string_view device) const;
  circuit::TerminalId terminal(std::string_view name) const;

 private:
  void start();
  std::shared_ptr<const circuit::Circuit> circuit_;
  circuit::State state_;
  std::unique_ptr<circuit::Electrics> electrics_;
  std::vector<double> senses_;
  std::vector<circuit::ShaftLoad> loads_;
};

}  // namespace legwork::test
