#include "engine/session/hat.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <filesystem>
#include <vector>

#include "engine/base/catalogue.h"
#include "engine/base/message.h"
#include "engine/base/quantity.h"
#include "engine/base/random.h"
#include "engine/fault/catalogue.h"
#include "engine/session/attempt.h"
#include "engine/session/complaint.h"
#include "engine/session/unit_files.h"

namespace legwork::session {
namespace {

constexpr std::uint64_t kLargest = 999999999;
constexpr int kMostTried = 60;  // faults; more than that nobody calls about means a broken unit

struct Caller {
  const char* site;
  Phrase title;
};
// Of Marrow Bay: those who keep cold rooms, and those who cool the rooms they sit in.
constexpr std::array<Caller, 8> kStores = {{{"bakery", phrase("Bakery")},
                                            {"fish market", phrase("Fish market")},
                                            {"food pantry", phrase("Food pantry")},
                                            {"school kitchen", phrase("School kitchen")},
                                            {"depot", phrase("Depot")},
                                            {"ferry canteen", phrase("Ferry canteen")},
                                            {"packing shed", phrase("Packing shed")},
                                            {"smokehouse", phrase("Smokehouse")}}};
constexpr std::array<Caller, 3> kRooms = {{{"town library", phrase("Town library")},
                                           {"harbor office", phrase("Harbor office")},
                                           {"clinic", phrase("Clinic")}}};

bool cools_a_room(const unit::Unit& unit) { return unit.plant.product_kg <= 0; }

int fahrenheit(double kelvin) {
  return static_cast<int>(std::lround(fahrenheit_from_kelvin(kelvin)));
}

// As they call it: where somebody stands who is in it. Empty: nobody can.
Message name_of_box(const unit::Unit& unit, std::size_t box) {
  for (const unit::Place& place : unit.places) {
    if (place.in_box && place.box == box) return place.name;
  }
  return {};
}

// What they see and hear, and no more. They read their own thermometer: in °F.
Message said(const Complaint& it, double sound_high, const unit::Unit& unit, std::uint64_t way) {
  const bool outside = std::any_of(unit.places.begin(), unit.places.end(),
                                   [](const unit::Place& place) { return place.outdoors; });
  const Message machine = outside ? phrase("the machine outside") : phrase("the machine");
  const auto degrees = [](double kelvin) { return Number{fahrenheit(kelvin)}; };
  const fault::FoundBox& box = it.found.called_about();
  const Number now = degrees(box.box_k->middle), usual = degrees(sound_high);
  List out{{}, Joined::by_spaces};
  const auto add = [&](Message sentence) { out.items.push_back(std::move(sentence)); };
  if (cools_a_room(unit)) {
    add(say("It is {now} °F in here, and {usual} °F is the most it ever was.",
            {{"now", now}, {"usual", usual}}));
  } else if (plant::evaporator_count(unit.plant) > 1) {
    const Message where = name_of_box(unit, it.found.about);
    add(say("{where}: {now} °F, and it never was over {usual} °F.",
            {{"where", where.empty() ? say("box {n}",
                                           {{"n", Number{static_cast<double>(it.found.about + 1)}}})
                                     : where},
             {"now", now},
             {"usual", usual}}));
  } else if (way == 0) {
    add(say("It is too warm in the box: {now} °F, and it never was over {usual} °F.",
            {{"now", now}, {"usual", usual}}));
  } else {
    add(say("The thermometer in the box says {now} °F. It should be {usual} °F at the most.",
            {{"now", now}, {"usual", usual}}));
  }
  switch (*it.found.compressor) {
    case fault::Running::running:
      add(say("I hear {machine} run and run.", {{"machine", machine}}));
      break;
    case fault::Running::cycling:
      add(say("I hear {machine} start and stop.", {{"machine", machine}}));
      break;
    case fault::Running::off:
      add(say("I hear nothing of {machine}.", {{"machine", machine}}));
      break;
  }
  add(*box.evaporator_fans == fault::Running::running ? say("Air is blowing inside.")
                                                      : say("Nothing blows inside."));
  return out;
}

Message since_when(double hours) {
  if (hours < 1.5) return say("An hour, if that.");
  if (hours < 16)
    return say("It has been {n} hours, I would say.", {{"n", Number{std::round(hours), 0}}});
  return say("Since yesterday.");
}

std::string in_quotes(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out + "\"";
}

// In every language there is, as a scenario file has it.
std::string in_all(const Message& text) {
  std::string out;
  for (const Language& language : languages()) {
    out += fmt::format("{}{}: {}", out.empty() ? "" : ", ", language.tag,
                       in_quotes(render(text, speech_of(language.tag))));
  }
  return "{" + out + "}";
}

std::string word(fault::Running running) {
  return running == fault::Running::running   ? "running"
         : running == fault::Running::cycling ? "cycling"
                                              : "off";
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
  std::vector<std::string> units;
  for (const std::string& path : files_in(home + "/circuits", ".yaml"))
    units.push_back(std::filesystem::path(path).stem().string());
  std::sort(units.begin(), units.end());
  HatName full = name;
  const Random numbers(name.number);
  if (full.unit.empty() && !units.empty())
    full.unit = units[static_cast<std::size_t>(numbers.fork("unit").below(units.size()))];
  if (std::find(units.begin(), units.end(), full.unit) == units.end()) {
    out.found.file_error(name.id(), say("unknown unit '{unit}'", {{"unit", Name{full.unit}}}));
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
  const plant::BoxTemperatures high_k = sound_high_k(unit, ticket);

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
      out.found.file_error(full.id(), say("cancelled"));
      return out;
    }
    if (!complaint) continue;  // nobody would call
    const std::string severity = fault.severity == fault::kUsualSeverity
                                     ? std::string()
                                     : fmt::format(", severity: {}", fault.severity);
    const fault::FoundBox& box = complaint->found.called_about();
    const std::string number = plant::evaporator_count(unit->plant) > 1
                                   ? fmt::format(" {}", complaint->found.about + 1)
                                   : std::string();
    const std::string text = fmt::format(
        "scenario: {}\nunit: {}\nunit hash: {}\ntitle: {}\ndifficulty: 3\nticket:\n  site: {}\n"
        "  said: {}\n  outdoor: {} °F\n  humidity: {} %\n  time: \"{:02}:{:02}\"\n"
        "wrong:\n  - {{what: {}, how: {}{}}}\n"
        "found: {{box{}: {} °F ± 3, compressor: {}, evaporator fans{}: {}}}\npar: 45 min\n"
        "answers:\n  since when: {}\n",
        full.id(), full.unit, unit->content_hash, in_all(site.title), site.site,
        in_all(said(*complaint, high_k[complaint->found.about], *unit, way)), outdoor_f, humidity,
        quarter / 4, quarter % 4 * 15, in_quotes(fault.what), in_quotes(fault.how), severity,
        number, fahrenheit(box.box_k->middle), word(*complaint->found.compressor), number,
        word(*box.evaporator_fans), in_all(since_when(complaint->since_hours)));
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
  out.found.file_error(full.id(), say("nobody would call about any of the faults that were drawn"));
  return out;
}

}  // namespace legwork::session
