#include "engine/session/hat.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <filesystem>
#include <vector>

#include "engine/base/quantity.h"
#include "engine/base/random.h"
#include "engine/fault/catalogue.h"
#include "engine/session/attempt.h"
#include "engine/session/complaint.h"

namespace legwork::session {
namespace {

namespace fs = std::filesystem;

constexpr std::uint64_t kLargest = 999999999;
constexpr int kMostTried = 60;  // faults; more than that nobody calls about means a broken unit

struct Caller {
  const char* site;
  const char* title;
  const char* es;
};
// Of Marrow Bay: those who keep cold rooms, and those who cool the rooms they sit in.
constexpr std::array<Caller, 8> kStores = {{{"bakery", "Bakery", "Panadería"},
                                            {"fish market", "Fish market", "Mercado de pescado"},
                                            {"food pantry", "Food pantry", "Despensa comunitaria"},
                                            {"school kitchen", "School kitchen", "Cocina escolar"},
                                            {"depot", "Depot", "Depósito"},
                                            {"ferry canteen", "Ferry canteen", "Cantina del ferry"},
                                            {"packing shed", "Packing shed", "Empacadora"},
                                            {"smokehouse", "Smokehouse", "Ahumadero"}}};
constexpr std::array<Caller, 3> kRooms = {{{"town library", "Town library", "Biblioteca"},
                                           {"harbor office", "Harbor office", "Oficina del puerto"},
                                           {"clinic", "Clinic", "Clínica"}}};

struct Text {
  std::string en, es;
};

bool cools_a_room(const unit::Unit& unit) { return unit.plant.product_kg <= 0; }

int fahrenheit(double kelvin) {
  return static_cast<int>(std::lround(fahrenheit_from_kelvin(kelvin)));
}

// What they see and hear, and no more.
Text said(const Complaint& it, double sound_high, const unit::Unit& unit, std::uint64_t way) {
  const bool room = cools_a_room(unit);
  const bool outside = std::any_of(unit.places.begin(), unit.places.end(),
                                   [](const unit::Place& place) { return place.outdoors; });
  const Text machine = outside ? Text{"the machine outside", "la máquina de afuera"}
                               : Text{"the machine", "la máquina"};
  const int now = fahrenheit(it.found.box_k->middle), usual = fahrenheit(sound_high);
  Text out;
  if (room) {
    out = {fmt::format("It is {} °F in here, and {} °F is the most it ever was.", now, usual),
           fmt::format("Aquí hay {} °F, y nunca pasaba de {} °F.", now, usual)};
  } else if (way == 0) {
    out = {
        fmt::format("It is too warm in the box: {} °F, and it never was over {} °F.", now, usual),
        fmt::format("La cámara está caliente: {} °F, y nunca pasaba de {} °F.", now, usual)};
  } else {
    out = {fmt::format("The thermometer in the box says {} °F. It should be {} °F at the most.",
                       now, usual),
           fmt::format("El termómetro de la cámara marca {} °F. Debería estar en {} °F a lo más.",
                       now, usual)};
  }
  switch (*it.found.compressor) {
    case fault::Running::running:
      out.en += fmt::format(" I hear {} run and run.", machine.en);
      out.es += fmt::format(" Se oye que {} no para nunca.", machine.es);
      break;
    case fault::Running::cycling:
      out.en += fmt::format(" I hear {} start and stop.", machine.en);
      out.es += fmt::format(" Se oye que {} arranca y se para.", machine.es);
      break;
    case fault::Running::off:
      out.en += fmt::format(" I hear nothing of {}.", machine.en);
      out.es += fmt::format(" De {} no se oye nada.", machine.es);
      break;
  }
  const bool blows = *it.found.evaporator_fans == fault::Running::running;
  out.en += blows ? " Air is blowing inside." : " Nothing blows inside.";
  out.es += blows ? " Adentro sí sopla aire." : " Adentro no sopla nada.";
  return out;
}

Text since_when(double hours) {
  if (hours < 1.5) return {"An hour, if that.", "Una hora, si acaso."};
  if (hours < 16) {
    const int whole = static_cast<int>(std::lround(hours));
    return {fmt::format("It has been {} hours, I would say.", whole),
            fmt::format("Unas {} horas, diría yo.", whole)};
  }
  return {"Since yesterday.", "Desde ayer."};
}

std::string in_quotes(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out + "\"";
}

std::string in_both(const Text& text) {
  return fmt::format("{{en: {}, es: {}}}", in_quotes(text.en), in_quotes(text.es));
}

std::string word(fault::Running running) {
  return running == fault::Running::running   ? "running"
         : running == fault::Running::cycling ? "cycling"
                                              : "off";
}

std::vector<std::string> unit_ids(const std::string& home) {
  std::vector<std::string> out;
  std::error_code error;
  for (fs::directory_iterator it(home + "/circuits", error), end; !error && it != end;
       it.increment(error)) {
    if (it->path().extension() == ".yaml") out.push_back(it->path().stem().string());
  }
  std::sort(out.begin(), out.end());
  return out;
}

// What fails often is drawn often: its index.
std::size_t draw(std::vector<fault::Candidate>& hat, Random& random) {
  double all = 0;
  for (const fault::Candidate& one : hat) all += one.prior;
  double at = random.between_reals(0, all);
  for (std::size_t i = 0; i < hat.size(); ++i) {
    at -= hat[i].prior;
    if (at < 0) return i;
  }
  return hat.size() - 1;
}

}  // namespace

std::string HatName::id() const {
  return unit.empty() ? fmt::format("{}{}", kHatPrefix, number)
                      : fmt::format("{}{}-{}", kHatPrefix, unit, number);
}

std::optional<HatName> hat_name(std::string_view scenario) {
  if (scenario.substr(0, kHatPrefix.size()) != kHatPrefix) return std::nullopt;
  scenario.remove_prefix(kHatPrefix.size());
  HatName name;
  const std::size_t dash = scenario.rfind('-');
  if (dash != scenario.npos) {
    name.unit = scenario.substr(0, dash);
    scenario.remove_prefix(dash + 1);
    if (name.unit.empty()) return std::nullopt;
  }
  const char* end = scenario.data() + scenario.size();
  const auto [stop, error] = std::from_chars(scenario.data(), end, name.number);
  if (error != std::errc() || stop != end || name.number > kLargest) return std::nullopt;
  return name;
}

TicketFiles hat_ticket(const HatName& name, const std::string& home_given, const HatWatch& watch) {
  TicketFiles out;
  const std::string home = home_or(home_given);
  const std::vector<std::string> units = unit_ids(home);
  HatName full = name;
  const Random numbers(name.number);
  if (full.unit.empty() && !units.empty())
    full.unit = units[static_cast<std::size_t>(numbers.fork("unit").below(units.size()))];
  if (std::find(units.begin(), units.end(), full.unit) == units.end()) {
    out.found.file_error(name.id(), fmt::format("unknown unit '{}'", full.unit));
    return out;
  }
  auto read =
      unit::load_file(home + "/circuits/" + full.unit + ".yaml", home + "/assets", out.found);
  const fault::Priors priors = fault::load_priors(home + "/assets/priors.yaml", out.found);
  if (!read || out.found.has_errors()) return out;
  const auto unit = std::make_shared<const unit::Unit>(std::move(*read));

  // The hour and the weather first: a fault that is drawn again has them too.
  Random day = numbers.fork("day").fork(full.unit);
  const bool room = cools_a_room(*unit);
  const std::uint64_t stores = kStores.size(), rooms = kRooms.size();
  const Caller site = room ? kRooms[static_cast<std::size_t>(day.below(rooms))]
                           : kStores[static_cast<std::size_t>(day.below(stores))];
  const auto outdoor_f = day.between(room ? 76 : 62, 95);
  const auto humidity = 5 * day.between(8, 15);
  const auto quarter = day.between(5 * 4, 18 * 4);
  const std::uint64_t way = day.below(2);
  fault::Ticket ticket;
  ticket.outdoor_k = kelvin_from_fahrenheit(static_cast<double>(outdoor_f));
  ticket.humidity = static_cast<double>(humidity) / 100;
  ticket.clock_s = static_cast<double>(quarter * 15 * 60);
  const double high_k = sound_high_k(unit, ticket);

  std::vector<fault::Candidate> hat;
  for (fault::Candidate& one : fault::catalogue(*unit, priors)) {
    if (!one.latent) hat.push_back(std::move(one));
  }
  Random draws = numbers.fork("fault").fork(full.unit);
  for (int tried = 0; tried < kMostTried && !hat.empty(); ++tried) {
    if (watch.tried != nullptr) *watch.tried = tried;
    const std::size_t at = draw(hat, draws);
    const fault::Fault fault = hat[at].fault;
    hat.erase(hat.begin() + static_cast<std::ptrdiff_t>(at));
    const std::optional<Complaint> complaint =
        complaint_of(unit, ticket, fault, high_k, watch.cancel);
    if (watch.cancel != nullptr && watch.cancel->load()) {
      out.found.file_error(full.id(), "cancelled");
      return out;
    }
    if (!complaint) continue;  // nobody would call
    const std::string severity = fault.severity == fault::kUsualSeverity
                                     ? std::string()
                                     : fmt::format(", severity: {}", fault.severity);
    const std::string text = fmt::format(
        "scenario: {}\nunit: {}\nunit hash: {}\ntitle: {}\ndifficulty: 3\nticket:\n  site: {}\n"
        "  said: {}\n  outdoor: {} °F\n  humidity: {} %\n  time: \"{:02}:{:02}\"\n"
        "wrong:\n  - {{what: {}, how: {}{}}}\n"
        "found: {{box: {} °F ± 3, compressor: {}, evaporator fans: {}}}\npar: 45 min\n"
        "answers:\n  since when: {}\n",
        full.id(), full.unit, unit->content_hash, in_both({site.title, site.es}), site.site,
        in_both(said(*complaint, high_k, *unit, way)), outdoor_f, humidity, quarter / 4,
        quarter % 4 * 15, in_quotes(fault.what), in_quotes(fault.how), severity,
        fahrenheit(complaint->found.box_k->middle), word(*complaint->found.compressor),
        word(*complaint->found.evaporator_fans), in_both(since_when(complaint->since_hours)));
    std::optional<fault::Scenario> scenario =
        fault::load_scenario(text, full.id() + ".yaml", out.found);
    if (!scenario || !fault::check_scenario(*scenario, *unit, out.found)) return out;
    auto made = std::make_shared<const fault::Scenario>(std::move(*scenario));
    // Looked for by the ticket's own words, the moment may not be there: a fan that comes and goes.
    if (begin(unit, made, 1) == nullptr) continue;
    out.scenario = std::move(made);
    out.unit = unit;
    return out;
  }
  out.found.file_error(full.id(), "nobody would call about any of the faults that were drawn");
  return out;
}

}  // namespace legwork::session
