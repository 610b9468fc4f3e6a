#include "engine/commission/new_unit_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "engine/plant/plant.h"

namespace legwork::commission {
namespace {

// K below evaporating at which a machine of one box is pumped down; and never below the atmosphere.
constexpr double kCutOutUnderK = 14.0;
constexpr double kLeastCutOutPa = pascals_from_psig(1);

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
  static_assert(std::size(kStarts) == plant::kMostEvaporators);
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

// One of several freezers, fed alone, is pumped down again and again, and so is one that boils so
// cold that hardly anything lies between cut-in and the atmosphere: the machine may not follow each
// time.
bool waits_to_start(const Figures& f) {
  if (!f.duty.freezer()) return false;
  return f.boxes > 2 ||
         (f.supply.three &&
          f.duty.refrigerant->dew_pa(f.sized.evaporating_k - kCutOutUnderK) < kLeastCutOutPa);
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

}  // namespace

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
  // One coil of several, fed alone, boils colder: the compressor is large for it.
  const double cut_out_under_k = std::min(kCutOutUnderK + 9.0 * (f.boxes - 1), 29.0);
  const double cut_in = r.dew_pa(f.sized.evaporating_k + 1),
               cut_out = r.dew_pa(f.sized.evaporating_k - cut_out_under_k);
  add(fmt::format(
      "LPC: {{kind: pressure control, senses: suction, closes: {}, opens: {}, at: yard, "
      "panel: [6, 3]}}",
      psig(cut_in, 1), psig(std::max(cut_out, kLeastCutOutPa), 1)));
  if (waits_to_start(f)) {
    add("# So long it stands before it may start again: no more than six starts an hour.");
    add("TD: {kind: on-delay timer, volts: 120 V, delay: 10 min, at: yard, panel: [6, 4]}");
    add("# Lit while the machine waits for it.");
    add("WL: {kind: pilot light, volts: 120 V, power: 2 W, at: yard, panel: [5, 5]}");
  }
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

namespace {

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

}  // namespace

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
  out += fmt::format("    - [X1, HPC, LPC, {}CC.coil, {}X2]\n", waits_to_start(f) ? "TD.NO, " : "",
                     three ? "OL.NC, " : "");
  if (waits_to_start(f))
    out += "  start delay:\n    - [TD.13, TD.supply, X2]\n    - [TD.13, TD.NC, WL, X2]\n";
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
  // A third of the full load flows through the run capacitor; 135 % of it: NEC 460.8(A), from
  // memory.
  if (!f.supply.three)
    out += fmt::format("    - {{from: RC, size: {}, length: 2 ft}}\n",
                       wire_for(1.35 * 0.33 * f.full_load_a));
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

}  // namespace legwork::commission
