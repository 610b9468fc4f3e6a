#include "engine/base/fingerprint.h"
#include "engine/base/text_file.h"
#include "engine/circuit/check.h"
#include "engine/unit/loading.h"

namespace legwork::unit {

LocalText read_local_text(const Node& node, Diagnostics& found) {
  LocalText text;
  if (!node.is_map()) {
    text.en = read_text(node, found).value_or("");
    return text;
  }
  for (const Entry& entry : read_entries(node, phrase("languages"), kMostLanguages, found)) {
    std::string words = read_text(entry.value, found).value_or("");
    const bool tag = entry.key.size() == 2 &&
                     entry.key.find_first_not_of("abcdefghijklmnopqrstuvwxyz") == std::string::npos;
    if (!tag) {
      found.error(node.source(), entry.key_mark,
                  say("unknown language '{tag}'", {{"tag", Name{entry.key}}}),
                  say("two small letters, as en or es"));
    } else if (entry.key == "en") {
      text.en = std::move(words);
    } else {
      text.others.emplace_back(entry.key, std::move(words));
    }
  }
  if (!node.find("en").exists()) {
    found.error(node.source(), node.mark(),
                say("missing key 'en': English words are always needed"));
  }
  return text;
}

LocalText local_text(Reader& reader, std::string_view key, Diagnostics& found) {
  const Node node = reader.required(key);
  return node.exists() ? read_local_text(node, found) : LocalText{};
}

namespace {

// outdoor: [50 °F, 110 °F]
void load_outdoor(Reader& file, Unit& unit) {
  if (!file.has("outdoor")) return;
  const std::vector<double> range = file.quantities("outdoor", Dimension::temperature, 2,
                                                    {.fallback = unit.outdoor_low_k,
                                                     .min = kelvin_from_fahrenheit(-40),
                                                     .max = kelvin_from_fahrenheit(130)});
  if (range.size() != 2) return;
  if (range[0] >= range[1]) {
    file.error("outdoor", say("out of range: the first temperature is not below the second"));
    return;
  }
  unit.outdoor_low_k = range[0];
  unit.outdoor_high_k = range[1];
}

}  // namespace

std::optional<Unit> load(std::string_view text, std::string_view file_name, std::string_view assets,
                         Diagnostics& found) {
  Diagnostics own;
  const Document document = parse_document(std::string(file_name), text, own);
  if (!document.ok()) {
    found.append(own);
    return std::nullopt;
  }
  Loading loading{{}, document.source(), own, {}, {}};
  Unit& unit = loading.unit;
  unit.source_text = document.source().text();
  unit.source_name = std::string(file_name);
  unit.content_hash = sha256_hex(unit.source_text);
  {
    Reader file(document.root(), own, phrase("the unit"));
    unit.id = file.name("unit");
    unit.name = local_text(file, "name", own);
    unit.blurb = file.text("blurb", "");
    for (const Node& sentence : file.maybe_list("sequence"))
      unit.sequence.push_back(read_local_text(sentence, loading.found));
    load_outdoor(file, unit);
    load_places(file, loading);
    load_circuit(file, loading);
    load_plant(file, assets, loading);
    load_looks(file, loading);
    load_probes(file, loading);
    file.finish();
  }
  // What follows reasons about the whole machine: only if all of it was understood.
  if (!own.has_errors()) join_circuit(loading);
  if (!own.has_errors()) circuit::check(unit.circuit, own);
  const bool good = !own.has_errors();
  found.append(own);
  if (!good) return std::nullopt;
  return std::move(unit);
}

std::optional<Unit> load_file(const std::string& path, const std::string& assets,
                              Diagnostics& found) {
  const Result<std::string> text = read_text_file(path);
  if (text) return load(*text, path, assets, found);
  found.file_error(path, text.failure());
  return std::nullopt;
}

const Place* Unit::find_place(std::string_view id) const {
  for (const Place& place : places) {
    if (place.id == id) return &place;
  }
  return nullptr;
}

const Spot* Unit::spot_of(circuit::DeviceId device) const {
  for (const Spot& spot : spots) {
    if (spot.device == device) return &spot;
  }
  return nullptr;
}

}  // namespace legwork::unit
