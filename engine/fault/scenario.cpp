#include "engine/fault/scenario.h"

#include <algorithm>
#include <utility>

#include "engine/base/fingerprint.h"
#include "engine/base/suggest.h"
#include "engine/base/text_file.h"
#include "engine/config/reader.h"
#include "engine/fault/modes.h"
#include "engine/plant/plant.h"
#include "engine/unit/loading.h"

namespace legwork::fault {
namespace {

constexpr std::size_t kLongestText = 2000;
constexpr std::size_t kMostFaults = 4;
constexpr std::size_t kMostPairs = 40;
constexpr std::size_t kMostSkills = 20;
constexpr std::size_t kLongestSkill = 60;
constexpr std::size_t kMostAnswers = 20;

LocalText read_words(const Node& node, Diagnostics& found, const Phrase& what) {
  LocalText text = node.exists() ? unit::read_local_text(node, found) : LocalText{};
  if (text.en.size() > kLongestText) {
    found.error(node.source(), node.mark(),
                say("out of range: {what} is longer than {n} characters",
                    {{"what", what}, {"n", Number{kLongestText}}}));
  }
  return text;
}

std::optional<Band> read_band(const Node& node, Dimension dimension, Diagnostics& found) {
  if (!node.exists()) return std::nullopt;
  const std::optional<std::string> written = read_text(node, found);
  if (!written) return std::nullopt;
  const Result<Toleranced> parsed = parse_quantity_with_tolerance(*written, dimension);
  if (!parsed) {
    found.error(node.source(), node.mark(), parsed.failure());
    return std::nullopt;
  }
  if (parsed->tolerance_si <= 0) {
    found.error(
        node.source(), node.mark(),
        say("expected a value with its tolerance, found '{found}'", {{"found", Name{*written}}}),
        say("write for example '24 °F ± 3'"));
    return std::nullopt;
  }
  return Band{parsed->si, parsed->tolerance_si};
}

// "05:10"
double read_time_of_day(const Node& node, Diagnostics& found) {
  const std::string text = node.exists() ? read_text(node, found).value_or("") : "";
  const auto digit = [&text](std::size_t i) { return text[i] >= '0' && text[i] <= '9'; };
  if (text.size() == 5 && text[2] == ':' && digit(0) && digit(1) && digit(3) && digit(4)) {
    const int hours = (text[0] - '0') * 10 + (text[1] - '0');
    const int minutes = (text[3] - '0') * 10 + (text[4] - '0');
    if (hours < 24 && minutes < 60) return hours * 3600.0 + minutes * 60.0;
  }
  if (node.exists()) {
    found.error(node.source(), node.mark(),
                say("expected a time of day, found '{found}'", {{"found", Name{text}}}),
                say("write hours and minutes in quotes: \"05:10\""));
  }
  return 0;
}

Dimension dimension_of(Trigger trigger) {
  return trigger == Trigger::pressure ? Dimension::pressure : Dimension::temperature;
}

Onset read_comes_and_goes(Reader& map, Diagnostics& found) {
  Onset onset;
  onset.when = When::intermittent;
  onset.trigger = map.choice<Trigger>("with", {{"time", Trigger::time},
                                               {"temperature", Trigger::temperature},
                                               {"pressure", Trigger::pressure},
                                               {"vibration", Trigger::vibration}});
  // Which keys it may have follows from the trigger: without it nothing more can be said of them.
  constexpr std::string_view kTriggers[] = {"time", "temperature", "pressure", "vibration"};
  if (!map.ok() || std::find(std::begin(kTriggers), std::end(kTriggers),
                             map.node().find("with").text()) == std::end(kTriggers)) {
    map.take_all_keys();
    return onset;
  }
  switch (onset.trigger) {
    case Trigger::time:
      onset.period_s = map.quantity("every", Dimension::time, {.min = 1, .max = 86400});
      onset.bad_s = map.quantity("for", Dimension::time, {.min = 0.25, .max = 86400});
      break;
    case Trigger::vibration:
      onset.bad_s = map.quantity("for", Dimension::time, {.min = 0.25, .max = 3600});
      break;
    case Trigger::temperature:
    case Trigger::pressure:
      onset.quantity = map.text("of");
      onset.on = map.quantity("bad at", dimension_of(onset.trigger));
      onset.off = map.quantity("good at", dimension_of(onset.trigger));
      if (!onset.quantity.empty()) {
        const int index = plant::find_quantity(onset.quantity);
        if (index < 0) {
          std::vector<std::string_view> names;
          for (const plant::Quantity& each : plant::quantities()) names.push_back(each.name);
          map.error("of",
                    say("unknown quantity '{quantity}'", {{"quantity", Name{onset.quantity}}}),
                    suggestion(onset.quantity, names));
        } else if (plant::quantities()[static_cast<std::size_t>(index)].dimension !=
                   dimension_of(onset.trigger)) {
          map.error("of", say(onset.trigger == Trigger::pressure
                                  ? phrase("'{quantity}' is no pressure")
                                  : phrase("'{quantity}' is no temperature"),
                              {{"quantity", Name{onset.quantity}}}));
        }
      }
      break;
  }
  map.finish();
  (void)found;
  return onset;
}

WrittenFault read_fault(const Node& node, Diagnostics& found) {
  WrittenFault written;
  Reader map(node, found, phrase("a fault"));
  written.mark = map.mark();
  written.fault.what = map.text("what");
  written.fault.how = map.text("how");
  written.severity_text = map.text("severity", "");
  if (const std::optional<double> after =
          map.maybe_quantity("after", Dimension::time, {.min = 0, .max = 172800})) {
    written.fault.onset.when = When::after;
    written.fault.onset.after_s = *after;
  }
  if (std::optional<Reader> goes = map.maybe_map("comes and goes")) {
    if (written.fault.onset.when == When::after) {
      map.error("comes and goes", say("unexpected 'comes and goes' beside 'after'"),
                say("a fault has one of them"));
    }
    written.fault.onset = read_comes_and_goes(*goes, found);
  }
  map.finish();
  return written;
}

Found read_found(Reader& map, FoundMarks& marks, Diagnostics& found) {
  Found result;
  const Choices<Running> three = {
      {"running", Running::running}, {"cycling", Running::cycling}, {"off", Running::off}};
  const Choices<Running> two = {{"running", Running::running}, {"off", Running::off}};
  marks.whole = map.mark();
  const auto line = [&](FoundKind kind, const std::string& key, std::size_t which = 0) {
    if (!map.has(key)) return false;
    marks.lines.push_back({kind, which, key, map.key_mark(key)});
    return true;
  };
  // Of each box: "box" or "box 1", "box 2"; empty: nothing is said of it.
  const auto of_box = [&](FoundKind kind, const std::string& word, std::size_t which) {
    const std::string numbered = word + " " + std::to_string(which + 1);
    if (which > 0) return line(kind, numbered, which) ? numbered : std::string();
    if (!line(kind, word)) return line(kind, numbered) ? numbered : std::string();
    if (map.has(numbered)) {
      map.error(numbered, say("'{one}' and '{other}' are the same: write one of them",
                              {{"one", Name{word}}, {"other", Name{numbered}}}));
    }
    return word;
  };
  for (std::size_t i = 0; i < plant::kMostEvaporators; ++i) {
    FoundBox& box = plant::evaporator_of(result, i);
    if (const std::string key = of_box(FoundKind::box, "box", i); !key.empty())
      box.box_k = read_band(map.maybe(key), Dimension::temperature, found);
    if (const std::string key = of_box(FoundKind::evaporator_fans, "evaporator fans", i);
        !key.empty())
      box.evaporator_fans = map.choice<Running>(key, two);
    if (const std::string key = of_box(FoundKind::frost, "frost", i); !key.empty())
      box.frost = read_band(map.maybe(key), Dimension::fraction, found);
    if (const std::string key = of_box(FoundKind::ice, "drain ice", i); !key.empty())
      box.ice_kg = read_band(map.maybe(key), Dimension::mass, found);
  }
  if (line(FoundKind::compressor, "compressor"))
    result.compressor = map.choice<Running>("compressor", three);
  for (std::size_t i = 0; i < plant::kMostCompressors; ++i) {
    const std::string key = "compressor " + std::to_string(i + 1);
    if (line(FoundKind::one_compressor, key, i))
      result.compressors[i] = map.choice<Running>(key, three);
  }
  if (line(FoundKind::condenser_fans, "condenser fans"))
    result.condenser_fans = map.choice<Running>("condenser fans", two);
  if (line(FoundKind::overload, "overload")) {
    result.overload =
        map.choice<Button>("overload", {{"set", Button::set}, {"tripped", Button::tripped}});
  }
  map.finish();
  std::stable_sort(
      marks.lines.begin(), marks.lines.end(), [](const FoundLine& a, const FoundLine& b) {
        return std::pair(a.mark.line, a.mark.column) < std::pair(b.mark.line, b.mark.column);
      });
  // What the call is about: a temperature if there is one, or else what is said of a coil.
  for (const bool temperature : {true, false}) {
    const auto first =
        std::find_if(marks.lines.begin(), marks.lines.end(), [temperature](const FoundLine& each) {
          return temperature ? each.kind == FoundKind::box
                             : each.kind == FoundKind::evaporator_fans ||
                                   each.kind == FoundKind::frost || each.kind == FoundKind::ice;
        });
    if (first == marks.lines.end()) continue;
    result.about = first->which;
    break;
  }
  return result;
}

void read_answers(const Node& node, Scenario& scenario, Diagnostics& found) {
  if (!node.exists()) return;
  if (!node.is_map()) {
    found.error(node.source(), node.mark(),
                say("expected a map of answers, found {found}", {{"found", node.description()}}));
    return;
  }
  for (const Entry& entry : read_entries(node, phrase("answers"), kMostAnswers, found)) {
    const std::vector<std::string_view>& known = questions();
    if (std::find(known.begin(), known.end(), entry.key) == known.end()) {
      found.error(node.source(), entry.key_mark,
                  say("unknown question '{question}'", {{"question", Name{entry.key}}}),
                  suggestion(entry.key, known));
    }
    scenario.answers.push_back({entry.key, read_words(entry.value, found, phrase("an answer"))});
  }
}

// A line, or {do: LINE, en: REMARK, es: REMARK}.
void read_lead(const std::vector<Node>& nodes, Scenario& scenario, Diagnostics& found) {
  constexpr std::size_t kMostSteps = 200;
  if (nodes.size() > kMostSteps) {
    found.error(nodes[kMostSteps].source(), nodes[kMostSteps].mark(),
                say("out of range: at most {n} steps", {{"n", Number{kMostSteps}}}));
    return;
  }
  for (const Node& node : nodes) {
    LeadStep step;
    step.mark = node.mark();
    if (node.is_map()) {
      Reader map(node, found, phrase("a step of the lead"));
      step.step = map.text("do");
      step.remark.en = map.text("en", "");
      if (std::string es = map.text("es", ""); !es.empty())
        step.remark.others.emplace_back("es", std::move(es));
      map.finish();
    } else {
      step.step = read_text(node, found).value_or("");
    }
    scenario.lead.push_back(std::move(step));
  }
}

}  // namespace

const std::vector<std::string_view>& questions() {
  static const std::vector<std::string_view> words = {"since when",     "what changed",
                                                      "who touched it", "what else is off",
                                                      "last delivery",  "whose lock"};
  return words;
}

std::vector<Fault> Scenario::faults() const {
  std::vector<Fault> list;
  for (const WrittenFault& written : wrong) list.push_back(written.fault);
  return list;
}

std::optional<Scenario> load_scenario(std::string_view text, std::string_view file_name,
                                      Diagnostics& found) {
  Diagnostics mine;
  const Document document = parse_document(std::string(file_name), text, mine);
  Scenario scenario;
  scenario.source = document.source();
  scenario.source_text = text;
  scenario.source_name = file_name;
  scenario.content_hash = sha256_hex(text);
  if (document.ok()) {
    Reader map(document.root(), mine, phrase("the scenario"));
    scenario.id = map.name("scenario");
    scenario.unit = map.name("unit");
    scenario.unit_mark = map.mark_of("unit");
    scenario.title = read_words(map.required("title"), mine, phrase("the title"));
    scenario.difficulty = map.integer("difficulty", 1, 5);
    {
      Reader ticket = map.map("ticket", phrase("the ticket"));
      scenario.ticket.site = ticket.text("site");
      scenario.ticket.said =
          read_words(ticket.required("said"), mine, phrase("what the caller says"));
      scenario.ticket.outdoor_k =
          ticket.quantity("outdoor", Dimension::temperature,
                          {.min = kelvin_from_fahrenheit(-40), .max = kelvin_from_fahrenheit(130)});
      scenario.ticket.humidity = ticket.quantity("humidity", Dimension::fraction,
                                                 {.fallback = 0.5, .min = 0.02, .max = 1});
      scenario.ticket.clock_s = read_time_of_day(ticket.required("time"), mine);
      ticket.finish();
    }
    for (const Node& node : map.list("wrong", kMostFaults))
      scenario.wrong.push_back(read_fault(node, mine));
    if (map.node().find("wrong").is_list() && scenario.wrong.empty()) {
      map.error("wrong", say("expected at least one fault, found an empty list"),
                say("for example: {example}", {{"example", Name{"{what: LLS, how: coil open}"}}}));
    }
    for (const Node& node : map.maybe_list("pairs", kMostPairs)) {
      std::vector<WrittenFault> pair;
      for (const Node& one : read_items(node, phrase("faults in a pair"), 2, mine))
        pair.push_back(read_fault(one, mine));
      if (pair.empty()) {
        mine.error(node.source(), node.mark(),
                   say("expected a list of one fault or two, found {found}",
                       {{"found", node.description()}}));
      }
      scenario.written_pairs.push_back(std::move(pair));
    }
    {
      Reader what_shows = map.map("found");
      scenario.found = read_found(what_shows, scenario.found_marks, mine);
    }
    scenario.par_minutes = map.quantity("par", Dimension::time, {.min = 60, .max = 36000}) / 60;
    for (const Node& node : map.maybe_list("skills", kMostSkills)) {
      const std::optional<std::string> skill = read_text(node, mine);
      if (!skill) continue;
      if (skill->size() > kLongestSkill || skill->find_first_of("\t\n") != std::string::npos) {
        mine.error(node.source(), node.mark(),
                   say("out of range: a skill is one line of at most {n} characters",
                       {{"n", Number{kLongestSkill}}}));
      }
      scenario.skills.push_back(*skill);
    }
    read_answers(map.maybe("answers"), scenario, mine);
    read_lead(map.maybe_list("lead"), scenario, mine);
    scenario.unit_hash = map.text("unit hash", "");
    map.finish();
  }
  const bool bad = mine.has_errors();
  found.append(mine);
  if (bad) return std::nullopt;
  return scenario;
}

std::optional<Scenario> load_scenario_file(const std::string& path, Diagnostics& found) {
  const Result<std::string> text = read_text_file(path);
  if (text) return load_scenario(*text, path, found);
  found.file_error(path, text.failure());
  return std::nullopt;
}

}  // namespace legwork::fault
