#include "engine/suspects/eyes.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "engine/config/reader.h"
#include "engine/suspects/resolutions_text.h"

namespace legwork::suspects {

namespace {

constexpr std::string_view kInfrared = " with infrared";

const unit::ProbePoint* probe_of(const unit::Unit& unit, std::string_view key) {
  std::string_view probe = key.substr(std::min(key.size(), sizeof("temp ") - 1));
  if (probe.ends_with(kInfrared)) probe.remove_suffix(kInfrared.size());
  for (const unit::ProbePoint& point : unit.probes) {
    if (point.id == probe) return &point;
  }
  return nullptr;
}

// "volts CC.A1 CC.A2": the two points, if there are two.
std::pair<circuit::TerminalId, circuit::TerminalId> points_of(const circuit::Circuit& wiring,
                                                              std::string_view key) {
  const std::size_t first = key.find(' ');
  const std::size_t second = first == std::string_view::npos ? first : key.find(' ', first + 1);
  if (second == std::string_view::npos) return {};
  return {wiring.find_terminal(key.substr(first + 1, second - first - 1)),
          wiring.find_terminal(key.substr(second + 1))};
}

}  // namespace

Resolutions read_resolutions(std::string_view text, std::string_view file_name,
                             Diagnostics& found) {
  Resolutions r;
  const Document document = parse_document(std::string(file_name), text, found);
  if (!document.ok()) return r;
  Reader file(document.root(), found, phrase("the resolutions"));
  const Wanted share{.fallback = {}, .min = 0, .max = 1};
  const Wanted positive{.fallback = {}, .min = 0, .max = 1e6};
  file.integer("resolutions", 1, 1);
  {
    Reader volts = file.map("volts");
    const auto of = [&](std::string_view key) {
      return volts.quantity(key, Dimension::fraction, share);
    };
    r.volts_none = of("none");
    r.volts_part = of("part");
    r.made_share = of("made contact");
    r.made_least_v = volts.quantity("made contact least", Dimension::voltage, positive);
    r.supply_share = of("supply");
    r.legs_share = of("legs");
    r.ghost_ohms = volts.quantity("ghost", Dimension::resistance, positive);
  }
  {
    Reader amps = file.map("amps");
    r.amps_none = amps.quantity("none", Dimension::current, positive);
    r.amps_share = amps.quantity("some", Dimension::fraction, share);
    r.amps_legs = amps.quantity("legs", Dimension::fraction, share);
  }
  {
    Reader ohms = file.map("ohms");
    r.ohms_share = ohms.quantity("some", Dimension::fraction, share);
    r.windings_share = ohms.quantity("windings", Dimension::fraction, share);
    r.shorted_share = ohms.quantity("shorted", Dimension::fraction, share);
  }
  r.farads_share = file.quantity("microfarads", Dimension::fraction, share);
  const auto kelvins = [&](Reader& map, std::string_view key) {
    return map.quantity(key, Dimension::temperature_difference, positive);
  };
  {
    Reader gauges = file.map("gauges");
    r.suction_k = kelvins(gauges, "suction");
    r.head_k = kelvins(gauges, "head");
  }
  {
    Reader temperatures = file.map("temperatures");
    r.superheat_k = kelvins(temperatures, "superheat");
    r.pipe_k = kelvins(temperatures, "pipe");
    r.air_k = kelvins(temperatures, "air");
    r.infrared_k = kelvins(temperatures, "infrared");
    r.same_probe_k = kelvins(temperatures, "same probe");
  }
  {
    Reader reach = file.map("reach");
    const auto weight = [&](std::string_view key) { return reach.number(key, positive); };
    r.reach = {.gauges = weight("gauges"),
               .look = weight("look"),
               .volts = weight("volts"),
               .ohms = weight("ohms"),
               .amps = weight("amps"),
               .compressor = weight("compressor by hand"),
               .air = weight("air"),
               .pipe = weight("pipe"),
               .touch = weight("other touch"),
               .small_amps = weight("small amps"),
               .feed_amps = weight("feed amps"),
               .infrared = weight("infrared"),
               .waiting = weight("waiting")};
  }
  return r;
}

const Resolutions& shipped_resolutions() {
  static const Resolutions kShipped = [] {
    Diagnostics found;
    return read_resolutions(kResolutionsText, "assets/resolutions.yaml", found);
  }();
  return kShipped;
}

Eyes::Eyes(unit::UnitPtr unit, const Resolutions& table)
    : unit_(std::move(unit)), table_(table), rungs_(*unit_) {}

double Eyes::volts(circuit::TerminalId a, circuit::TerminalId b, double volts) const {
  const double full = rungs_.volts(a, b);
  const double none = table_.volts_none * full;
  switch (rungs_.leads(a, b)) {
    case Leads::supply:
      return (std::fabs(volts) < none ? table_.volts_none : table_.supply_share) * full;
    case Leads::contact:
    case Leads::conductor:
      // Made, it has next to nothing across it, and whatever shows is told by the
      // volt.
      if (std::fabs(volts) < none) return std::max(table_.made_share * full, table_.made_least_v);
      return table_.volts_part * full;
    default:
      return std::fabs(volts) < none ? none : table_.volts_part * full;
  }
}

double Eyes::amps(double amps) const {
  return amps < table_.amps_none ? table_.amps_none : table_.amps_share * amps;
}

double Eyes::ohms(double ohms) const { return table_.ohms_share * ohms; }

double Eyes::pascals(bool high, double absolute_pa) const {
  const double kelvins = high ? table_.head_k : table_.suction_k;
  const double slope = unit_->plant.refrigerant->at_pressure(absolute_pa).mean_slope_k_pa;
  return slope > 0 ? kelvins / slope : 0;
}

bool Eyes::blind(std::string_view key) const {
  if (!key.starts_with("temp ") || !key.ends_with(kInfrared)) return false;
  const unit::ProbePoint* point = probe_of(*unit_, key);
  return point != nullptr && point->shiny;
}

double Eyes::half_width(const session::Observation& predicted, const session::Site& site) const {
  const std::string_view key = predicted.key;
  const auto is = [&](std::string_view verb) {
    return key.starts_with(verb) && (key.size() == verb.size() || key[verb.size()] == ' ');
  };
  if (is("volts") || is("lowz")) {
    const auto [a, b] = points_of(unit_->circuit, key);
    return a.valid() && b.valid() ? volts(a, b, predicted.value) : 0;
  }
  if (is("clamp") || is("peak")) return amps(predicted.value);
  if (is("ohms") || is("continuity")) return ohms(predicted.value);
  if (is("microfarads")) return table_.farads_share * predicted.value;
  if (is("gauges")) {
    const bool high = key.ends_with("discharge");
    return pascals(high, predicted.value + site.world.outputs().atmosphere_pa);
  }
  if (is("display")) return table_.air_k;
  if (is("temp")) {
    if (key.ends_with(kInfrared)) return table_.infrared_k;
    const unit::ProbePoint* point = probe_of(*unit_, key);
    return point != nullptr && point->air ? table_.air_k : table_.pipe_k;
  }
  return 0;
}

}  // namespace legwork::suspects
