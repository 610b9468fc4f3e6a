#include "engine/commission/new_unit_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace legwork::commission {
namespace {

// The groups of a box, each line behind `indent`. Its figures are a share of the machine's.
std::string box_plant_text(const Figures& f, std::string_view indent) {
  using D = Dimension;
  const Sized& s = f.sized;
  const double share = 1.0 / f.boxes, k = s.scale * share;
  // A freezer's valve that is fed alone has to pass what the whole compressor draws at a suction
  // that is still above the atmosphere: half of the machine's flow.
  const double valve_share = f.duty.freezer() ? std::max(share, 0.5) : share;
  std::string out;
  const auto add = [&](const std::string& line) { out += std::string(indent) + line + "\n"; };
  add("# half as much again as the flow at design; 'cap' is a freezer's maximum operating "
      "pressure");
  add(fmt::format("valve: {{capacity: {}, static superheat: 3 °F, range: 8 °F{}, bulb time: 12 s}}",
                  trade(s.valve_kg_s * valve_share, D::mass_flow),
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

}  // namespace

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
    first = "    " + first.substr(6, line - 6) + "    - " + first.substr(line + 6);
    out += first;
    for (int i = 2; i <= f.boxes; ++i) out += "    - {}\n";
  }
  out +=
      fmt::format("  # line, coil, vapour, and a third of the receiver\n  charge: {{full: {}}}\n",
                  trade(s.charge_kg, D::mass));
  return out;
}

namespace {

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
    states:
      - words: A light, even frost on the fins.
      - {from: 25 %, words: Thick white frost; the gaps are half closed.}
      - {from: 50 %, words: The coil is a block of ice.}
  evaporator dirt@n:
    sense: look
    target: evaporator fins@n
    at: @box
    of: coil@q.dirt
    states:
      - words: The fins are clean.
      - {from: 20 %, words: Grey matting on the air inlet side.}
  evaporator air@n:
    sense: look
    target: air path@n
    at: @box
    of: coil@q.air blocked
    states:
      - words: Nothing stands in front of the coil.
      - {from: 20 %, words: Cases are stacked against the coil.}
  drain ice@n:
    sense: look
    target: drain@n
    at: @box
    of: drain@q.ice
    states:
      - words: The pan is dry or draining.
      - {from: 0.3 kg, words: Ice stands in the pan.}
  door@n:
    sense: look
    target: door@n
    at: front
    of: box@q.door open
    states:
      - words: The door is shut and latched.
      - {from: 2 %, words: The door does not latch.}
      - {from: 40 %, words: The door is propped open.}
  gasket@n:
    sense: look
    target: gasket@n
    at: front
    of: box@q.gasket leak
    states:
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

}  // namespace

std::string senses_text(const Figures& f) {
  std::string out(kGauges);
  for (int i = 1; i <= f.boxes; ++i) out += of_box_text(f, kBoxProbes, i);
  out += kMachineProbes;
  out += kMachineLooks;
  for (int i = 1; i <= f.boxes; ++i) out += of_box_text(f, kBoxLooks, i);
  return out;
}

}  // namespace legwork::commission
