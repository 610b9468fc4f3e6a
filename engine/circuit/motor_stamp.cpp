#include "engine/circuit/motor_stamp.h"

#include <cassert>
#include <utility>

#include "engine/circuit/small_matrix.h"

namespace legwork::circuit {
namespace {

constexpr double kLeastSlip = 1e-9;  // R / slip stays finite at synchronous speed
constexpr int kMostSections = 6;     // three windings, each perhaps with a shorted part

// A coil of one machine: a winding (a port) or a shorted part of one.
struct Section {
  int winding;   // sections of one winding share its leakage path
  Phasor axis;   // e^(j angle)
  double turns;  // of the circuit's reference winding
  double ohm;
  double leakage;  // reactance of `turns` turns is leakage * turns^2
};

struct Coils {
  double share = 0.5;  // 1/3 for three windings
  int ports = 0;       // the first so many sections are windings with terminals
  int count = 0;
  Section section[kMostSections];

  // One winding, its shorted turns as a section of its own. Ports first: call for shorted() after.
  void add(const Section& s) { section[count++] = s; }
};

using Impedances = SmallMatrix<kMostSections>;

// What the rotor answers to a field that it follows with this slip.
Phasor field_impedance(const MotorCircuit& circuit, double slip) {
  const double s = slip < kLeastSlip && slip > -kLeastSlip ? kLeastSlip : slip;
  const Phasor rotor{circuit.rotor_ohm / s, circuit.rotor_x};
  return reciprocal(reciprocal(Phasor{0, circuit.magnetizing_x}) + reciprocal(rotor));
}

struct Fields {
  Phasor forward, backward;
};
Fields fields_of(const MotorCircuit& circuit, double slip) {
  return {field_impedance(circuit, slip), field_impedance(circuit, 2 - slip)};
}

// Of section `i` with section `j`.
Phasor impedance(const Coils& coils, const Fields& fields, int i, int j) {
  const Section& a = coils.section[i];
  const Section& b = coils.section[j];
  const Phasor turn = a.axis * conj(b.axis);
  const double turns = coils.share * (a.turns * b.turns);
  Phasor z = turns * (fields.forward * turn + fields.backward * conj(turn));
  if (a.winding == b.winding) z.im += a.leakage * (a.turns * b.turns);
  if (i == j) z.re += a.ohm;
  return z;
}

Impedances admittances(const Coils& coils, const Fields& fields) {
  Impedances z;
  z.size = coils.count;
  for (int i = 0; i < coils.count; ++i)
    for (int j = 0; j < coils.count; ++j) z.at[i][j] = impedance(coils, fields, i, j);
  return inverse(z);
}

// What flows in each section with these volts on the ports: torque asks for no more, and asks
// often. Gaussian elimination with the largest pivot of the column.
template <int kCount>
void find_amps(const Coils& coils, const Fields& fields, const Phasor* port_volts, Phasor* amps) {
  Phasor z[kCount][kCount];
  for (int i = 0; i < kCount; ++i) {
    for (int j = 0; j < kCount; ++j) z[i][j] = impedance(coils, fields, i, j);
    amps[i] = i < coils.ports ? port_volts[i] : Phasor{};
  }
  Phasor per_pivot[kCount];
  for (int column = 0; column < kCount; ++column) {
    int best = column;
    for (int row = column + 1; row < kCount; ++row)
      if (norm(z[row][column]) > norm(z[best][column])) best = row;
    if (best != column) {
      for (int j = column; j < kCount; ++j) std::swap(z[best][j], z[column][j]);
      std::swap(amps[best], amps[column]);
    }
    per_pivot[column] = reciprocal(z[column][column]);
    for (int row = column + 1; row < kCount; ++row) {
      const Phasor factor = z[row][column] * per_pivot[column];
      for (int j = column + 1; j < kCount; ++j) z[row][j] -= factor * z[column][j];
      amps[row] -= factor * amps[column];
    }
  }
  for (int row = kCount - 1; row >= 0; --row) {
    for (int j = row + 1; j < kCount; ++j) amps[row] -= z[row][j] * amps[j];
    amps[row] = amps[row] * per_pivot[row];
  }
}

void find_amps(const Coils& coils, const Fields& fields, const Phasor* port_volts, Phasor* amps) {
  switch (coils.count) {
    case 1:
      return find_amps<1>(coils, fields, port_volts, amps);
    case 2:
      return find_amps<2>(coils, fields, port_volts, amps);
    case 3:
      return find_amps<3>(coils, fields, port_volts, amps);
    case 4:
      return find_amps<4>(coils, fields, port_volts, amps);
    case 5:
      return find_amps<5>(coils, fields, port_volts, amps);
    default:
      return find_amps<kMostSections>(coils, fields, port_volts, amps);
  }
}

// Winding with its faults: the turns left are its port, the shorted ones a loop.
void add_port(Coils& coils, Section section, const WindingFault& fault) {
  section.ohm = section.ohm * fault.turns_left + fault.series_ohm;
  section.turns *= fault.turns_left;
  coils.add(section);
  ++coils.ports;
}
void add_loop(Coils& coils, Section section, const WindingFault& fault) {
  if (fault.turns_left >= 1) return;
  const double shorted = 1 - fault.turns_left;
  section.ohm *= shorted;
  section.turns *= shorted;
  coils.add(section);
}

constexpr Phasor kAxis[3] = {
    {1, 0}, kTurn240, kTurn120};  // currents of sequence 1-2-3 turn forward

Coils coils_of(const ThreePhaseMotor& motor) {
  Coils coils;
  coils.share = 1.0 / 3;
  const MotorCircuit& c = motor.circuit;
  for (int i = 0; i < 3; ++i)
    add_port(coils, {i, kAxis[i], 1, c.stator_ohm, c.stator_x}, motor.winding[i]);
  for (int i = 0; i < 3; ++i)
    add_loop(coils, {i, kAxis[i], 1, c.stator_ohm, c.stator_x}, motor.winding[i]);
  return coils;
}

Coils coils_of(const SinglePhaseMotor& motor) {
  const double a = motor.turns_ratio;
  const Section main{0, {1, 0}, 1, motor.main.stator_ohm, motor.main.stator_x};
  const Section start{1, {0, 1}, a, motor.start_ohm, motor.start_x / (a * a)};
  Coils coils;
  add_port(coils, main, motor.winding[0]);
  add_port(coils, start, motor.winding[1]);
  add_loop(coils, main, motor.winding[0]);
  add_loop(coils, start, motor.winding[1]);
  return coils;
}

Coils coils_of(const ShadedPoleMotor& motor) {
  constexpr double kRoot2Half = 0.70710678118654757;
  const Section main{0, {1, 0}, 1, motor.main.stator_ohm, motor.main.stator_x};
  Coils coils;
  add_port(coils, main, motor.winding);
  if (motor.ring_ohm > 0)
    coils.add(
        {1, {kRoot2Half, -kRoot2Half}, motor.ring_turns, motor.ring_ohm, motor.main.stator_x});
  add_loop(coils, main, motor.winding);
  return coils;
}

bool healthy(const ThreePhaseMotor& motor) {
  return motor.winding[0].healthy() && motor.winding[1].healthy() && motor.winding[2].healthy();
}

// Stamp from its ports: port p lies between node `plus[p]` and node `minus[p]`; g is diagonal.
void fill_ports(Stamp& stamp, Impedances y, const double* g, int ports, const int* plus,
                const int* minus) {
  const int size = static_cast<int>(stamp.nodes.size());
  for (Phasor& entry : stamp.y) entry = {};
  for (double& entry : stamp.g) entry = 0;
  y.size = ports;
  round_to_grid(y);
  add_ports(y, plus, minus, size, stamp.y.data());
  for (int p = 0; p < ports; ++p) {
    stamp.g[plus[p] * size + plus[p]] += g[p];
    stamp.g[plus[p] * size + minus[p]] -= g[p];
    stamp.g[minus[p] * size + plus[p]] -= g[p];
    stamp.g[minus[p] * size + minus[p]] += g[p];
  }
}

// The same with the star point of three windings eliminated: two ports, T1-T3 and T2-T3, for what
// is left of the matrix.
void fill_star(Stamp& stamp, const Impedances& y, const double* g) {
  Phasor to_star[3], from_star[3], all;
  for (int i = 0; i < 3; ++i)
    for (int j = 0; j < 3; ++j) {
      to_star[i] += y.at[i][j];
      from_star[j] += y.at[i][j];
      all += y.at[i][j];
    }
  const Phasor inverse = reciprocal(all);
  Impedances two;
  two.size = 2;
  for (int i = 0; i < 2; ++i)
    for (int j = 0; j < 2; ++j) two.at[i][j] = y.at[i][j] - to_star[i] * from_star[j] * inverse;
  round_to_grid(two);
  for (Phasor& entry : stamp.y) entry = {};
  const int plus[2] = {0, 1}, minus[2] = {2, 2};
  add_ports(two, plus, minus, 3, stamp.y.data());
  const double scale = 1 / (g[0] + g[1] + g[2]);
  for (int i = 0; i < 3; ++i) {
    double others = 0;
    for (int j = 0; j < 3; ++j) {
      if (j != i) stamp.g[i * 3 + j] = -(g[i] * g[j] * scale), others += g[j];
    }
    stamp.g[i * 3 + i] = g[i] * others * scale;
  }
}

double torque_of(const Coils& coils, const MotorCircuit& circuit, double slip,
                 const Phasor* port_volts) {
  const Fields fields = fields_of(circuit, slip);
  Phasor amps[kMostSections];
  find_amps(coils, fields, port_volts, amps);
  Phasor forward, backward;
  for (int i = 0; i < coils.count; ++i) {
    const Section& s = coils.section[i];
    forward += s.turns * (conj(s.axis) * amps[i]);
    backward += s.turns * (s.axis * amps[i]);
  }
  return coils.share * (fields.forward.re * norm(forward) - fields.backward.re * norm(backward));
}

double port_siemens(double ohm, const WindingFault& fault) {
  return 1 / (ohm * fault.turns_left + fault.series_ohm);
}

Stamp empty_stamp(std::vector<NodeId> nodes) {
  Stamp stamp;
  const std::size_t size = nodes.size();
  stamp.nodes = std::move(nodes);
  stamp.group.assign(size, 0);
  stamp.y.assign(size * size, {});
  stamp.g.assign(size * size, 0);
  stamp.symmetric = false;
  return stamp;
}

constexpr int kThreePlus[3] = {0, 1, 2}, kThreeMinus[3] = {3, 3, 3};
constexpr int kSinglePlus[2] = {0, 0}, kSingleMinus[2] = {1, 2};

}  // namespace

Stamp three_phase_stamp(NodeId t1, NodeId t2, NodeId t3) { return empty_stamp({t1, t2, t3}); }
Stamp three_phase_stamp(NodeId t1, NodeId t2, NodeId t3, NodeId star) {
  return empty_stamp({t1, t2, t3, star});
}
Stamp single_phase_stamp(NodeId c, NodeId r, NodeId s) { return empty_stamp({c, r, s}); }
Stamp shaded_pole_stamp(NodeId one, NodeId two) {
  Stamp stamp = empty_stamp({one, two});
  stamp.symmetric = true;
  return stamp;
}

Phasor phase_impedance(const MotorCircuit& circuit, double slip) {
  return Phasor{circuit.stator_ohm, circuit.stator_x} + field_impedance(circuit, slip);
}

void fill(Stamp& stamp, const ThreePhaseMotor& motor, double slip) {
  const MotorCircuit& circuit = motor.circuit;
  const bool with_star = stamp.nodes.size() == 4;
  assert(with_star || stamp.nodes.size() == 3);
  if (!with_star && healthy(motor)) {
    const Phasor y1 = reciprocal(phase_impedance(circuit, slip));
    const Phasor y2 = reciprocal(phase_impedance(circuit, 2 - slip));
    const Phasor mean = (y1 + y2) / 6;
    const Phasor turn = Phasor{0, kRoot3 / 6} * (y1 - y2);
    const Phasor c[3] = {2 * mean, turn - mean, -turn - mean};
    for (int i = 0; i < 3; ++i)
      for (int j = 0; j < 3; ++j) {
        stamp.y[i * 3 + j] = c[(j - i + 3) % 3];
        stamp.g[i * 3 + j] = (i == j ? 2.0 : -1.0) / (3 * circuit.stator_ohm);
      }
    return;
  }
  const Coils coils = coils_of(motor);
  const Impedances y = admittances(coils, fields_of(circuit, slip));
  const double g[3] = {port_siemens(circuit.stator_ohm, motor.winding[0]),
                       port_siemens(circuit.stator_ohm, motor.winding[1]),
                       port_siemens(circuit.stator_ohm, motor.winding[2])};
  if (with_star)
    fill_ports(stamp, y, g, 3, kThreePlus, kThreeMinus);
  else
    fill_star(stamp, y, g);
}

void fill(Stamp& stamp, const SinglePhaseMotor& motor, double slip) {
  assert(stamp.nodes.size() == 3);
  const Impedances y = admittances(coils_of(motor), fields_of(motor.main, slip));
  const double g[2] = {port_siemens(motor.main.stator_ohm, motor.winding[0]),
                       port_siemens(motor.start_ohm, motor.winding[1])};
  fill_ports(stamp, y, g, 2, kSinglePlus, kSingleMinus);
}

void fill(Stamp& stamp, const ShadedPoleMotor& motor, double slip) {
  assert(stamp.nodes.size() == 2);
  const Impedances y = admittances(coils_of(motor), fields_of(motor.main, slip));
  const double g = port_siemens(motor.main.stator_ohm, motor.winding);
  const int plus = 0, minus = 1;
  fill_ports(stamp, y, &g, 1, &plus, &minus);
}

double torque(const ThreePhaseMotor& motor, double slip, std::span<const Phasor> volts) {
  assert(volts.size() == 3 || volts.size() == 4);
  if (healthy(motor)) {  // each sequence by itself; whatever the star stands at drops out
    const MotorCircuit& circuit = motor.circuit;
    const Fields fields = fields_of(circuit, slip);
    const Phasor stator{circuit.stator_ohm, circuit.stator_x};
    Phasor forward, backward;
    for (int i = 0; i < 3; ++i) {
      forward += conj(kAxis[i]) * volts[static_cast<std::size_t>(i)];
      backward += kAxis[i] * volts[static_cast<std::size_t>(i)];
    }
    return (fields.forward.re * norm(forward) / norm(stator + fields.forward) -
            fields.backward.re * norm(backward) / norm(stator + fields.backward)) /
           3;
  }
  const Coils coils = coils_of(motor);
  Phasor star;
  if (volts.size() == 4) {
    star = volts[3];
  } else {  // from the condition that the currents sum to zero
    const Impedances y = admittances(coils, fields_of(motor.circuit, slip));
    Phasor sum, total;
    for (int j = 0; j < 3; ++j) {
      Phasor column;
      for (int i = 0; i < 3; ++i) column += y.at[i][j];
      sum += column * volts[j];
      total += column;
    }
    star = sum / total;
  }
  const Phasor port[3] = {volts[0] - star, volts[1] - star, volts[2] - star};
  return torque_of(coils, motor.circuit, slip, port);
}

double torque(const SinglePhaseMotor& motor, double slip, std::span<const Phasor> volts) {
  const Phasor port[2] = {volts[0] - volts[1], volts[0] - volts[2]};
  return torque_of(coils_of(motor), motor.main, slip, port);
}

double torque(const ShadedPoleMotor& motor, double slip, std::span<const Phasor> volts) {
  const Phasor port[1] = {volts[0] - volts[1]};
  return torque_of(coils_of(motor), motor.main, slip, port);
}

}  // namespace legwork::circuit
