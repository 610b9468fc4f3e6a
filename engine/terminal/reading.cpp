// Solved readings: the quickest way to ask the machine something, for scripts and for lesson
// plans.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <nlohmann/json.hpp>
#include <span>

#include "engine/base/parse_quantity.h"
#include "engine/base/suggest.h"
#include "engine/fault/fault.h"
#include "engine/session/site.h"
#include "engine/terminal/commands.h"
#include "engine/terminal/print.h"

namespace legwork::terminal {
namespace {

using Json = nlohmann::ordered_json;
using meter::Function;

constexpr std::size_t kMostReadings = 200;  // of one run

struct Options {
  std::string unit;
  std::string state = "cooling";
  std::vector<std::string> wrong;
  std::string outdoor = "75 F";
  std::string after;
  using Groups = std::vector<std::vector<std::string>>;
  Groups volts, lowz, dc, ohms, microfarads, insulation;  // pairs of terminals
  Groups clamp;                                           // wires read together
  std::vector<std::string> temp;
  bool gauges = false;
  bool infrared = false;
  bool json = false;
};

// The world that was asked for; null: it was said why, and `code` is what to return.
std::unique_ptr<session::Site> site_of(const Options& options, int& code) {
  std::string home;
  code = kFindings;
  const unit::UnitPtr unit = unit_named(options.unit, home);
  if (!unit) return nullptr;
  const auto refuse = [&code](const Message& why) {
    code = complain(why, kUsage);
    return nullptr;
  };
  const std::optional<sim::State> state = sim::state_of(options.state);
  if (!state)
    return refuse(say("unknown state '{state}'; expected {words}",
                      {{"state", Name{options.state}},
                       {"words", one_of({"cooling", "satisfied", "defrost", "drip", "off"})}}));
  const auto quantity = [&](const char* option, const std::string& text, Dimension dimension,
                            double low, double high, double& value) {
    const Result<double> parsed = parse_quantity(text, dimension);
    if (parsed && *parsed >= low && *parsed <= high) {
      value = *parsed;
      return true;
    }
    refuse(say("{option}: {what}",
               {{"option", Name{option}},
                {"what", parsed ? say("out of range: from {low} to {high}",
                                      {{"low", Name{plain_quantity(low, dimension)}},
                                       {"high", Name{plain_quantity(high, dimension)}}})
                                : parsed.failure().sentence()}}));
    return false;
  };
  sim::Surroundings surroundings;
  // Time for what was broken to show: contactors drop, motors stop.
  double after_s = options.wrong.empty() ? 0 : 10;
  if (!quantity("--outdoor", options.outdoor, Dimension::temperature, kelvin_from_fahrenheit(-40),
                kelvin_from_fahrenheit(130), surroundings.outdoor_k) ||
      (!options.after.empty() &&
       !quantity("--after", options.after, Dimension::time, 0, 48 * 3600, after_s)))
    return nullptr;
  std::vector<fault::Fault> faults;
  for (const std::string& text : options.wrong) {
    const auto fault = fault::parse_fault(*unit, text);
    if (!fault)
      return refuse(say("{option}: {what}",
                        {{"option", Name{"--wrong"}}, {"what", fault.failure().sentence()}}));
    faults.push_back(*fault);
  }
  auto site = std::make_unique<session::Site>(
      session::Site{sim::World(unit, {}, surroundings), {}, {}, 0, 0, false});
  if (!site->world.bring_to(*state)) {
    code = complain(say("{unit} never comes to the state '{state}'",
                        {{"unit", Name{unit->id}}, {"state", Name{options.state}}}),
                    kFindings);
    return nullptr;
  }
  for (fault::Fault& fault : faults) site->world.add_fault(std::move(fault));
  site->world.run(sim::seconds(after_s));
  return site;
}

// 6 significant digits: what the solver is good for at any terminal.
double rounded(double value) { return std::stod(fmt::format("{:.6g}", value)); }

Json json_of(const session::Observation& o, double value, const std::string& unit) {
  Json out;
  out["reading"] = o.key;
  if (o.over_range || !std::isfinite(value)) {
    out["value"] = nullptr;
  } else {
    out["value"] = rounded(value);
  }
  out["unit"] = unit;
  out["shown"] = english(shown(o));
  return out;
}

void show(const session::Observation& o, double value, const std::string& unit, bool json) {
  if (json) {
    fmt::print("{}\n", json_of(o, value, unit).dump());
  } else {
    fmt::print("{}: {}\n", o.key, spoken(shown(o)));
  }
}

void show_gauges(session::Site& site, bool json) {
  site.gauges = meter::put_on(meter::Skill::good, 0, site.world.outputs().atmosphere_pa);
  meter::follow(site.gauges, site.world.outputs().suction_pa, site.world.outputs().discharge_pa,
                600);
  const meter::GaugeReading r = meter::read(site.gauges, site.world.outputs().atmosphere_pa);
  const auto psig = [](const meter::PressureReading& p) {
    return rounded(p.exact_pa / kPascalsPerPsi);
  };
  if (json) {
    const auto one = [&](const meter::PressureReading& p) {
      return Json{{"value", psig(p)}, {"unit", "psig"}, {"shown", p.shown + " " + p.unit}};
    };
    fmt::print(
        "{}\n",
        Json{{"reading", "gauges"}, {"suction", one(r.suction)}, {"discharge", one(r.discharge)}}
            .dump());
  } else {
    const auto one = [](const Phrase& what, const meter::PressureReading& p) {
      tell(say(what, {{"shown", Name{p.shown}}, {"unit", Name{p.unit}}}));
    };
    one(phrase("suction: {shown} {unit}"), r.suction);
    one(phrase("discharge: {shown} {unit}"), r.discharge);
  }
}

struct Pairs {
  const Options::Groups* groups;
  const char* verb;
  Function function;
  const char* unit;
};

// All names are looked at before the first reading is taken: what is wrong with them; empty: none.
Message wrong_names(const Options& options, std::span<const Pairs> pairs, const unit::Unit& unit) {
  const circuit::Circuit& wiring = unit.circuit;
  for (const Pairs& pair : pairs) {
    for (const auto& group : *pair.groups) {
      for (const std::string& name : group) {
        if (!wiring.find_terminal(name).valid())
          return and_hint(say("unknown terminal '{name}'", {{"name", Name{name}}}),
                          wiring.suggest_terminal(name));
      }
    }
  }
  for (const auto& group : options.clamp) {
    for (const std::string& name : group) {
      if (!wiring.find_wire(name).valid())
        return and_hint(say("unknown wire '{name}'", {{"name", Name{name}}}),
                        wiring.suggest_wire(name));
    }
  }
  if (options.gauges && unit.gauge_place.empty())
    return say("this unit is sealed: it has no service ports");
  std::vector<std::string> points;
  for (const unit::ProbePoint& point : unit.probes) points.push_back(point.id);
  for (const std::string& name : options.temp) {
    if (std::find(points.begin(), points.end(), name) != points.end()) continue;
    Message hint = suggestion(name, points);
    if (hint.empty()) hint = say("there are: {points}", {{"points", listed(points)}});
    return and_hint(say("unknown point '{name}'", {{"name", Name{name}}}), hint);
  }
  return {};
}

int read(const Options& options) {
  const Pairs pairs[] = {{&options.volts, "volts", Function::volts, "V"},
                         {&options.lowz, "lowz", Function::low_impedance_volts, "V"},
                         {&options.dc, "dc", Function::volts_dc, "V"},
                         {&options.ohms, "ohms", Function::ohms, "Ω"},
                         {&options.microfarads, "microfarads", Function::capacitance, "F"},
                         {&options.insulation, "insulation", Function::insulation, "Ω"}};
  std::size_t asked = (options.gauges ? 1u : 0u) + options.clamp.size() + options.temp.size();
  for (const Pairs& pair : pairs) asked += pair.groups->size();
  if (asked == 0)
    return complain(
        say("expected a reading: --volts A B, --lowz A B, --ohms A B, --clamp WIRE, --gauges or "
            "--temp POINT"),
        kUsage);
  if (asked > kMostReadings)
    return complain(say("too many readings: {n} of at most {most}",
                        {{"n", Number{asked}}, {"most", Number{kMostReadings}}}),
                    kUsage);
  int code = kUsage;
  const std::unique_ptr<session::Site> site = site_of(options, code);
  if (site == nullptr) return code;
  if (const Message wrong = wrong_names(options, pairs, site->world.unit()); !wrong.empty())
    return complain(wrong, kUsage);
  // Each is taken on the machine as it stands at that time: none passes for another.
  const sim::World there = site->world;
  const auto again = [&site, &there] { site->world = there; };
  for (const Pairs& pair : pairs) {
    for (const auto& group : *pair.groups) {
      const session::Observation o =
          session::take_reading(*site, pair.verb, pair.function, group[0], group[1]);
      show(o, o.value, pair.unit, options.json);
      again();
    }
  }
  const circuit::Circuit& wiring = there.unit().circuit;
  for (const auto& group : options.clamp) {
    std::string wires;
    for (const std::string& name : group) {
      wires += (wires.empty() ? "" : " ") + wiring.wires[wiring.find_wire(name).slot()].name;
    }
    const session::Observation o = session::take_clamp(*site, "clamp", Function::amps, wires);
    show(o, o.value, "A", options.json);
    again();
  }
  for (const std::string& point : options.temp) {
    const session::Observation o = session::take_temperature(*site, point, options.infrared);
    show(o, fahrenheit_from_kelvin(o.value), "°F", options.json);
    again();
  }
  if (options.gauges) show_gauges(*site, options.json);
  return kFine;
}

Runner add(Arguments& arguments) {
  auto o = std::make_shared<Options>();
  arguments.word("UNIT", o->unit, phrase("A unit by its id (wf-208) or the path of its file"));
  arguments.option("--state", o->state, phrase("cooling, satisfied, defrost, drip or off"));
  arguments.option_again("--wrong", o->wrong,
                         phrase("What is wrong: 'WHAT: HOW[: SEVERITY]'; may be given again"));
  arguments.option("--outdoor", o->outdoor, phrase("Outdoor temperature: '78 °F'"));
  arguments.option("--after", o->after,
                   phrase("How long it has run since it went wrong: '10 min' (usual: 10 s)"));
  arguments.groups("--volts", o->volts, phrase("AC volts between two terminals, 10 megohm"), 2, 2);
  arguments.groups("--lowz", o->lowz, phrase("AC volts between two terminals, 3 kilohm"), 2, 2);
  arguments.groups("--dc", o->dc, phrase("DC volts between two terminals"), 2, 2);
  arguments.groups("--ohms", o->ohms, phrase("Ohms between two terminals of a dead circuit"), 2, 2);
  arguments.groups("--microfarads", o->microfarads, phrase("Capacitance between two terminals"), 2,
                   2);
  arguments.groups("--insulation", o->insulation,
                   phrase("500 V insulation test between two terminals"), 2, 2);
  arguments.groups("--clamp", o->clamp, phrase("Amps in a wire: TB.L1>CC.L1; several: their sum"),
                   1, 12);
  arguments.option_again("--temp", o->temp, phrase("Temperature at a point: 'box air'"));
  arguments.flag("--infrared", o->infrared, phrase("Take it with an infrared thermometer"));
  arguments.flag("--gauges", o->gauges, phrase("Suction and discharge pressure"));
  arguments.flag("--json", o->json, phrase("Answer in JSON: value, unit, shown"));
  return [o] { return read(*o); };
}

}  // namespace

std::span<const Command> commands_of_reading() {
  static constexpr Command kCommands[] = {
      {"reading", phrase("Readings of a unit, solved: volts, ohms, amps, pressures, temperatures."),
       phrase(
           "For example:\n"
           "  legwork reading wf-208 --volts CC.A1 CC.A2\n"
           "  legwork reading wf-208 --wrong 'CC: coil open' --volts CC.A1 CC.A2 --json\n"
           "  legwork reading wf-208 --wrong 'condenser: plugged inside: 0.65' --outdoor '74 °F' "
           "--after '10 min' --gauges\n"
           "  legwork reading rt-208 --volts TB.L1 TB.L2 --volts CC.T1 CC.T2 --clamp "
           "'TB.L1>CC.L1' --gauges\n"
           "Any of them may be given again; each is taken on the machine as it stands at that "
           "time, and has a line of its own.\n"
           "The healthy machine is run until it is in the state; then what is wrong begins, and "
           "goes on for --after.\n"
           "JSON gives the value before the meter rounds it, in V, A, Ω, F, °F or psig; null where "
           "the meter shows OVER."),
       add, 100}};
  return kCommands;
}

}  // namespace legwork::terminal
