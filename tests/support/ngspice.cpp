#include "tests/support/ngspice.h"

#include <ngspice/sharedspice.h>

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

// Rotor of a two-axis machine: coils lra, lrb with resistance; in series the speed voltage
// +-omega_r (L_r i_r + sum of M i_stator) of the other axis. `stator` holds (current sensing
// source, mutual inductance) per axis.
void add_rotor(Lines& lines, const std::string& id, const MotorCircuit& c, double slip,
               const std::pair<std::string, double> (&stator)[2]) {
  const double speed = (1 - slip) * kOmega;
  const double l = (c.magnetizing_x + c.rotor_x) / kOmega;
  for (int axis = 0; axis < 2; ++axis) {
    const std::string me = id + "_" + std::to_string(axis),
                      other = id + "_" + std::to_string(1 - axis);
    const double sign =
        axis == 0 ? speed : -speed;  // 0 = R i + dL/dt + speed * L_beta, - speed * L_alpha
    lines.push_back("lr" + me + " 0 ra" + me + " " + text(l));
    lines.push_back("vr" + me + " ra" + me + " rb" + me + " dc 0");
    lines.push_back("rr" + me + " rb" + me + " rc" + me + " " + text(c.rotor_ohm));
    lines.push_back("hr" + me + " rc" + me + " rd" + me + " vr" + other + " " + text(sign * l));
    lines.push_back("hs" + me + " rd" + me + " 0 " + stator[1 - axis].first + " " +
                    text(sign * stator[1 - axis].second));
  }
}

void add_three_phase(Lines& lines, const std::string& id, const Stamp& stamp,
                     const MotorPlace& place) {
  const MotorCircuit& c = place.motor.circuit;
  const std::string t[3] = {name(stamp.nodes[0]), name(stamp.nodes[1]), name(stamp.nodes[2])};
  const double l = (c.magnetizing_x + c.stator_x) / kOmega, m = c.magnetizing_x / kOmega;
  const double lr = (c.magnetizing_x + c.rotor_x) / kOmega;
  // Phase voltages to the two axes: alpha = (2a - b - c)/3, beta = (b - c)/sqrt 3; currents back.
  const double alpha[3] = {2.0 / 3, -1.0 / 3, -1.0 / 3}, beta[3] = {0, 1 / kRoot3, -1 / kRoot3};
  const double back_alpha[3] = {1, -0.5, -0.5}, back_beta[3] = {0, kRoot3 / 2, -kRoot3 / 2};
  for (int axis = 0; axis < 2; ++axis) {
    const std::string me = id + "_" + std::to_string(axis);
    std::string from = "0";
    for (int i = 0; i < 3; ++i) {
      const double part = axis == 0 ? alpha[i] : beta[i];
      if (part == 0) continue;
      const std::string to = "e" + me + std::to_string(i);
      lines.push_back("e" + me + std::to_string(i) + " " + to + " " + from + " " + t[i] + " 0 " +
                      text(part));
      from = to;
    }
    lines.push_back("vs" + me + " " + from + " sa" + me + " dc 0");
    lines.push_back("rs" + me + " sa" + me + " sb" + me + " " + text(c.stator_ohm));
    lines.push_back("ls" + me + " sb" + me + " 0 " + text(l));
    for (int i = 0; i < 3; ++i) {
      const double part = axis == 0 ? back_alpha[i] : back_beta[i];
      if (part != 0)
        lines.push_back("f" + me + std::to_string(i) + " " + t[i] + " 0 vs" + me + " " +
                        text(part));
    }
  }
  add_rotor(lines, id, c, place.slip, {{"vs" + id + "_0", m}, {"vs" + id + "_1", m}});
  for (int axis = 0; axis < 2; ++axis) {
    const std::string me = id + "_" + std::to_string(axis);
    lines.push_back("k" + me + " ls" + me + " lr" + me + " " + text(m / std::sqrt(l * lr)));
  }
}

void add_single_phase(Lines& lines, const std::string& id, const Stamp& stamp,
                      const SinglePhasePlace& place) {
  const SinglePhaseMotor& motor = place.motor;
  const MotorCircuit& c = motor.main;
  const double a = motor.turns_ratio;
  const std::string terminal[3] = {name(stamp.nodes[0]), name(stamp.nodes[1]),
                                   name(stamp.nodes[2])};
  const double m[2] = {c.magnetizing_x / kOmega, a * c.magnetizing_x / kOmega};
  const double l[2] = {(c.magnetizing_x + c.stator_x) / kOmega,
                       (a * a * c.magnetizing_x + motor.start_x) / kOmega};
  const double ohm[2] = {c.stator_ohm, motor.start_ohm};
  const double lr = (c.magnetizing_x + c.rotor_x) / kOmega;
  // The field turns from the start winding's axis to main's: start lies on minus beta.
  const double sign[2] = {1, -1};
  for (int axis = 0; axis < 2; ++axis) {
    const std::string me = id + "_" + std::to_string(axis);
    lines.push_back("vs" + me + " " + terminal[0] + " sa" + me + " dc 0");
    lines.push_back("rs" + me + " sa" + me + " sb" + me + " " + text(ohm[axis]));
    lines.push_back("ls" + me + " sb" + me + " " + terminal[axis + 1] + " " + text(l[axis]));
  }
  add_rotor(lines, id, c, place.slip, {{"vs" + id + "_0", m[0]}, {"vs" + id + "_1", -m[1]}});
  for (int axis = 0; axis < 2; ++axis) {
    const std::string me = id + "_" + std::to_string(axis);
    lines.push_back("k" + me + " ls" + me + " lr" + me + " " +
                    text(sign[axis] * m[axis] / std::sqrt(l[axis] * lr)));
  }
}

void add_transformer(Lines& lines, const std::string& id, const TransformerPlace& place) {
  const TransformerCircuit& circuit = place.circuit;
  std::vector<double> inductance, turns;
  for (std::size_t w = 0; w < circuit.windings.size(); ++w) {
    const TransformerWinding& winding = circuit.windings[w];
    const std::string me = id + "_" + std::to_string(w);
    turns.push_back(winding.turns);
    inductance.push_back(
        (winding.leakage_x + winding.turns * winding.turns * circuit.core_x_per_turn2) / kOmega);
    lines.push_back("rw" + me + " " + name(place.ends[w].first) + " w" + me + " " +
                    text(winding.ohm));
    lines.push_back("lw" + me + " w" + me + " " + name(place.ends[w].second) + " " +
                    text(inductance.back()));
  }
  if (circuit.core_ohm_per_turn2 > 0) {  // core loss: a winding of 100 turns with a resistor
    const std::string me = id + "_" + std::to_string(turns.size());
    turns.push_back(100);
    inductance.push_back(1e4 * circuit.core_x_per_turn2 / kOmega);
    lines.push_back("rw" + me + " w" + me + " 0 " + text(1e4 * circuit.core_ohm_per_turn2));
    lines.push_back("lw" + me + " w" + me + " 0 " + text(inductance.back()));
  }
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

std::vector<std::string> netlist(const Sample& sample) {
  const Network& network = sample.network;
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
    const double size = abs(source.emf);
    const double angle = std::atan2(source.emf.im, source.emf.re) * 57.295779513082323;
    lines.push_back("v" + id + " emf" + id + " " + name(source.from) + " dc 0 ac " + text(size) +
                    " " + text(angle));
    add_branch(lines, id, "emf" + id, name(source.to), source.y);
  }
  for (const MotorPlace& place : sample.motors)
    add_three_phase(lines, "m" + std::to_string(place.stamp), network.stamps[place.stamp], place);
  for (const SinglePhasePlace& place : sample.single_phase_motors)
    add_single_phase(lines, "p" + std::to_string(place.stamp), network.stamps[place.stamp], place);
  for (const TransformerPlace& place : sample.transformers)
    add_transformer(lines, "x" + std::to_string(place.stamp), place);
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
