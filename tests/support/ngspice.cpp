#include "tests/support/ngspice.h"

#include <ngspice/sharedspice.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstring>
#include <stdexcept>

namespace legwork::circuit::support {
namespace {

std::string text(double value) {
  char room[40];
  std::snprintf(room, sizeof room, "%.17g", value);
  return room;
}

std::string name(NodeId node) { return node == kEarth ? "0" : "n" + std::to_string(index(node)); }

using Lines = std::vector<std::string>;

// One admittance between two nodes.
void add_branch(Lines& lines, const std::string& id, const std::string& a, const std::string& b,
                Phasor y) {
  if (y.im == 0) {
    if (y.re > 0) lines.push_back("r" + id + " " + a + " " + b + " " + text(1 / y.re));
  } else if (y.im > 0) {
    if (y.re > 0) lines.push_back("r" + id + " " + a + " " + b + " " + text(1 / y.re));
    lines.push_back("c" + id + " " + a + " " + b + " " + text(y.im / kOmega));
  } else {
    const double size = y.re * y.re + y.im * y.im;
    lines.push_back("r" + id + " " + a + " i" + id + " " + text(y.re / size));
    lines.push_back("l" + id + " i" + id + " " + b + " " + text(-y.im / size / kOmega));
  }
}

// Inductances of a machine, henry: stator coils, then the rotor's two. A rotor coil stands for
// `share` of the rotor of one phase, so that the stator sees the circuit's figures.
void add_machine(Lines& lines, const std::string& id, const CoilMachine& machine) {
  const MotorCircuit& c = machine.circuit;
  const double share = machine.phases == 3 ? 2.0 / 3 : 1.0;
  const std::size_t count = machine.coils.size();
  std::vector<std::vector<double>> l(count + 2, std::vector<double>(count + 2, 0));
  for (std::size_t i = 0; i < count; ++i) {
    const Coil& a = machine.coils[i];
    for (std::size_t j = 0; j < count; ++j) {
      const Coil& b = machine.coils[j];
      const double cosine = a.angle_re * b.angle_re + a.angle_im * b.angle_im;
      l[i][j] = share * c.magnetizing_x * cosine * a.turns * b.turns / kOmega;
      if (a.winding == b.winding) l[i][j] += a.leakage * a.turns * b.turns / kOmega;
    }
    l[i][count] = l[count][i] = share * c.magnetizing_x * a.turns * a.angle_re / kOmega;
    l[i][count + 1] = l[count + 1][i] = share * c.magnetizing_x * a.turns * a.angle_im / kOmega;
  }
  for (std::size_t axis = count; axis < count + 2; ++axis)
    l[axis][axis] = share * (c.magnetizing_x + c.rotor_x) / kOmega;

  const auto coil = [&](std::size_t i) { return id + "_" + std::to_string(i); };
  // Each coil: current sensor, resistance, inductance.
  for (std::size_t i = 0; i < count; ++i) {
    const Coil& winding = machine.coils[i];
    const std::string me = coil(i);
    const std::string from = winding.shorted ? "0" : name(winding.a),
                      to = winding.shorted ? "0" : name(winding.b);
    lines.push_back("v" + me + " " + from + " a" + me + " dc 0");
    lines.push_back("r" + me + " a" + me + " b" + me + " " + text(winding.ohm));
    lines.push_back("l" + me + " b" + me + " " + to + " " + text(l[i][i]));
  }
  const double speed = (1 - machine.slip) * kOmega;
  for (std::size_t axis = 0; axis < 2; ++axis) {
    const std::string me = coil(count + axis);
    const std::size_t other = count + 1 - axis;
    lines.push_back("l" + me + " 0 a" + me + " " + text(l[count + axis][count + axis]));
    lines.push_back("v" + me + " a" + me + " b" + me + " dc 0");
    lines.push_back("r" + me + " b" + me + " s" + me + "_0 " + text(share * c.rotor_ohm));
    // 0 = R i + d(flux)/dt + speed * other flux on the first axis, minus on the second.
    int link = 0;
    for (std::size_t i = 0; i < count + 2; ++i) {
      if (l[other][i] == 0) continue;
      const std::string next = "s" + me + "_" + std::to_string(link + 1);
      lines.push_back("h" + me + "_" + std::to_string(i) + " s" + me + "_" + std::to_string(link) +
                      " " + next + " v" + coil(i) + " " +
                      text((axis == 0 ? speed : -speed) * l[other][i]));
      ++link;
    }
    lines.push_back("v" + me + "_end s" + me + "_" + std::to_string(link) + " 0 dc 0");
  }
  for (std::size_t i = 0; i < count + 2; ++i)
    for (std::size_t j = 0; j < i; ++j) {
      const double k = l[i][j] / std::sqrt(l[i][i] * l[j][j]);
      if (k > 1e-12 || k < -1e-12)
        lines.push_back("k" + coil(i) + "_" + std::to_string(j) + " l" + coil(i) + " l" + coil(j) +
                        " " + text(std::min(1.0, std::max(-1.0, k))));
    }
}

// A winding with its faults: the turns left between its ends, the others shorted.
void add_winding(CoilMachine& machine, Coil coil, const WindingFault& fault) {
  Coil loop = coil;
  coil.turns *= fault.turns_left;
  coil.ohm = coil.ohm * fault.turns_left + fault.series_ohm;
  machine.coils.push_back(coil);
  if (fault.turns_left >= 1) return;
  loop.turns *= 1 - fault.turns_left;
  loop.ohm *= 1 - fault.turns_left;
  loop.shorted = true;
  machine.coils.push_back(loop);
}

void add_transformer(Lines& lines, const std::string& id, const TransformerPlace& place) {
  const TransformerCircuit& circuit = place.circuit;
  // Coils on the core: windings, their shorted turns, and core loss as 100 turns with a resistor.
  std::vector<double> inductance, turns;
  const auto coil = [&](const std::string& from, const std::string& to, double n, double leakage,
                        double ohm) {
    const std::string me = id + "_" + std::to_string(turns.size());
    turns.push_back(n);
    inductance.push_back((leakage + n * n * circuit.core_x_per_turn2) / kOmega);
    lines.push_back("rw" + me + " " + from + " w" + me + " " + text(ohm));
    lines.push_back("lw" + me + " w" + me + " " + to + " " + text(inductance.back()));
  };
  for (std::size_t w = 0; w < circuit.windings.size(); ++w) {
    const TransformerWinding& winding = circuit.windings[w];
    const double left = winding.turns_left, gone = 1 - left;
    coil(name(place.ends[w].first), name(place.ends[w].second), winding.turns * left,
         winding.leakage_x * left * left, winding.ohm * left + winding.series_ohm);
    if (gone > 0)
      coil("0", "0", winding.turns * gone, winding.leakage_x * gone * gone, winding.ohm * gone);
  }
  if (circuit.core_ohm_per_turn2 > 0) coil("0", "0", 100, 0, 1e4 * circuit.core_ohm_per_turn2);
  for (std::size_t i = 0; i < turns.size(); ++i)
    for (std::size_t j = 0; j < i; ++j) {
      const double mutual = turns[i] * turns[j] * circuit.core_x_per_turn2 / kOmega;
      lines.push_back("k" + id + "_" + std::to_string(i) + "_" + std::to_string(j) + " lw" + id +
                      "_" + std::to_string(i) + " lw" + id + "_" + std::to_string(j) + " " +
                      text(mutual / std::sqrt(inductance[i] * inductance[j])));
    }
}

}  // namespace

std::string resistor_name(int branch) { return "rb" + std::to_string(branch); }

CoilMachine coils_of(const Stamp& stamp, const ThreePhaseMotor& motor, double slip, NodeId star) {
  CoilMachine machine{.coils = {}, .circuit = motor.circuit, .phases = 3, .slip = slip};
  const double sine[3] = {0, kRoot3 / 2, -kRoot3 / 2};  // phase two lies 120 degrees on
  for (int i = 0; i < 3; ++i)
    add_winding(machine,
                {.a = stamp.nodes[i],
                 .b = star,
                 .winding = i,
                 .angle_re = i == 0 ? 1 : -0.5,
                 .angle_im = sine[i],
                 .turns = 1,
                 .ohm = motor.circuit.stator_ohm,
                 .leakage = motor.circuit.stator_x},
                motor.winding[i]);
  return machine;
}

CoilMachine coils_of(const Stamp& stamp, const SinglePhaseMotor& motor, double slip) {
  CoilMachine machine{.coils = {}, .circuit = motor.main, .phases = 2, .slip = slip};
  add_winding(machine,
              {.a = stamp.nodes[0],
               .b = stamp.nodes[1],
               .winding = 0,
               .angle_re = 1,
               .angle_im = 0,
               .turns = 1,
               .ohm = motor.main.stator_ohm,
               .leakage = motor.main.stator_x},
              motor.winding[0]);
  // The field turns from the start winding's axis to main's.
  const double a = motor.turns_ratio;
  add_winding(machine,
              {.a = stamp.nodes[0],
               .b = stamp.nodes[2],
               .winding = 1,
               .angle_re = 0,
               .angle_im = -1,
               .turns = a,
               .ohm = motor.start_ohm,
               .leakage = motor.start_x / (a * a)},
              motor.winding[1]);
  return machine;
}

CoilMachine coils_of(const Stamp& stamp, const ShadedPoleMotor& motor, double slip) {
  CoilMachine machine{.coils = {}, .circuit = motor.main, .phases = 2, .slip = slip};
  add_winding(machine,
              {.a = stamp.nodes[0],
               .b = stamp.nodes[1],
               .winding = 0,
               .angle_re = 1,
               .angle_im = 0,
               .turns = 1,
               .ohm = motor.main.stator_ohm,
               .leakage = motor.main.stator_x},
              motor.winding);
  constexpr double kRoot2Half = 0.70710678118654757;
  if (motor.ring_ohm > 0)
    machine.coils.push_back({.a = kEarth,
                             .b = kEarth,
                             .shorted = true,
                             .winding = 1,
                             .angle_re = kRoot2Half,
                             .angle_im = -kRoot2Half,
                             .turns = motor.ring_turns,
                             .ohm = motor.ring_ohm,
                             .leakage = motor.main.stator_x});
  return machine;
}

std::vector<std::string> netlist(const Sample& sample) {
  const Network& network = sample.network;
  int star = network.node_count;  // star points are nodes here, without a leak
  std::vector<CoilMachine> machines;
  for (const MotorPlace& place : sample.motors)
    machines.push_back(
        coils_of(network.stamps[place.stamp], place.motor, place.slip, NodeId{star++}));
  for (const SinglePhasePlace& place : sample.single_phase_motors)
    machines.push_back(coils_of(network.stamps[place.stamp], place.motor, place.slip));
  return netlist(network, machines, sample.transformers);
}

std::vector<std::string> netlist(const Network& network, const std::vector<CoilMachine>& machines,
                                 const std::vector<TransformerPlace>& transformers) {
  Lines lines{"* made from a network"};
  for (int i = 0; i < network.node_count; ++i)
    lines.push_back("rleak" + std::to_string(i) + " n" + std::to_string(i) + " 0 " +
                    text(1 / network.leak));
  for (std::size_t b = 0; b < network.branches.size(); ++b)
    add_branch(lines, "b" + std::to_string(b), name(network.branches[b].a),
               name(network.branches[b].b), network.branches[b].y);
  for (std::size_t s = 0; s < network.sources.size(); ++s) {
    const EmfSource& source = network.sources[s];
    const std::string id = "s" + std::to_string(s);
    const double angle = std::atan2(source.emf.im, source.emf.re) * 57.295779513082323;
    lines.push_back("v" + id + " emf" + id + " " + name(source.from) + " dc 0 ac " +
                    text(abs(source.emf)) + " " + text(angle));
    add_branch(lines, id, "emf" + id, name(source.to), source.y);
  }
  for (std::size_t m = 0; m < machines.size(); ++m)
    add_machine(lines, "m" + std::to_string(m), machines[m]);
  for (std::size_t t = 0; t < transformers.size(); ++t)
    add_transformer(lines, "x" + std::to_string(t), transformers[t]);
  lines.push_back(".options noopac");
  lines.push_back(".end");
  return lines;
}

namespace {
int ignore_text(char*, int, void*) { return 0; }
int ignore_exit(int, NG_BOOL, NG_BOOL, int, void*) { return 0; }
int ignore_data(pvecvaluesall, int, int, void*) { return 0; }
int ignore_start(pvecinfoall, int, void*) { return 0; }
int ignore_thread(NG_BOOL, int, void*) { return 0; }
}  // namespace

NgSpice::NgSpice() {
  // Once for the process: a second call crashes it.
  static const int ready = ngSpice_Init(ignore_text, ignore_text, ignore_exit, ignore_data,
                                        ignore_start, ignore_thread, nullptr);
  if (ready != 0) throw std::runtime_error("ngspice does not start");
}

void NgSpice::load(const std::vector<std::string>& lines) {
  std::vector<std::string> copies = lines;
  std::vector<char*> pointers;
  for (std::string& line : copies) pointers.push_back(line.data());
  pointers.push_back(nullptr);
  if (ngSpice_Circ(pointers.data()) != 0) throw std::runtime_error("ngspice refuses the netlist");
}

void NgSpice::command(const std::string& line) {
  std::string copy = line;
  if (ngSpice_Command(copy.data()) != 0) throw std::runtime_error("ngspice refuses: " + line);
}

Phasor NgSpice::volts(NodeId node) const {
  std::string vector = name(node);
  const vector_info* info = ngGet_Vec_Info(vector.data());
  if (!info || info->v_length < 1 || !info->v_compdata)
    throw std::runtime_error("ngspice has no vector " + vector);
  return {info->v_compdata[0].cx_real, info->v_compdata[0].cx_imag};
}

Volts NgSpice::all_volts(int node_count) const {
  Volts volts;
  for (int i = 0; i < node_count; ++i) volts.push_back(this->volts(NodeId{i}));
  return volts;
}

void NgSpice::forget() {
  command("destroy all");
  command("remcirc");
}

}  // namespace legwork::circuit::support
