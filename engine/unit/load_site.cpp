#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <span>

#include "engine/base/suggest.h"
#include "engine/circuit/kinds.h"
#include "engine/circuit/operate.h"
#include "engine/circuit/quantities.h"
#include "engine/unit/loading.h"

namespace legwork::unit {
namespace {

constexpr double kMinute = 60.0;

constexpr std::array<std::pair<std::string_view, Sense>, 4> kSenses = {{{"look", Sense::look},
                                                                        {"listen", Sense::listen},
                                                                        {"feel", Sense::feel},
                                                                        {"smell", Sense::smell}}};

std::optional<Sense> sense_of(std::string_view word) {
  for (const auto& [name, sense] : kSenses) {
    if (name == word) return sense;
  }
  return std::nullopt;
}

void check_place(Reader& reader, std::string_view key, const std::string& place,
                 const Loading& loading) {
  if (loading.unit.find_place(place) != nullptr || loading.unit.places.empty()) return;
  if (!reader.node().find(key).is_scalar()) return;  // reported
  std::vector<std::string_view> places;
  for (const Place& known : loading.unit.places) places.push_back(known.id);
  reader.error(key, say("unknown place '{place}'", {{"place", Name{place}}}),
               suggestion_or_all(place, places, phrase("known places: {words}")));
}

std::vector<std::string_view> plant_quantity_names(const Unit& unit) {
  std::vector<std::string_view> names;
  for (const plant::Quantity& quantity : plant::quantities()) {
    if (plant::has(unit.plant, quantity.scope, quantity.which)) names.push_back(quantity.name);
  }
  return names;
}

Message unknown_quantity(const std::string& name) {
  return say("unknown quantity '{quantity}'", {{"quantity", Name{name}}});
}

// Index of a quantity that this machine has; -1: none.
int quantity_of(std::string_view name, const Unit& unit) {
  const int index = plant::find_quantity(name);
  if (index < 0) return -1;
  const plant::Quantity& row = plant::quantities()[static_cast<std::size_t>(index)];
  return plant::has(unit.plant, row.scope, row.which) ? index : -1;
}
int drive_of(std::string_view name, const Unit& unit) {
  const int index = plant::find_drive(name);
  if (index < 0) return -1;
  const plant::Drive& row = plant::drives()[static_cast<std::size_t>(index)];
  return plant::has(unit.plant, row.scope, row.which) ? index : -1;
}

// The dimension of a plant quantity or of one of a device; nothing (and a finding) if there is
// none.
std::optional<Dimension> quantity_dimension(Reader& reader, std::string_view key,
                                            const std::string& name, bool of_devices,
                                            const Loading& loading) {
  const int index = quantity_of(name, loading.unit);
  if (index >= 0) return plant::quantities()[static_cast<std::size_t>(index)].dimension;
  std::vector<std::string> known;
  for (const std::string_view quantity : plant_quantity_names(loading.unit))
    known.emplace_back(quantity);
  const std::size_t dot = name.find('.');
  const std::string device = name.substr(0, dot);
  const bool is_device = std::any_of(loading.devices.begin(), loading.devices.end(),
                                     [&](const WrittenDevice& d) { return d.name == device; });
  if (loading.broken.contains(device)) return std::nullopt;  // reported
  if (of_devices && is_device && dot != std::string::npos) {
    const auto* row = circuit::find_device_quantity(std::string_view(name).substr(dot + 1));
    if (row != nullptr) return row->dimension;
    known.clear();
    for (const circuit::DeviceQuantity& other : circuit::device_quantities()) {
      known.push_back(fmt::format("{}.{}", device, other.name));
    }
  } else if (of_devices && dot != std::string::npos) {
    for (const WrittenDevice& d : loading.devices) known.push_back(d.name + name.substr(dot));
  }
  if (reader.node().find(key).is_scalar()) {
    reader.error(key, unknown_quantity(name), suggestion(name, known));
  }
  return std::nullopt;
}

void load_states(Reader& reader, Look& look, std::optional<Dimension> dimension, Loading& loading) {
  const std::vector<Node> states = reader.list("states", kMostStates);
  if (reader.node().find("states").exists() && states.empty()) {
    reader.error("states", say("expected at least one state"));
  }
  for (std::size_t i = 0; i < states.size(); ++i) {
    Reader state(states[i], loading.found, phrase("a state"));
    LookState read;
    read.words = local_text(state, "words", loading.found);
    if (i == 0) {
      if (state.has("from")) {
        state.error("from", say("unexpected key 'from' in the first state"),
                    say("it is what is seen below every other threshold"));
      }
    } else if (dimension) {
      read.from = state.quantity("from", *dimension);
      if (i > 1 && read.from <= look.states.back().from) {
        state.error("from", say("out of range: thresholds must rise from state to state"));
      }
    } else {
      state.has("from");
    }
    state.finish();
    look.states.push_back(std::move(read));
  }
}

// A handle or a plug is seen without taking the cover off.
bool has_handle(const circuit::Circuit& circuit, circuit::DeviceId device) {
  return circuit::can_operate(circuit, device, circuit::HandVerb::open);
}

bool has_wires(const circuit::Circuit& circuit, circuit::DeviceId device) {
  return std::any_of(circuit.wires.begin(), circuit.wires.end(), [&](const circuit::Wire& wire) {
    return circuit.terminals[wire.from.slot()].device == device ||
           circuit.terminals[wire.to.slot()].device == device;
  });
}

// What can be seen of a device, where the file has no look of its own for that.
void add_looks(const WrittenDevice& written, std::span<const circuit::KindLook> rows,
               Loading& loading) {
  const circuit::DeviceId id = loading.unit.circuit.find_device(written.name);
  for (const circuit::KindLook& row : rows) {
    if (row.quantity == "button" && !circuit::has_button(loading.unit.circuit, id)) continue;
    Look look;
    look.sense = sense_of(row.sense).value_or(Sense::look);
    look.target = written.name;
    look.place = written.place;
    look.minutes = 0.5;
    look.quantity = fmt::format("{}.{}", written.name, row.quantity);
    look.id = fmt::format("{} {}", written.name, row.quantity);
    look.mark = written.mark;
    for (const circuit::KindLook::State& state : row.states) {
      look.states.push_back({{std::string(state.words), {}}, state.from});
    }
    look.glance = row.glance != circuit::KindLook::Glance::no;
    look.inside = written.in_panel && !has_handle(loading.unit.circuit, id);
    // A compressor turns inside its shell: it can be heard alone.
    if (row.sense == "look" && plant::unnumbered(written.moves) == "compressor.speed" &&
        (row.quantity == "speed" || row.quantity == "turns"))
      continue;
    if (look.glance) loading.unit.glances.push_back(look);
    if (row.glance == circuit::KindLook::Glance::only) continue;
    const bool own =
        std::any_of(loading.unit.looks.begin(), loading.unit.looks.end(), [&](const Look& other) {
          return other.sense == look.sense && other.quantity == look.quantity;
        });
    if (!own) loading.unit.looks.push_back(std::move(look));
  }
}

// Of its kind first, then of what every device has: the joints of its wires.
void add_kind_looks(Loading& loading) {
  const circuit::Circuit& circuit = loading.unit.circuit;
  for (const WrittenDevice& written : loading.devices) {
    const circuit::DeviceId id = circuit.find_device(written.name);
    add_looks(written, circuit.devices[id.slot()].kind->looks, loading);
  }
  for (const WrittenDevice& written : loading.devices) {
    if (has_wires(circuit, circuit.find_device(written.name)))
      add_looks(written, circuit::joint_looks(), loading);
  }
}

// The mark of the value in which a device names a sense.
Mark mark_of_sense(const circuit::Circuit& circuit, std::string_view sense) {
  for (const circuit::Device& device : circuit.devices) {
    for (const circuit::Value& value : device.values) {
      if (value.given && value.text == sense) return value.mark;
    }
  }
  return circuit.supply.mark;
}

void join_senses(Loading& loading) {
  Unit& unit = loading.unit;
  for (const circuit::Sense& sense : unit.circuit.senses) {
    const int index = quantity_of(sense.name, unit);
    unit.sense_links.push_back({index});
    const Mark mark = mark_of_sense(unit.circuit, sense.name);
    if (index < 0) {
      loading.found.error(loading.source, mark, unknown_quantity(sense.name),
                          suggestion(sense.name, plant_quantity_names(unit)));
      continue;
    }
    const Dimension dimension = plant::quantities()[static_cast<std::size_t>(index)].dimension;
    if (dimension != sense.dimension) {
      loading.found.error(loading.source, mark,
                          say("expected {dimension} to sense, found '{quantity}', which is {other}",
                              {{"dimension", dimension_name(sense.dimension)},
                               {"quantity", Name{sense.name}},
                               {"other", dimension_name(dimension)}}));
    }
  }
}

// Two devices on one drive add up where the drive adds, or where each says its share of it.
void join_drives(Loading& loading) {
  for (std::size_t i = 0; i < loading.devices.size(); ++i) {
    const WrittenDevice& written = loading.devices[i];
    const int drive = drive_of(written.moves, loading.unit);
    if (!written.moves_mark.known() || drive < 0) continue;
    if (plant::drives()[static_cast<std::size_t>(drive)].adds) continue;
    double share = 0;
    std::vector<std::string> others;
    bool all_say = true, first = true;
    for (std::size_t j = 0; j < loading.devices.size(); ++j) {
      const WrittenDevice& other = loading.devices[j];
      if (other.moves != written.moves) continue;
      share += other.share;
      all_say = all_say && other.has_share;
      if (j < i) first = false;
      if (j != i) others.push_back(other.name);
    }
    if (others.empty() || (all_say && share < 1.005) || (all_say && !first)) continue;
    if (all_say) {
      loading.found.error(
          loading.source, written.moves_mark,
          say("out of range: the shares of '{device}' and {others} in '{drive}' are {share} % "
              "together",
              {{"device", Name{written.name}},
               {"others", listed(others)},
               {"drive", Name{written.moves}},
               {"share", Number{share * 100}}}));
    } else if (!first) {
      loading.found.error(
          loading.source, written.moves_mark,
          say("two devices move '{drive}': '{device}' and {others}",
              {{"drive", Name{written.moves}},
               {"device", Name{written.name}},
               {"others", listed(others)}}),
          say("give each its share, for example 'share: 50 %', or let one of them move another "
              "thing"));
    }
  }
}

void join_loads(Loading& loading) {
  Unit& unit = loading.unit;
  unit.load_links.assign(unit.circuit.loads.size(), {});
  for (const WrittenDevice& written : loading.devices) {
    if (!written.moves_mark.known()) continue;
    const circuit::LoadId load = unit.circuit.find_load(written.name);
    const int drive = drive_of(written.moves, unit);
    if (!load.valid()) {
      loading.found.error(loading.source, written.moves_mark,
                          say("unexpected key 'moves': '{device}' moves nothing in the plant",
                              {{"device", Name{written.name}}}),
                          say("motors, heaters and valves do"));
    } else if (drive < 0) {
      std::vector<std::string_view> names;
      for (const plant::Drive& row : plant::drives()) {
        if (plant::has(unit.plant, row.scope, row.which)) names.push_back(row.name);
      }
      loading.found.error(loading.source, written.moves_mark,
                          say("unknown thing to move '{drive}'", {{"drive", Name{written.moves}}}),
                          suggestion_or_all(written.moves, names, phrase("known: {words}")));
    } else {
      unit.load_links[load.slot()] = {drive, written.share};
    }
  }
  join_drives(loading);
}

// "in box: yes", or of several the number of the box: "in box: 2".
void load_in_box(Reader& place, Place& read) {
  const Node node = place.node().find("in box");
  const bool number =
      node.is_scalar() && node.text().size() == 1 && node.text()[0] >= '1' && node.text()[0] <= '9';
  if (!number) {
    read.in_box = place.flag("in box", false);
    return;
  }
  const Wanted wanted{.fallback = 1, .min = 1, .max = plant::kMostEvaporators};
  const double box = place.quantity("in box", Dimension::number, wanted);
  read.in_box = true;
  read.box = box >= 1 ? static_cast<std::size_t>(box) - 1 : 0;
}

// Known once the plant has been read.
void check_boxes(Loading& loading) {
  for (const Place& place : loading.unit.places) {
    if (!plant::has(loading.unit.plant, plant::Scope::evaporator, place.box))
      loading.found.error(loading.source, place.mark,
                          say("place '{place}' lies in box {n}: the plant has {count}",
                              {{"place", Name{place.id}},
                               {"n", Number{place.box + 1}},
                               {"count", Number{plant::evaporator_count(loading.unit.plant)}}}));
  }
}

}  // namespace

void load_places(Reader& file, Loading& loading) {
  const Node places = file.required("places");
  if (!places.exists()) return;
  Reader reader(places, loading.found, phrase("places"));
  reader.take_all_keys();
  for (const Entry& entry : read_entries(places, phrase("places"), kMostPlaces, loading.found)) {
    Reader place(entry.value, loading.found, say("place '{place}'", {{"place", Name{entry.key}}}));
    Place read;
    read.id = entry.key;
    read.mark = entry.key_mark;
    read.name = local_text(place, "name", loading.found);
    const Wanted walk{.fallback = kMinute, .min = 0, .max = 120 * kMinute};
    read.walk_minutes = place.quantity("walk", Dimension::time, walk) / kMinute;
    const Wanted first{.fallback = read.walk_minutes * kMinute, .min = 0, .max = 120 * kMinute};
    read.first_walk_minutes = place.quantity("first walk", Dimension::time, first) / kMinute;
    read.outdoors = place.flag("outdoors", false);
    load_in_box(place, read);
    for (const Node& caution : place.maybe_list("cautions")) {
      read.cautions.push_back(read_text(caution, loading.found).value_or(""));
    }
    place.finish();
    if (loading.unit.find_place(read.id) == nullptr) loading.unit.places.push_back(std::move(read));
  }
}

void load_looks(Reader& file, Loading& loading) {
  const Node looks = file.maybe("looks");
  if (!looks.exists()) return;
  Reader all(looks, loading.found, phrase("looks"));
  all.take_all_keys();
  for (const Entry& entry : read_entries(looks, phrase("looks"), kMostLooks, loading.found)) {
    Reader reader(entry.value, loading.found, say("look '{look}'", {{"look", Name{entry.key}}}));
    Look look;
    look.id = entry.key;
    look.mark = entry.key_mark;
    look.sense = reader.choice<Sense>("sense", {kSenses.begin(), kSenses.end()});
    look.target = reader.text("target");
    look.place = reader.text("at");
    check_place(reader, "at", look.place, loading);
    look.minutes =
        reader.quantity("takes", Dimension::time, {.fallback = kMinute, .min = 0, .max = 3600}) /
        kMinute;
    look.quantity = reader.text("of");
    const auto dimension = quantity_dimension(reader, "of", look.quantity, true, loading);
    look.error_rate =
        reader.quantity("mistaken", Dimension::fraction, {.fallback = 0.03, .min = 0, .max = 0.5});
    look.needs = reader.choice<std::string>("needs", {{"guard off", "guard off"}, {"lamp", "lamp"}},
                                            std::string());
    load_states(reader, look, dimension, loading);
    look.glance = reader.flag("glance", false);
    reader.finish();
    if (look.glance) loading.unit.glances.push_back(look);
    loading.unit.looks.push_back(std::move(look));
  }
}

void load_probes(Reader& file, Loading& loading) {
  if (auto gauges = file.maybe_map("gauges")) {
    loading.unit.gauge_place = gauges->text("at");
    check_place(*gauges, "at", loading.unit.gauge_place, loading);
    gauges->finish();
  }
  const Node probes = file.maybe("probes");
  if (!probes.exists()) return;
  Reader all(probes, loading.found, phrase("probes"));
  all.take_all_keys();
  for (const Entry& entry : read_entries(probes, phrase("probes"), kMostProbes, loading.found)) {
    Reader reader(entry.value, loading.found, say("probe '{probe}'", {{"probe", Name{entry.key}}}));
    ProbePoint probe;
    probe.id = entry.key;
    probe.name = local_text(reader, "name", loading.found);
    probe.place = reader.text("at");
    check_place(reader, "at", probe.place, loading);
    probe.quantity = reader.text("of");
    const auto dimension = quantity_dimension(reader, "of", probe.quantity, false, loading);
    if (dimension && *dimension != Dimension::temperature) {
      reader.error(
          "of", say("expected a temperature to read, found '{quantity}', which is {other}",
                    {{"quantity", Name{probe.quantity}}, {"other", dimension_name(*dimension)}}));
    }
    probe.air = reader.flag("air", false);
    probe.shiny = reader.flag("shiny", false);
    reader.finish();
    loading.unit.probes.push_back(std::move(probe));
  }
}

void join_circuit(Loading& loading) {
  for (const WrittenDevice& written : loading.devices) {
    loading.unit.spots.push_back({loading.unit.circuit.find_device(written.name), written.place,
                                  written.column, written.row, written.in_panel});
  }
  check_boxes(loading);
  join_senses(loading);
  join_loads(loading);
  if (!loading.found.has_errors()) add_kind_looks(loading);
}

}  // namespace legwork::unit
