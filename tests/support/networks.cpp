#include "tests/support/networks.h"

namespace legwork::circuit::support {

MotorCircuit compressor_circuit() {
  return motor_from_plate(ThreePhasePlate{.volts = 208,
                                          .full_load_a = 12.5,
                                          .locked_rotor_a = 85,
                                          .line_to_line_ohm = 1.4,
                                          .power_factor = 0.86});
}

TransformerCircuit control_transformer() {
  TransformerCircuit circuit;
  circuit.windings = {{.turns = 208, .ohm = 28, .leakage_x = 10, .group = 0},
                      {.turns = 32, .ohm = 4, .leakage_x = 1.5, .group = 0},
                      {.turns = 24.6, .ohm = 0.35, .leakage_x = 0.12, .group = 1}};
  circuit.core_x_per_turn2 = 0.05;
  circuit.core_ohm_per_turn2 = 0.15;
  return circuit;
}

namespace {

// A run of `length` contacts and wires in turn.
NodeId rung(Sample& unit, NodeId from, int length, bool closed = true) {
  for (int i = 0; i < length; ++i) from = i % 2 ? unit.wire(from) : unit.through(from, closed);
  return from;
}

void fan(Sample& unit, NodeId a, NodeId b) {
  const NodeId c = unit.wire(a), r = unit.wire(b), s = unit.node();
  unit.load(c, r, 60, 90, 18);
  unit.load(c, s, 90, 130, 40);
  unit.capacitor(r, s, 7.5e-6);
}

}  // namespace

Sample made_up_unit() {
  Sample unit;
  const double volts = 204.8 / kRoot3;
  const Phasor emf[3] = {{volts, 0}, volts * kTurn240, volts * kTurn120};
  NodeId strip[3], pole[3], lead[3];
  for (int leg = 0; leg < 3; ++leg) {
    NodeId at = unit.node();
    unit.source(at, emf[leg], 0.03);
    at = unit.wire(unit.through(unit.wire(at), true));                // breaker
    at = unit.wire(unit.through(at, true));                           // disconnect
    strip[leg] = unit.wire(unit.through(at, true));                   // fuse
    pole[leg] = unit.through(unit.wire(strip[leg]), true);            // contactor
    lead[leg] = unit.wire(unit.through(unit.wire(pole[leg]), true));  // overload
  }
  unit.motor(lead[0], lead[1], lead[2], compressor_circuit(), 0.03);
  fan(unit, pole[0], pole[2]);
  fan(unit, pole[0], pole[2]);
  const NodeId warm = unit.through(unit.wire(strip[0]), false);  // crankcase heater
  unit.resistor(warm, strip[1], 865);

  // Control rung on line voltage.
  NodeId a = rung(unit, unit.through(unit.wire(strip[0]), true), 4);
  NodeId b = rung(unit, unit.through(unit.wire(strip[2]), true), 5);
  unit.coil(a, b, 208, 22);

  // Box: clock, contacts, heaters, fans at the end of a conduit.
  const NodeId one = unit.through(unit.wire(strip[0]), true);
  const NodeId neutral = unit.through(unit.wire(strip[2]), true);
  unit.load(one, neutral, 6000, 5500, 1800);
  const NodeId four = unit.through(one, true), three = unit.through(one, false);
  const NodeId far_one = unit.wire(one, 0.158), far_four = unit.wire(four, 0.158);
  const NodeId far_three = unit.wire(three, 0.158), far_neutral = unit.wire(neutral, 0.158);
  const NodeId spare_near = unit.node(), spare_far = unit.wire(spare_near, 0.158);
  const NodeId conduit[5] = {far_one, far_four, spare_far, far_three, far_neutral};
  for (int i = 0; i < 4; ++i) unit.capacitor(conduit[i], conduit[i + 1], 1.5e-9);
  NodeId valve = rung(unit, far_four, 3);
  unit.coil(valve, far_neutral, 208, 14);
  NodeId joint = unit.node();
  for (int i = 0; i < 2; ++i) unit.load(unit.wire(far_four), joint, 110, 200, 50);
  unit.contact(joint, unit.wire(far_neutral), true);
  NodeId heat = rung(unit, far_three, 2);
  for (int i = 0; i < 3; ++i) unit.resistor(unit.wire(heat), far_neutral, 43.3);
  unit.resistor(far_one, far_neutral, 721);

  // Blower on a contactor of its own.
  NodeId blower[3];
  for (int leg = 0; leg < 3; ++leg)
    blower[leg] = unit.wire(unit.through(unit.wire(strip[leg]), true));
  unit.motor(blower[0], blower[1], blower[2],
             motor_from_plate(ThreePhasePlate{
                 .volts = 208, .full_load_a = 5, .locked_rotor_a = 32, .line_to_line_ohm = 4.4}),
             0.025);

  // 24 V side.
  const NodeId h1 = rung(unit, strip[0], 2), h2 = rung(unit, strip[1], 2), h3 = unit.node();
  const NodeId x1 = unit.node(), x2 = unit.node();
  unit.transformer(control_transformer(), {{h1, h2}, {h2, h3}, {x1, x2}});
  const NodeId hot = unit.wire(unit.through(x1, true)), common = unit.wire(x2);
  unit.resistor(common, kEarth, 0.05);
  NodeId call = rung(unit, hot, 3);
  unit.coil(call, common, 24, 7);
  NodeId safe = call;
  safe = rung(unit, safe, 8);
  unit.coil(safe, common, 24, 7);
  unit.load(call, safe, 700, 1400, 400);  // lockout relay across the string
  unit.coil(rung(unit, hot, 5, false), common, 24, 7);
  unit.coil(rung(unit, hot, 2), common, 24, 10);

  // Second stage of fans behind a pressure control, and a solenoid with a bleed resistor.
  const NodeId stage = rung(unit, unit.wire(strip[1]), 3);
  fan(unit, stage, strip[2]);
  const NodeId fan_a = unit.wire(stage), fan_b = unit.wire(strip[2]);
  fan(unit, fan_a, fan_b);
  const NodeId drain = rung(unit, far_one, 4, false);
  unit.coil(drain, far_neutral, 208, 20);
  unit.resistor(drain, far_neutral, 15000);

  for (int i = 0; unit.network.node_count > i && i < 141; ++i)
    if (i % 7 < 4) unit.terminals.push_back(NodeId{i});
  unit.terminals.resize(80, NodeId{0});
  return unit;
}

Sample random_sample(Random& random) {
  Sample unit;
  const double volts = random.between_reals(110, 290);
  std::vector<NodeId> ends{kEarth};
  NodeId leg[3];
  for (int i = 0; i < 3; ++i) {
    leg[i] = unit.node();
    unit.source(leg[i],
                volts * (i == 0   ? Phasor{1, 0}
                         : i == 1 ? kTurn240
                                  : kTurn120),
                random.between_reals(0.01, 0.1));
    ends.push_back(unit.wire(unit.through(leg[i], random.chance(0.9))));
  }
  const auto any = [&] { return ends[random.below(ends.size())]; };
  const auto other = [&](NodeId not_this) {
    NodeId end = any();
    while (end == not_this) end = any();
    return end;
  };
  const int rungs = static_cast<int>(random.between(2, 9));
  for (int r = 0; r < rungs; ++r) {
    NodeId at = random.chance(0.15) ? unit.node() : other(kEarth);
    const int length = static_cast<int>(random.between(0, 5));
    for (int i = 0; i < length; ++i) {
      at = random.chance(0.5) ? unit.through(at, random.chance(0.6))
                              : unit.wire(at, random.between_reals(1e-3, 0.2));
      if (random.chance(0.3)) ends.push_back(at);
    }
    const NodeId back = random.chance(0.1) ? unit.node() : other(at);
    switch (random.below(6)) {
      case 0:
        unit.resistor(at, back, random.between_reals(5, 2000));
        break;
      case 1:
        unit.coil(at, back, volts, random.between_reals(5, 200));
        break;
      case 2:
        unit.capacitor(at, back, random.between_reals(1e-10, 50e-6));
        break;
      case 3:
        fan(unit, at, back);
        break;
      default: {
        const double ohm = random.between_reals(1, 500), x = random.between_reals(1, 500);
        unit.load(at, back, ohm, x, 40);
      }
    }
    ends.push_back(at);
  }
  const int motors = static_cast<int>(random.below(3));
  for (int m = 0; m < motors; ++m) {
    NodeId t[3];
    for (int i = 0; i < 3; ++i) t[i] = unit.wire(unit.through(leg[i], random.chance(0.7)));
    unit.motor(t[0], t[1], t[2], compressor_circuit(),
               random.chance(0.3) ? 1.0 : random.between_reals(0.005, 0.3));
  }
  if (random.chance(0.4)) {  // single-phase motor with its run capacitor
    const SinglePhaseMotor motor = motor_from_plate(SinglePhasePlate{
        .volts = 230, .full_load_a = 14, .locked_rotor_a = 70, .run_ohm = 0.9, .start_ohm = 3.2});
    const NodeId c = unit.through(leg[0], random.chance(0.8)), r = unit.wire(leg[2]);
    const NodeId s = unit.node();
    unit.capacitor(r, s, 35e-6);
    unit.network.stamps.push_back(single_phase_stamp(c, r, s));
    const double slip = random.between_reals(0.01, 1);
    fill(unit.network.stamps.back(), motor, slip);
    unit.single_phase_motors.push_back(
        {static_cast<int>(unit.network.stamps.size()) - 1, motor, slip});
  }
  if (random.chance(0.6)) {
    const NodeId h1 = unit.through(leg[0], random.chance(0.8)), h2 = unit.wire(leg[1]);
    const NodeId h3 = unit.node(), x1 = unit.node();
    const NodeId x2 = random.chance(0.2) ? kEarth : unit.node();
    unit.transformer(control_transformer(), {{h1, h2}, {h2, h3}, {x1, x2}});
    const NodeId a = unit.through(x1, random.chance(0.8)), b = unit.wire(a);
    unit.coil(b, x2, 24, 10);
    const NodeId c = unit.through(b, random.chance(0.5)), d = unit.wire(x2);
    unit.coil(c, d, 24, 7);
    if (x2 != kEarth && random.chance(0.5)) unit.resistor(x2, kEarth, 0.05);
  }
  for (int i = 0; i < unit.network.node_count; ++i) unit.terminals.push_back(NodeId{i});
  return unit;
}

}  // namespace legwork::circuit::support
