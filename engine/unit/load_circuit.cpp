#include <algorithm>

#include "engine/base/split.h"
#include "engine/base/suggest.h"
#include "engine/circuit/kinds.h"
#include "engine/unit/loading.h"

namespace legwork::unit {
namespace {

using circuit::Builder;
using circuit::ParamSpec;
using circuit::Rung;
using circuit::RungItem;
using circuit::Value;

constexpr std::string_view kLetters =
    "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-";

bool is_name(std::string_view text) {
  return !text.empty() && text.size() <= 24 &&
         text.find_first_not_of(kLetters) == std::string_view::npos;
}

// "CC", "CC.coil", "BT.4".
bool is_dotted_name(std::string_view text) {
  const std::size_t dot = text.find('.');
  if (dot == std::string_view::npos) return is_name(text);
  return is_name(text.substr(0, dot)) && is_name(text.substr(dot + 1));
}

// False: the supply was not understood, and rungs would not find its lugs.
bool load_supply(Reader& file, Builder& builder, Loading& loading) {
  using Kind = circuit::Supply::Kind;
  const int errors_before = loading.found.error_count();
  Reader reader = file.map("supply", phrase("the supply"));
  circuit::SupplySpec spec;
  spec.kind = reader.choice<Kind>("kind", {{"wye", Kind::wye},
                                           {"delta", Kind::delta},
                                           {"corner delta", Kind::corner_delta},
                                           {"split phase", Kind::split_phase},
                                           {"single", Kind::single}});
  spec.nominal_v = reader.quantity("nominal", Dimension::voltage, {.min = 20, .max = 1000});
  spec.open_circuit_v = reader.quantity(
      "open circuit", Dimension::voltage,
      {.fallback = spec.nominal_v, .min = 0.5 * spec.nominal_v, .max = 1.5 * spec.nominal_v});
  spec.service_ohm =
      reader.quantity("service", Dimension::resistance, {.fallback = 0.03, .min = 1e-4, .max = 10});
  spec.frequency_hz =
      reader.quantity("frequency", Dimension::frequency, {.fallback = 60, .min = 40, .max = 70});
  spec.earthed = reader.flag("earthed", true);
  reader.finish();
  if (loading.found.error_count() != errors_before) return false;
  builder.supply(spec, file.mark_of("supply"));
  return true;
}

// Another panel that feeds part of the unit.
void load_second_supply(Reader& file, Builder& builder, Loading& loading) {
  using Kind = circuit::Supply::Kind;
  auto reader = file.maybe_map("second supply", phrase("the second supply"));
  if (!reader) return;
  const int errors_before = loading.found.error_count();
  circuit::SupplySpec spec;
  spec.kind = reader->choice<Kind>(
      "kind", {{"single", Kind::single}, {"split phase", Kind::split_phase}, {"wye", Kind::wye}});
  spec.nominal_v = reader->quantity("nominal", Dimension::voltage, {.min = 20, .max = 1000});
  spec.open_circuit_v = reader->quantity(
      "open circuit", Dimension::voltage,
      {.fallback = spec.nominal_v, .min = 0.5 * spec.nominal_v, .max = 1.5 * spec.nominal_v});
  spec.service_ohm = reader->quantity("service", Dimension::resistance,
                                      {.fallback = 0.05, .min = 1e-4, .max = 10});
  const std::string in_step_with = reader->text("in step with", "");
  reader->finish();
  if (loading.found.error_count() == errors_before)
    builder.second_supply(spec, in_step_with, file.mark_of("second supply"));
}

// One parameter as its kind says it is written. A value that cannot be read becomes something
// harmless, so that the rest of the device is still read.
Value read_value(Reader& reader, const ParamSpec& param, Diagnostics& found) {
  Value value;
  value.key = std::string(param.key);
  value.given = true;
  value.mark = reader.mark_of(param.key);
  value.number = std::clamp(param.fallback, param.low, param.high);
  const Wanted wanted{.fallback = value.number, .min = param.low, .max = param.high};
  const Node node = reader.maybe(param.key);
  switch (param.type) {
    case ParamSpec::Type::quantity:
      value.number = reader.quantity(param.key, param.dimension, wanted);
      break;
    case ParamSpec::Type::flag:
      value.number = reader.flag(param.key, param.fallback != 0) ? 1 : 0;
      break;
    case ParamSpec::Type::text:
      value.text = reader.text(param.key, std::string(param.fallback_text));
      break;
    case ParamSpec::Type::choice: {
      const std::vector<std::string_view> words = split(param.choices, '|');
      const auto chosen = read_word(node, Name{param.key}, words, found);
      value.text = chosen ? std::string(words[*chosen]) : std::string(param.fallback_text);
      break;
    }
    case ParamSpec::Type::quantity_list:
      for (const Node& item : reader.maybe_list(param.key)) {
        const Wanted range{.min = param.low, .max = param.high};
        const auto number = read_quantity(item, param.dimension, found, range);
        if (number) value.numbers.push_back(*number);
      }
      break;
    case ParamSpec::Type::text_list:
      for (const Node& item : reader.maybe_list(param.key)) {
        const auto word = read_text(item, found);
        if (word) value.words.push_back(*word);
      }
      break;
  }
  return value;
}

void read_spot(Reader& reader, WrittenDevice& written, Loading& loading) {
  written.place = reader.text("at");
  written.place_mark = reader.mark_of("at");
  if (reader.node().find("at").is_scalar() && loading.unit.find_place(written.place) == nullptr) {
    std::vector<std::string_view> places;
    for (const Place& place : loading.unit.places) places.push_back(place.id);
    if (!places.empty()) {
      reader.error("at", say("unknown place '{place}'", {{"place", Name{written.place}}}),
                   suggestion_or_all(written.place, places, phrase("known places: {words}")));
    }
  }
  if (!reader.has("panel")) return;
  written.in_panel = true;
  const std::vector<double> spot =
      reader.quantities("panel", Dimension::number, 2, {.fallback = 1.0, .min = 1, .max = 40});
  written.column = static_cast<int>(spot[0]);
  written.row = static_cast<int>(spot[1]);
}

void load_device(const Entry& entry, Builder& builder, Loading& loading) {
  Diagnostics& found = loading.found;
  loading.broken.insert(entry.key);  // until it is understood
  if (!is_name(entry.key)) {
    found.error(loading.source, entry.key_mark,
                say("unexpected name '{name}' for a device", {{"name", Name{entry.key}}}),
                say("letters, digits, - and _; at most 24 of them"));
    return;
  }
  Reader reader(entry.value, found, say("device '{device}'", {{"device", Name{entry.key}}}));
  if (!reader.ok()) return;
  const Node kind_node = reader.required("kind");
  const circuit::Kind* kind = nullptr;
  if (kind_node.exists()) {
    const std::vector<std::string_view> names = circuit::kind_names();
    const auto chosen = read_word(kind_node, phrase("kind of device"), names, found);
    if (chosen) kind = circuit::find_kind(names[*chosen]);
  }
  WrittenDevice written;
  written.name = entry.key;
  written.mark = entry.key_mark;
  read_spot(reader, written, loading);
  if (reader.has("moves")) {
    written.moves = reader.text("moves");
    written.moves_mark = reader.mark_of("moves");
  }
  if (reader.has("share")) {
    written.share = reader.quantity("share", Dimension::fraction, {.min = 0.01, .max = 1});
    written.has_share = true;
    if (!written.moves_mark.known()) {
      reader.error("share", say("unexpected key 'share' without 'moves'"),
                   say("it is the share of what a device moves"));
    }
  }
  if (kind == nullptr) {
    reader.take_all_keys();  // nobody knows which it may have
    return;
  }
  const int errors_before = found.error_count();
  std::vector<Value> values;
  for (const ParamSpec& param : kind->params) {
    if (reader.has(param.key)) {
      values.push_back(read_value(reader, param, found));
    } else if (param.required) {
      reader.required(param.key);
    }
  }
  reader.finish();
  if (found.error_count() != errors_before) return;
  const circuit::DeviceId id =
      builder.add_device(entry.key, kind->name, std::move(values), entry.key_mark);
  if (!id.valid()) return;
  loading.broken.erase(loading.broken.find(entry.key));
  loading.devices.push_back(std::move(written));
}

void load_devices(Reader& file, Builder& builder, Loading& loading) {
  const Node devices = file.required("devices");
  if (!devices.exists()) return;
  Reader reader(devices, loading.found, phrase("devices"));
  reader.take_all_keys();
  const std::vector<Entry> read =
      read_entries(devices, phrase("devices"), kMostDevices, loading.found);
  std::set<std::string_view> seen;
  for (const Entry& entry : read) {
    if (!seen.insert(entry.key).second) continue;  // reported as a duplicate key
    load_device(entry, builder, loading);
  }
  // Those left out are not reported again where a rung names them.
  const std::vector<Entry> all = devices.entries();
  for (std::size_t i = read.size(); i < all.size(); ++i) {
    loading.broken.insert(all[i].key);
  }
  // Two things cannot sit in one place of a panel.
  for (std::size_t i = 0; i < loading.devices.size(); ++i) {
    const WrittenDevice& a = loading.devices[i];
    for (std::size_t j = 0; j < i && a.in_panel; ++j) {
      const WrittenDevice& b = loading.devices[j];
      if (b.in_panel && a.place == b.place && a.column == b.column && a.row == b.row) {
        loading.found.error(loading.source, a.mark,
                            say("duplicate panel position: '{first}' and '{second}' both sit in "
                                "column {column}, row {row}",
                                {{"first", Name{b.name}},
                                 {"second", Name{a.name}},
                                 {"column", Number{a.column}},
                                 {"row", Number{a.row}}}));
      }
    }
  }
}

std::optional<Rung> read_rung(const Node& list, Loading& loading, int depth);

std::optional<RungItem> read_item(const Node& node, Loading& loading, int depth) {
  RungItem item;
  item.mark = node.mark();
  if (node.is_scalar()) {
    item.name = node.text();
    if (is_dotted_name(item.name)) return item;
    loading.found.error(loading.source, node.mark(),
                        say("unexpected name '{name}' in a rung", {{"name", Name{item.name}}}),
                        say("a part is DEVICE or DEVICE.PART, a terminal DEVICE.POINT"));
    return std::nullopt;
  }
  if (!node.is_map()) {
    loading.found.error(loading.source, node.mark(),
                        say("expected a part, a terminal or {{any: [...]}}, found {found}",
                            {{"found", node.description()}}));
    return std::nullopt;
  }
  Reader reader(node, loading.found, phrase("a parallel group"));
  bool good = true;
  const std::vector<Node> branches = reader.list("any", kMostBranches);
  if (reader.has("any") && branches.size() < 2) {
    reader.error("any", say("expected at least two parallel branches"));
    good = false;
  }
  if (depth > 4) {
    reader.error("any", say("out of range: parallel groups nested deeper than 4"));
    return std::nullopt;
  }
  for (const Node& branch : branches) {
    std::optional<Rung> rung;
    if (branch.is_list()) {
      rung = read_rung(branch, loading, depth + 1);
    } else if (const auto only = read_item(branch, loading, depth + 1)) {
      rung = Rung{*only};
    }
    if (rung) {
      item.any.push_back(std::move(*rung));
    } else {
      good = false;
    }
  }
  reader.finish();
  if (!good || item.any.empty()) return std::nullopt;
  return item;
}

std::optional<Rung> read_rung(const Node& list, Loading& loading, int depth) {
  Rung rung;
  bool good = true;
  for (const Node& node :
       read_items(list, phrase("parts in one rung"), kMostInRung, loading.found)) {
    if (auto item = read_item(node, loading, depth)) {
      rung.push_back(std::move(*item));
    } else {
      good = false;
    }
  }
  if (good && rung.empty()) {
    loading.found.error(loading.source, list.mark(), say("expected parts, found an empty list"));
    good = false;
  }
  return good ? std::optional<Rung>(std::move(rung)) : std::nullopt;
}

bool names_broken(const Rung& rung, const Loading& loading) {
  for (const RungItem& item : rung) {
    if (loading.broken.contains(std::string_view(item.name).substr(0, item.name.find('.')))) {
      return true;
    }
    for (const Rung& branch : item.any) {
      if (names_broken(branch, loading)) return true;
    }
  }
  return false;
}

void load_rungs(Reader& file, Builder& builder, bool has_lugs, Loading& loading) {
  const Node rungs = file.required("rungs");
  if (!rungs.exists()) return;
  Reader reader(rungs, loading.found, phrase("rungs"));
  reader.take_all_keys();
  std::size_t room = kMostRungs;
  for (const Entry& section :
       read_entries(rungs, phrase("sections of rungs"), kMostSections, loading.found)) {
    if (!section.value.is_list()) {
      loading.found.error(
          loading.source, section.value.mark(),
          say("expected a list of rungs under '{section}', found {found}",
              {{"section", Name{section.key}}, {"found", section.value.description()}}));
      continue;
    }
    RungSection kept{section.key, {}};
    if (section.value.size() > room) {
      loading.found.error(loading.source, section.value.at(room).mark(),
                          say("out of range: more than {most} {what}",
                              {{"most", Number{kMostRungs}}, {"what", phrase("rungs")}}));
    }
    const std::size_t rungs_here = std::min(room, section.value.size());
    room -= rungs_here;
    for (std::size_t i = 0; i < rungs_here; ++i) {
      const Node node = section.value.at(i);
      if (!node.is_list()) {
        loading.found.error(
            loading.source, node.mark(),
            say("expected a rung such as [TB.L1, FU4, CC.coil, TB.L3], found {found}",
                {{"found", node.description()}}));
        continue;
      }
      std::optional<Rung> rung = read_rung(node, loading, 0);
      if (!rung) continue;
      if (has_lugs && !names_broken(*rung, loading)) builder.add_rung(*rung, node.mark());
      kept.rungs.push_back(std::move(*rung));
    }
    loading.unit.sections.push_back(std::move(kept));
  }
}

circuit::WireSpec read_wire(Reader& reader, const circuit::WireSpec& usual) {
  circuit::WireSpec spec = usual;
  spec.length_m = reader.quantity("length", Dimension::length,
                                  {.fallback = usual.length_m, .min = 0.01, .max = 1000});
  spec.copper_m2 = reader.quantity("size", Dimension::wire_size,
                                   {.fallback = usual.copper_m2, .min = 1e-7, .max = 2e-4});
  spec.conduit = reader.text("conduit", "");
  spec.field = reader.flag("field", false);
  return spec;
}

void load_wires(Reader& file, Builder& builder, Loading& loading) {
  auto wires = file.maybe_map("wires");
  if (!wires || !wires->ok()) return;
  circuit::WireSpec usual;
  if (auto reader = wires->maybe_map("usual", phrase("the usual wire")))
    usual = read_wire(*reader, usual);
  builder.wire_default(usual);
  for (const Node& node : wires->maybe_list("runs", kMostWireRuns)) {
    Reader reader(node, loading.found, phrase("a run of wires"));
    circuit::WireRule rule;
    rule.mark = node.mark();
    rule.from = reader.text("from");
    rule.to = reader.text("to", "*");
    rule.spec = read_wire(reader, usual);
    const bool good = reader.ok();
    reader.finish();
    if (good && !loading.broken.contains(rule.from) && !loading.broken.contains(rule.to)) {
      builder.wire_rule(rule);
    }
  }
  wires->finish();
}

}  // namespace

void load_circuit(Reader& file, Loading& loading) {
  Builder builder(loading.source, loading.found);
  const int errors_before = loading.found.error_count();
  const bool has_first = load_supply(file, builder, loading);
  if (has_first) load_second_supply(file, builder, loading);
  const bool has_lugs = loading.found.error_count() == errors_before;
  load_devices(file, builder, loading);
  load_rungs(file, builder, has_lugs, loading);
  load_wires(file, builder, loading);
  // A part that is missing because its device was not understood would only be reported again.
  if (!loading.found.has_errors()) loading.unit.circuit = builder.build();
}

}  // namespace legwork::unit
