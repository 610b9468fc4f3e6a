// Longer than other sources: most of it is the text of a unit file.
#include "engine/commission/new_unit.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <utility>

#include "engine/base/parse_quantity.h"
#include "engine/base/suggest.h"
#include "engine/base/text_file.h"
#include "engine/commission/size.h"
#include "engine/plant/plant.h"

namespace legwork::commission {
namespace {

struct SupplyRow {
  std::string_view words, written;
  double motor_v = 0;  // for which the motors are made
  double line_v = 0;   // between the legs
  bool three = true;
};
constexpr std::array kSupplies = {
    SupplyRow{"208 V three-phase", "kind: wye, nominal: 208 V", 208, 208, true},
    SupplyRow{"230 V three-phase", "kind: delta, nominal: 240 V, earthed: no", 230, 240, true},
    SupplyRow{"460 V three-phase", "kind: wye, nominal: 480 V", 460, 480, true},
    SupplyRow{"575 V three-phase", "kind: wye, nominal: 600 V", 575, 600, true},
    SupplyRow{"208 V single-phase", "kind: split phase, nominal: 208 V", 208, 208, false},
    SupplyRow{"230 V single-phase", "kind: split phase, nominal: 230 V", 230, 230, false},
};

double rounded(double value, double step) { return std::ceil(value / step - 1e-9) * step; }

// Two or three figures that mean something.
std::string figure(double value) {
  if (value <= 0) return "0";
  const double step = std::pow(10.0, std::floor(std::log10(value)) - 2);
  std::string text = fmt::format("{:.6f}", std::round(value / step) * step);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}
std::string trade(double si, Dimension dimension) {
  return fmt::format("{} {}", figure(display_value(si, dimension)), display_unit(dimension));
}
std::string psig(double pa, double step) {
  return fmt::format("{:.0f} psig", std::round(psig_from_pascals(pa) / step) * step);
}
std::string fahrenheit(double k) { return fmt::format("{:.0f} °F", fahrenheit_from_kelvin(k)); }

// Standard ratings: NEC 240.6(A), from memory.
double next_fuse(double amps) {
  constexpr double kRatings[] = {1,  3,  5,  6,   10,  15,  20,  25,  30,  35,  40,  45,  50,  60,
                                 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350, 400};
  for (const double rating : kRatings) {
    if (rating >= amps) return rating;
  }
  return rounded(amps, 100);
}

std::string_view wire_for(double amps) {
  struct Row {
    double amps;
    std::string_view size;
  };
  constexpr Row kRows[] = {{15, "14 AWG"}, {20, "12 AWG"}, {30, "10 AWG"}, {40, "8 AWG"},
                           {55, "6 AWG"},  {70, "4 AWG"},  {95, "2 AWG"},  {125, "1/0 AWG"}};
  for (const Row& row : kRows) {
    if (amps <= row.amps) return row.size;
  }
  return "4/0 AWG";
}

struct Figures {
  Duty duty;
  Sized sized;
  SupplyRow supply;
  int boxes = 1;  // each takes an equal share of the capacity
  double full_load_a = 0, fan_a = 0, box_fan_a = 0, heater_a = 0;
};

// Names of the parts of box `i`, from 1: "TC", or of several "TC2".
std::string of_box(const Figures& f, std::string_view name, int i) {
  return f.boxes == 1 ? std::string(name) : fmt::format("{}{}", name, i);
}
// Two in each box, counted through.
std::string pair_of_box(std::string_view name, int i, int k) {
  return fmt::format("{}{}", name, 2 * (i - 1) + k);
}
// "box.2.air"
std::string quantity_of_box(std::string_view name, int i) {
  return plant::numbered(name, static_cast<std::size_t>(i - 1));
}

Figures figures_of(const Duty& duty, const SupplyRow& supply, int boxes) {
  Figures f{duty, size_machine(duty), supply, boxes, 0, 0, 0, 0};
  const double phase = supply.three ? std::sqrt(3.0) : 1.0;
  // On the warmest day the compressor takes a third more than at its design point.
  f.full_load_a =
      std::max(0.5, rounded(1.3 * f.sized.shaft_w / 0.85 / (phase * supply.motor_v * 0.84), 0.5));
  f.fan_a = std::max(0.3, rounded(0.035 * f.sized.rejected_w / supply.motor_v, 0.1));
  f.box_fan_a = std::max(0.3, rounded(0.020 * duty.capacity_w / boxes / 120, 0.1));
  f.heater_a = f.sized.heaters_w / boxes / supply.line_v;
  return f;
}

// VA: coils, clock, valve and fans of each box.
double control_va_of(const Figures& f) {
  return rounded(100 + f.boxes * (100 + 2.6 * 120 * f.box_fan_a), 50);
}

double main_amps_of(const Figures& f) {
  return next_fuse(1.75 * f.full_load_a + 2 * f.fan_a + f.boxes * f.heater_a * 0.6);
}

// The clock of a box, and what feeds its heaters: in the panel of the condensing unit.
std::string clock_text(const Figures& f, int i) {
  constexpr std::string_view kStarts[] = {"4 h, 10 h, 16 h, 22 h", "5 h, 11 h, 17 h, 23 h",
                                          "3 h, 9 h, 15 h, 21 h", "2 h, 8 h, 14 h, 20 h"};
  std::string out;
  const int row = i == 1 ? 2 : 3 + i, first = i == 1 ? 4 : 1;
  const auto add = [&out](const std::string& line) { out += "  " + line + "\n"; };
  const std::string_view starts = kStarts[i - 1];
  if (f.duty.freezer()) {
    if (i == 1) add("# 1-N motor, 2-4 closed in cooling, 2-3 in defrost, release between 3 and X.");
    add(
        fmt::format("{}: {{kind: defrost clock, volts: 120 V, starts: [{}], fail-safe: 45 min, at: "
                    "yard, panel: [{}, {}]}}",
                    of_box(f, "DCK", i), starts, first, row));
    add(fmt::format("{}: {{kind: contactor, poles: 2, coil: 120 V, at: yard, panel: [{}, {}]}}",
                    of_box(f, "DHC", i), first + 1, row));
    for (int k = 1; k <= 2; ++k)
      add(fmt::format("FU{}: {{kind: fuse, rating: {:g} A, at: yard, panel: [{}, {}]}}",
                      4 + 2 * i + k, next_fuse(1.25 * f.heater_a), first + 1 + k, row));
  } else {
    if (i == 1)
      add("# 2-4 opens for half an hour: the fans melt the frost. Nothing is on 3 and X.");
    add(
        fmt::format("{}: {{kind: defrost clock, volts: 120 V, starts: [{}], fail-safe: 30 min, at: "
                    "yard, panel: [{}, {}]}}",
                    of_box(f, "DCK", i), starts, first, row));
  }
  return out;
}

std::string box_text(const Figures& f, int i) {
  std::string out = f.boxes == 1 ? "  # ---- box\n" : fmt::format("  # ---- box {}\n", i);
  const std::string place = of_box(f, "box", i);
  const auto add = [&out](const std::string& line) { out += "  " + line + "\n"; };
  add(fmt::format("{}: {{kind: terminal strip, points: [{}], at: {}, panel: [1, 1]}}",
                  of_box(f, "BT", i), f.duty.freezer() ? "1, 2, 4, F, X" : "1, 2, 4", place));
  add(
      fmt::format("{}: {{kind: electronic temperature control, senses: {}, closes: {}, opens: {}, "
                  "supply: 120 V, at: {}, panel: [2, 1]}}",
                  of_box(f, "TC", i), quantity_of_box("box.sensed", i),
                  fahrenheit(f.duty.box_k + 1.4), fahrenheit(f.duty.box_k - 1.4), place));
  add(fmt::format("{}: {{kind: solenoid valve, volts: 120 V, coil: 16 VA, moves: {}, at: {}}}",
                  of_box(f, "LLS", i), quantity_of_box("liquid line.valve", i), place));
  if (i == 1)
    add("# More fans than two: several on one drive, each with its share, 'share: 50 %'.");
  for (int k = 1; k <= 2; ++k)
    add(fmt::format("{}: {{kind: fan motor, volts: 120 V, full load: {:.1f} A, moves: {}, at: {}}}",
                    pair_of_box("EF", i, k), f.box_fan_a,
                    quantity_of_box(k == 1 ? "evaporator.fan 1" : "evaporator.fan 2", i), place));
  if (!f.duty.freezer()) return out;
  if (i == 1)
    add("# Ends the defrost when the coil is warm, and keeps the fans off until it is cold again.");
  const std::string coil = quantity_of_box("coil.temperature", i);
  add(
      fmt::format("{}: {{kind: change-over thermostat, senses: {}, warm: 55 °F, cold: 25 °F, at: "
                  "{}, panel: [3, 1]}}",
                  of_box(f, "DTF", i), coil, place));
  add(
      fmt::format("{}: {{kind: thermostat, senses: {}, opens: 80 °F, closes: 45 °F, at: {}, panel: "
                  "[4, 1]}}",
                  of_box(f, "HSL", i), coil, place));
  for (int k = 1; k <= 2; ++k)
    add(fmt::format("{}: {{kind: heater, power: {:.0f} W, volts: {:g} V, moves: {}, at: {}}}",
                    pair_of_box("DH", i, k), rounded(f.sized.heaters_w / f.boxes / 2, 50),
                    f.supply.line_v, quantity_of_box("evaporator.defrost", i), place));
  add(fmt::format("{}: {{kind: heater, power: 40 W, volts: 120 V, moves: {}, at: {}}}",
                  of_box(f, "DLH", i), quantity_of_box("drain.heat", i), place));
  return out;
}

std::string devices_text(const Figures& f) {
  const SupplyRow& v = f.supply;
  const int lines = v.three ? 3 : 2;
  const double main_a = main_amps_of(f);
  std::string out = "devices:\n  # ---- condensing unit, behind its cover\n";
  const auto add = [&out](const std::string& line) { out += "  " + line + "\n"; };
  add(fmt::format("DISC: {{kind: disconnect, poles: {}, at: yard, panel: [1, 1]}}", lines));
  for (int i = 1; i <= lines; ++i) {
    add(fmt::format("FU{}: {{kind: fuse, rating: {:g} A, at: yard, panel: [{}, 1]}}", i, main_a,
                    i + 1));
  }
  add(fmt::format("TB: {{kind: terminal strip, points: [{}], at: yard, panel: [5, 1]}}",
                  v.three ? "L1, L2, L3" : "L1, L2"));
  add("# Control at 120 V from a transformer: coils, clock, valve and fans in the box are the same "
      "for every supply.");
  const double control_va = control_va_of(f);
  const double primary_a = next_fuse(1.25 * control_va / v.line_v);
  add(fmt::format("FU4: {{kind: fuse, rating: {:g} A, at: yard, panel: [1, 2]}}", primary_a));
  add(fmt::format("FU5: {{kind: fuse, rating: {:g} A, at: yard, panel: [2, 2]}}", primary_a));
  add(
      fmt::format("CPT: {{kind: transformer, rating: {:g} VA, primary: {:g} V, secondary: 120 V, "
                  "at: yard, panel: [6, 1]}}",
                  control_va, v.line_v));
  add(fmt::format("FU6: {{kind: fuse, rating: {:g} A, at: yard, panel: [3, 2]}}",
                  next_fuse(1.1 * control_va / 120)));
  add("X1: {kind: terminal, at: yard, panel: [1, 4]}");
  add("X2: {kind: terminal, at: yard, panel: [2, 4]}");
  add(
      fmt::format("CC: {{kind: contactor, poles: {}, coil: 120 V, inrush: 200 VA, sealed: 25 VA, "
                  "auxiliaries: NC, at: yard, panel: [1, 3]}}",
                  lines));
  if (v.three) {
    add("# Set to full load: NEC 430.32 and 440.52 say how far above it may stand.");
    add(
        fmt::format("OL: {{kind: overload, poles: 3, set: {:g} A, class: 10, reset: manual, at: "
                    "yard, panel: [2, 3]}}",
                    rounded(1.05 * f.full_load_a, 0.1)));
  } else {
    add("PR: {kind: potential relay, pick-up: 170 V, drop-out: 60 V, at: yard, panel: [2, 3]}");
    add(
        fmt::format("SC: {{kind: capacitor, capacitance: {:.0f} µF, volts: 330 V, at: yard, panel: "
                    "[3, 3]}}",
                    11.5 * f.full_load_a));
    add("RB: {kind: resistor, resistance: 15 kohm, at: yard, panel: [3, 4]}");
    add(
        fmt::format("RC: {{kind: capacitor, capacitance: {:.3g} µF, volts: 440 V, at: yard, panel: "
                    "[4, 3]}}",
                    2.5 * f.full_load_a));
  }
  const double warmest_k = f.duty.outdoor_k + 12;
  const plant::Refrigerant& r = *f.duty.refrigerant;
  add("# Opens well above what the warmest day brings.");
  add(
      fmt::format("HPC: {{kind: pressure control, senses: head, opens: {}, closes: {}, at: yard, "
                  "panel: [5, 3]}}",
                  psig(r.bubble_pa(warmest_k + 22), 5), psig(r.bubble_pa(warmest_k + 8), 5)));
  add("# Pump-down: the valve shuts, suction falls to 'opens', and the machine stops.");
  const double cut_in = r.dew_pa(f.sized.evaporating_k + 1),
               cut_out = r.dew_pa(f.sized.evaporating_k - 14);
  add(fmt::format(
      "LPC: {{kind: pressure control, senses: suction, closes: {}, opens: {}, at: yard, "
      "panel: [6, 3]}}",
      psig(cut_in, 1), psig(std::max(cut_out, pascals_from_psig(1)), 1)));
  for (int i = 1; i <= f.boxes; ++i) out += clock_text(f, i);
  out += "  # ---- condensing unit, outside\n";
  if (v.three) {
    const double locked_a = 6.2 * f.full_load_a;
    add(fmt::format(
        "CM: {{kind: three-phase motor, volts: {:g} V, full load: {:g} A, locked rotor: "
        "{:.0f} A, winding: {} ohm, drives: compressor, moves: compressor.speed, at: "
        "yard}}",
        v.motor_v, f.full_load_a, std::max(1.0, locked_a),
        figure(v.motor_v / (std::sqrt(3.0) * locked_a))));
    for (int i = 1; i <= 2; ++i)
      add(
          fmt::format("CF{}: {{kind: three-phase motor, volts: {:g} V, full load: {:.1f} A, locked "
                      "rotor: {:.1f} A, winding: {} ohm, moves: condenser.fan {}, at: yard}}",
                      i, v.motor_v, f.fan_a, 5 * f.fan_a,
                      figure(v.motor_v / (std::sqrt(3.0) * 5 * f.fan_a)), i));
  } else {
    const double locked_a = 5 * f.full_load_a;
    const double run_ohm = 0.275 * v.motor_v / locked_a;
    add(fmt::format(
        "CM: {{kind: single-phase motor, volts: {:g} V, full load: {:g} A, locked rotor: "
        "{:.0f} A, run winding: {} ohm, start winding: {} ohm, run capacitor: {:.3g} "
        "µF, drives: compressor, internal overload: yes, moves: compressor.speed, at: "
        "yard}}",
        v.motor_v, f.full_load_a, locked_a, figure(run_ohm), figure(3.5 * run_ohm),
        2.5 * f.full_load_a));
    for (int i = 1; i <= 2; ++i) {
      add(
          fmt::format("CF{}: {{kind: single-phase motor, volts: {:g} V, full load: {:.1f} A, run "
                      "capacitor: {:.1f} µF, moves: condenser.fan {}, at: yard}}",
                      i, v.motor_v, f.fan_a, 4.4 * f.fan_a, i));
      add(
          fmt::format("CAP{}: {{kind: capacitor, capacitance: {:.1f} µF, volts: 440 V, at: yard, "
                      "panel: [{}, 4]}}",
                      i, 4.4 * f.fan_a, i + 3));
    }
  }
  add("CCH: {kind: heater, power: 50 W, volts: 120 V, moves: compressor.crankcase heat, at: yard}");
  for (int i = 1; i <= f.boxes; ++i) out += box_text(f, i);
  return out;
}

std::string box_rungs_text(const Figures& f, int i) {
  std::string out;
  const bool freezer = f.duty.freezer();
  const auto name = [&](std::string_view part) { return of_box(f, part, i); };
  const std::string of = f.boxes == 1 ? "" : fmt::format(" {}", i);
  const auto heading = [&](std::string_view text) { out += fmt::format("  {}{}:\n", text, of); };
  const auto rung = [&out](const std::string& parts) { out += "    - [" + parts + "]\n"; };
  const std::string clock = name("DCK"), strip = name("BT");
  heading("clock");
  rung("X1, " + clock + ".1");
  rung(clock + ".N, X2");
  rung(clock + ".1, " + clock + ".2");
  heading(f.boxes == 1 ? "to the box" : "to box");
  rung("X1, " + strip + ".1");
  rung(clock + ".4, " + strip + ".4");
  rung("X2, " + strip + ".2");
  if (freezer) rung(clock + ".X, " + strip + ".X");
  heading("temperature control");
  rung(strip + ".1, " + name("TC") + ".L");
  rung(name("TC") + ".N, " + strip + ".2");
  rung(strip + ".4, " + name("TC") + ".out, " + name("LLS") + ", " + strip + ".2");
  heading("evaporator fans");
  const std::string fans =
      "{any: [" + pair_of_box("EF", i, 1) + ", " + pair_of_box("EF", i, 2) + "]}";
  if (!freezer) {
    rung(strip + ".1, " + fans + ", " + strip + ".2");
    return out;
  }
  rung(strip + ".4, " + fans + ", " + strip + ".F");
  rung(strip + ".F, " + name("DTF") + ".cold");
  rung(name("DTF") + ".C, " + strip + ".2");
  heading("defrost heaters");
  const std::string contactor = name("DHC");
  rung(clock + ".3, " + name("HSL") + ", " + contactor + ".coil, X2");
  rung(fmt::format("TB.L1, FU{}, {}.P1, {{any: [{}, {}]}}, {}.T2", 5 + 2 * i, contactor,
                   pair_of_box("DH", i, 1), pair_of_box("DH", i, 2), contactor));
  rung(fmt::format("TB.L2, FU{}, {}.L2", 6 + 2 * i, contactor));
  heading("termination");
  rung(strip + ".X, " + name("DTF") + ".warm");
  heading("drain heater");
  rung(strip + ".1, " + name("DLH") + ", " + strip + ".2");
  return out;
}

std::string rungs_text(const Figures& f) {
  const bool three = f.supply.three;
  std::string out = "\nrungs:\n  power:\n";
  const int lines = three ? 3 : 2;
  for (int i = 1; i <= lines; ++i)
    out += fmt::format("    - [L{0}, DISC.P{0}, FU{0}, TB.L{0}]\n", i);
  out += "  compressor:\n";
  if (three) {
    for (int i = 1; i <= 3; ++i)
      out += fmt::format("    - [TB.L{0}, CC.P{0}, OL.P{0}, CM.T{0}]\n", i);
  } else {
    out +=
        "    - [TB.L1, CC.P1, CM.C]\n    - [TB.L2, CC.P2, CM.R]\n    - [CM.R, RC, CM.S]\n"
        "    - [CM.R, SC, PR.contact, CM.S]\n    - [PR.5, CM.C]\n    - [SC.1, RB, SC.2]\n";
  }
  out += "  condenser fans:\n";
  for (int fan = 1; fan <= 2; ++fan) {
    if (three) {
      for (int i = 1; i <= 3; ++i) out += fmt::format("    - [CC.T{0}, CF{1}.T{0}]\n", i, fan);
    } else {
      out += fmt::format(
          "    - [CC.T1, CF{0}.C]\n    - [CF{0}.R, CC.T2]\n    - [CF{0}.R, CAP{0}, CF{0}.S]\n",
          fan);
    }
  }
  out +=
      "  transformer:\n    - [TB.L1, FU4, CPT.H1]\n    - [CPT.H2, FU5, TB.L2]\n"
      "    - [CPT.X1, FU6, X1]\n    - [CPT.X2, X2]\n    - [X2, GND]\n  control:\n";
  out +=
      three ? "    - [X1, HPC, LPC, CC.coil, OL.NC, X2]\n" : "    - [X1, HPC, LPC, CC.coil, X2]\n";
  out += "  crankcase heater:\n    - [X1, CC.NC, CCH, X2]\n";
  for (int i = 1; i <= f.boxes; ++i) out += box_rungs_text(f, i);
  return out;
}

std::string wires_text(const Figures& f) {
  const double main_a = main_amps_of(f);
  std::string out = "\nwires:\n  usual: {size: 14 AWG, length: 3 ft}\n  runs:\n";
  const std::string_view main = wire_for(main_a);
  out += fmt::format("    - {{from: DISC, size: {}, length: 3 ft}}\n", main);
  for (int i = 1; i <= (f.supply.three ? 3 : 2); ++i)
    out += fmt::format("    - {{from: FU{}, to: TB, size: {}, length: 1 ft}}\n", i, main);
  out += fmt::format("    - {{from: TB, to: CC, size: {}, length: 2 ft}}\n", main);
  if (f.supply.three)
    out += fmt::format("    - {{from: CC, to: OL, size: {}, length: 1 ft}}\n", main);
  out += fmt::format("    - {{from: {}, to: CM, size: {}, length: 6 ft}}\n",
                     f.supply.three ? "OL" : "CC", main);
  for (int i = 1; i <= f.boxes && f.duty.freezer(); ++i) {
    const std::string_view heat = wire_for(next_fuse(1.25 * f.heater_a));
    for (int k = 1; k <= 2; ++k)
      out += fmt::format("    - {{from: FU{}, size: {}, length: 2 ft}}\n", 4 + 2 * i + k, heat);
    for (int k = 1; k <= 2; ++k)
      out += fmt::format(
          "    - {{from: {}, to: {}, size: {}, length: 60 ft, conduit: {}, field: yes}}\n",
          of_box(f, "DHC", i), pair_of_box("DH", i, k), heat,
          f.boxes == 1 ? "heaters" : fmt::format("heaters {}", i));
  }
  const std::string_view control = wire_for(next_fuse(1.1 * control_va_of(f) / 120));
  out += "    # Run on site: checked against its fuse.\n";
  for (int i = 1; i <= f.boxes; ++i) {
    for (const std::string& from : {std::string("X1"), std::string("X2"), of_box(f, "DCK", i)})
      out += fmt::format(
          "    - {{from: {}, to: {}, size: {}, length: 60 ft, conduit: {}, field: yes}}\n", from,
          of_box(f, "BT", i), control, f.boxes == 1 ? "to the box" : fmt::format("to box {}", i));
  }
  return out;
}

// The groups of a box, each line behind `indent`. Its figures are a share of the machine's.
std::string box_plant_text(const Figures& f, std::string_view indent) {
  using D = Dimension;
  const Sized& s = f.sized;
  const double share = 1.0 / f.boxes, k = s.scale * share;
  std::string out;
  const auto add = [&](const std::string& line) { out += std::string(indent) + line + "\n"; };
  add("# half as much again as the flow at design; 'cap' is a freezer's maximum operating "
      "pressure");
  add(fmt::format("valve: {{capacity: {}, static superheat: 3 °F, range: 8 °F{}, bulb time: 12 s}}",
                  trade(s.valve_kg_s * share, D::mass_flow),
                  s.cap_pa > 0 ? fmt::format(", cap: {}", psig(s.cap_pa, 1)) : ""));
  add("# conductance = capacity / (box - evaporating)");
  add(fmt::format(
      "evaporator: {{conductance: {}, air flow: {}, fans: 2, still air: 4 %, heat capacity: {} "
      "kJ/K, volume: {} L, liquid: {} kg, frost half: {} kg, defrost share: 85 %, design "
      "evaporating: {}}}",
      trade(s.coil_w_k * share, D::thermal_conductance),
      trade(s.coil_air_w_k * share, D::thermal_conductance), figure(24 * k), figure(30 * k),
      figure(1.0 * k), figure(8 * k), fahrenheit(s.evaporating_k)));
  add("# walls, door, load: together about half of the capacity, so that it runs half of the time");
  add(fmt::format(
      "box: {{air: {} m³, structure: {} kJ/K, structure conductance: {} W/K, walls: {} W/K, door: "
      "{} ft², door height: 6.6 ft, door flow: 80 %, door usage: {} %, load: {:.0f} W, product: {} "
      "kg, product conductance: {} W/K}}",
      figure(17 * k), figure(800 * k), figure(1000 * k), figure(s.walls_w_k * share),
      figure(std::clamp(20 * k, 6.0, 60.0)), f.duty.freezer() ? "0.6" : "1.5", s.load_w * share,
      figure(700 * k), figure(500 * k)));
  add(fmt::format("drain: {{heat capacity: {} kJ/K, conductance: {} W/K, pan: {} kg, time: 60 s}}",
                  figure(3 * k), figure(1.1 * k), figure(3 * k)));
  return out;
}

std::string plant_text(const Figures& f, std::string_view refrigerant) {
  using D = Dimension;
  const Sized& s = f.sized;
  const double k = s.scale;
  std::string out =
      "\n# Sized by 'legwork new unit'; how, is under Sizing in circuits/README.md.\n";
  out += fmt::format(
      "# {} at a box of {} and {} outdoors: evaporates at {}, condenses at {}, moves {}.\n",
      trade(f.duty.capacity_w, D::power) == ""
          ? ""
          : fmt::format("{:.0f} Btu/h", f.duty.capacity_w * 3.412),
      fahrenheit(f.duty.box_k), fahrenheit(f.duty.outdoor_k), fahrenheit(s.evaporating_k),
      fahrenheit(s.condensing_k), trade(s.flow_kg_s, D::mass_flow));
  out += fmt::format("plant:\n  refrigerant: {}\n", refrigerant);
  out += fmt::format(
      "  # displacement = flow / (density of the suction gas x volumetric efficiency)\n"
      "  compressor: {{displacement: {}, volumetric intercept: 0.91, volumetric slope: 0.030, "
      "isentropic efficiency: 0.66, friction: {:.0f} W, speed: 1750 rpm, relief: 500 psi, shell "
      "heat "
      "capacity: {} kJ/K, shell loss: {} W/K, shell exchange: 20 %, oil pressure: 0 psi, oil "
      "dilution: {} kg}}\n",
      trade(s.displacement_m3_s, D::volume_flow), 0.10 * f.duty.capacity_w, figure(18 * k),
      figure(8 * k), figure(0.8 * k));
  out += fmt::format(
      "  # conductance = (capacity + shaft power) / (condensing - outdoor)\n"
      "  condenser: {{conductance: {}, air flow: {}, fans: 2, still air: 8 %, heat capacity: {} "
      "kJ/K, volume: {} L, receiver: {} L, subcooling share: 30 %}}\n",
      trade(s.condenser_w_k, D::thermal_conductance),
      trade(s.condenser_air_w_k, D::thermal_conductance), figure(9 * k), figure(3.5 * k),
      figure(6 * k));
  out +=
      fmt::format("  liquid line: {{heat capacity: {} kJ/K, conductance: {} W/K, liquid: {} kg}}\n",
                  figure(2 * k), figure(2 * k), figure(1.2 * k));
  // The lines of several boxes join outside them.
  out += fmt::format(
      "  suction line: {{heat capacity: {} kJ/K, conductance: {} W/K, {}drop: 1.5 psi}}\n",
      figure(3 * k), figure(2.5 * k), f.boxes == 1 ? "in box: 15 %, " : "");
  if (f.boxes == 1) {
    out += box_plant_text(f, "  ");
  } else {
    out +=
        "  # One suction for all of them. What a box leaves out is as in the first: write what "
        "differs.\n"
        "  boxes:\n";
    std::string first = box_plant_text(f, "      ");
    first.replace(0, 6, "    - ");
    // A comment cannot be the first of a list's item.
    const std::size_t line = first.find('\n') + 1;
    first = "      " + first.substr(6, line - 6) + "    - " + first.substr(line + 6);
    out += first;
    for (int i = 2; i <= f.boxes; ++i) out += "    - {}\n";
  }
  out +=
      fmt::format("  # line, coil, vapour, and a third of the receiver\n  charge: {{full: {}}}\n",
                  trade(s.charge_kg, D::mass));
  return out;
}

// @n: " 2" of the second of several boxes; @q: ".2"; @box: its place; @name: "Box 2: ".
constexpr std::string_view kGauges = R"yaml(
gauges: {at: yard}

probes:
)yaml";
constexpr std::string_view kBoxProbes =
    R"yaml(  box air@n: {name: @nameAir in the box, at: @box, of: box@q.air, air: yes}
  product@n: {name: @nameCore of the goods, at: @box, of: box@q.product}
  air off coil@n: {name: @nameAir leaving the evaporator, at: @box, of: box@q.air off coil, air: yes}
  coil outlet@n: {name: @nameSuction line at the evaporator outlet, at: @box, of: coil@q.outlet, shiny: yes}
  coil@n: {name: @nameFins of the evaporator, at: @box, of: coil@q.temperature, shiny: yes}
)yaml";
constexpr std::string_view kMachineProbes =
    R"yaml(  suction line: {name: Suction line at the compressor, at: yard, of: suction line, shiny: yes}
  discharge line: {name: Discharge line six inches from the compressor, at: yard, of: discharge line, shiny: yes}
  liquid line: {name: Liquid line ahead of the drier, at: yard, of: liquid line, shiny: yes}
  drier outlet: {name: Liquid line after the drier, at: yard, of: drier outlet, shiny: yes}
  shell: {name: Compressor housing, at: yard, of: shell}
  air on condenser: {name: Air entering the condenser, at: yard, of: condenser.air on, air: yes}
  air off condenser: {name: Air leaving the condenser, at: yard, of: condenser.air off, air: yes}
)yaml";
constexpr std::string_view kMachineLooks = R"yaml(
# What the senses tell besides what devices bring themselves. Write more of them: see the shipped units.
looks:
  condenser face:
    sense: look
    target: condenser
    at: yard
    of: condenser.dirt
    states:
      - words: The face of the coil is clean.
      - {from: 15 %, words: A felt of dust lies over the lower half of the coil.}
      - {from: 45 %, words: Dirt covers the face; few fins can be seen.}
  condenser lamp:
    sense: look
    needs: lamp
    target: condenser
    at: yard
    takes: 4 min
    of: condenser.plugged
    states:
      - words: Light comes through between the fins all over.
      - {from: 20 %, words: Light comes through in patches.}
      - {from: 40 %, words: No light comes through anywhere.}
  sight glass:
    sense: look
    target: sight glass
    at: yard
    of: sight glass
    states:
      - words: The glass is clear.
      - {from: 5 %, words: A string of bubbles passes now and then.}
      - {from: 30 %, words: The glass is full of foam.}
)yaml";
constexpr std::string_view kBoxLooks = R"yaml(  evaporator frost@n:
    sense: look
    target: evaporator@n
    at: @box
    of: coil@q.frost share
    states@n:
      - words: A light, even frost on the fins.
      - {from: 25 %, words: Thick white frost; the gaps are half closed.}
      - {from: 50 %, words: The coil is a block of ice.}
  evaporator dirt@n:
    sense: look
    target: evaporator fins@n
    at: @box
    of: coil@q.dirt
    states@n:
      - words: The fins are clean.
      - {from: 20 %, words: Grey matting on the air inlet side.}
  evaporator air@n:
    sense: look
    target: air path@n
    at: @box
    of: coil@q.air blocked
    states@n:
      - words: Nothing stands in front of the coil.
      - {from: 20 %, words: Cases are stacked against the coil.}
  drain ice@n:
    sense: look
    target: drain@n
    at: @box
    of: drain@q.ice
    states@n:
      - words: The pan is dry or draining.
      - {from: 0.3 kg, words: Ice stands in the pan.}
  door@n:
    sense: look
    target: door@n
    at: front
    of: box@q.door open
    states@n:
      - words: The door is shut and latched.
      - {from: 2 %, words: The door does not latch.}
      - {from: 40 %, words: The door is propped open.}
  gasket@n:
    sense: look
    target: gasket@n
    at: front
    of: box@q.gasket leak
    states@n:
      - words: The gasket lies on all round.
      - {from: 0.5 %, words: The gasket gapes at one corner.}
)yaml";

std::string of_box_text(const Figures& f, std::string_view text, int i) {
  const std::string n = f.boxes == 1 ? "" : fmt::format(" {}", i);
  const std::pair<std::string_view, std::string> blanks[] = {
      {"@name", f.boxes == 1 ? "" : fmt::format("\"Box {}: ", i)},
      {"@n", n},
      {"@q", i == 1 ? "" : fmt::format(".{}", i)},
      {"@box", of_box(f, "box", i)}};
  std::string out(text);
  for (const auto& [blank, what] : blanks) {
    for (std::size_t at = out.find(blank); at != std::string::npos; at = out.find(blank, at)) {
      out.replace(at, blank.size(), what);
      // The quotes of a name with a colon end before the comma.
      if (blank == "@name" && f.boxes > 1) out.insert(out.find(',', at), "\"");
      at += what.size();
    }
  }
  return out;
}

std::string senses_text(const Figures& f) {
  std::string out(kGauges);
  for (int i = 1; i <= f.boxes; ++i) out += of_box_text(f, kBoxProbes, i);
  out += kMachineProbes;
  out += kMachineLooks;
  for (int i = 1; i <= f.boxes; ++i) out += of_box_text(f, kBoxLooks, i);
  return out;
}

}  // namespace

Result<std::string> new_unit(const SizeWanted& wanted, const std::string& home) {
  std::optional<Failure> wrong;  // the first thing that is
  const auto refuse = [&wrong](const char* option, const Message& what) {
    if (!wrong) wrong = say("{option}: {what}", {{"option", Name{option}}, {"what", what}});
  };
  const auto quantity = [&](const char* option, const std::string& text, Dimension dimension,
                            double low, double high) {
    const Result<double> parsed = parse_quantity(text, dimension);
    if (!parsed) {
      refuse(option, parsed.failure().sentence());
    } else if (*parsed < low || *parsed > high) {
      refuse(option, say("out of range: from {low} to {high}",
                         {{"low", Name{plain_quantity(low, dimension)}},
                          {"high", Name{plain_quantity(high, dimension)}}}));
    }
    return parsed.value_or(0);
  };
  Duty duty;
  // Btu/h are what sizes are written in: a thousand to 130,000 Btu/h.
  duty.capacity_w = quantity("--size", wanted.size, Dimension::power, 290, 38e3);
  duty.box_k = quantity("--box", wanted.box, Dimension::temperature, kelvin_from_fahrenheit(-30),
                        kelvin_from_fahrenheit(60));
  duty.outdoor_k = quantity("--outdoor", wanted.outdoor, Dimension::temperature,
                            kelvin_from_fahrenheit(80), kelvin_from_fahrenheit(115));
  if (wanted.boxes < 1 || wanted.boxes > plant::kMostEvaporators) {
    refuse("--boxes",
           say("out of range: from {low} to {high}",
               {{"low", Name{"1"}}, {"high", Name{fmt::format("{}", plant::kMostEvaporators)}}}));
  }
  const SupplyRow* supply = nullptr;
  std::vector<std::string_view> supplies;
  for (const SupplyRow& row : kSupplies) {
    supplies.push_back(row.words);
    if (row.words == wanted.supply) supply = &row;
  }
  const auto unknown = [&](const char* option, const Phrase& what, const std::string& word,
                           const std::vector<std::string_view>& known) {
    refuse(option, say(what, {{"word", Name{word}}, {"words", one_of(known)}}));
  };
  if (supply == nullptr)
    unknown("--supply", phrase("unknown supply '{word}'; expected {words}"), wanted.supply,
            supplies);
  else if (!supply->three && duty.capacity_w > 9000)
    refuse("--supply", say("a single-phase machine has at most 30000 Btu/h"));
  const std::string name = !wanted.refrigerant.empty() ? wanted.refrigerant
                           : duty.freezer()            ? "R-404A"
                                                       : "R-448A";
  const std::vector<std::string_view> names = plant::refrigerant_names();
  if (std::find(names.begin(), names.end(), name) == names.end())
    unknown("--refrigerant", phrase("unknown refrigerant '{word}'; expected {words}"), name, names);
  if (wrong) return *wrong;
  const std::string folder = home + "/assets/refrigerants/";
  const Result<std::string> table = read_text_file(folder + plant::table_file_name(name));
  if (!table) return table.failure();
  const Result<std::string> correlations = read_text_file(folder + "correlations.csv");
  if (!correlations) return correlations.failure();
  const Result<plant::RefrigerantPtr> loaded = plant::load_refrigerant(*table, *correlations, name);
  if (!loaded) return loaded.failure();
  duty.refrigerant = loaded->get();
  const Figures f = figures_of(duty, *supply, static_cast<int>(wanted.boxes));
  const bool high = supply->line_v > 300;
  const std::string what =
      f.boxes == 1 ? (duty.freezer() ? "Walk-in freezer" : "Walk-in cooler")
                   : fmt::format("{} walk-in {}", f.boxes, duty.freezer() ? "freezers" : "coolers");
  std::string boxes;
  for (int i = 1; i <= f.boxes; ++i) {
    boxes +=
        fmt::format("  {}: {{name: {}, in box: {}, cautions: [{}slippery floor, live panel]}}\n",
                    of_box(f, "box", i),
                    f.boxes == 1 ? "In the box at the evaporator"
                                 : fmt::format("In box {} at its evaporator", i),
                    f.boxes == 1 ? "yes" : fmt::format("{}", i), duty.freezer() ? "cold, " : "");
  }
  std::string text = fmt::format(
      "# A unit to begin with, written by 'legwork new unit'. It passes 'legwork check'; change "
      "it, "
      "and check again.\n# How to read this file: circuits/README.md.\n"
      "unit: {}\nname: {} of {:.0f} Btu/h, {}\n"
      "# Outdoor temperatures that it is made for: it is tried at both ends and in the middle.\n"
      "outdoor: [{}, {}]\n\nsupply: {{{}}}\n\nplaces:\n"
      "  front: {{name: By the box door with the people of the place}}\n"
      "{}"
      "  yard: {{name: Condensing unit, walk: 2 min, first walk: 5 min, outdoors: yes, cautions: "
      "[live panel, {}moving fan]}}\n\n",
      wanted.id, what, duty.capacity_w * 3.412142, supply->words,
      fahrenheit(std::min(288.7, duty.outdoor_k - 15)), fahrenheit(duty.outdoor_k + 5.6),
      supply->written, boxes, high ? "high voltage, " : "");
  text += devices_text(f) + rungs_text(f) + wires_text(f) + plant_text(f, name);
  return text + senses_text(f);
}

}  // namespace legwork::commission
