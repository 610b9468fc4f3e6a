// Test phrases.cpp, and the file of phrases itself: whatever the engine says on the calls that are
// kept here, and of every unit, has its Spanish.
#include "gui/phrases.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "engine/circuit/kinds.h"
#include "engine/fault/catalogue.h"
#include "engine/fault/modes.h"
#include "engine/fault/repairs.h"
#include "engine/fault/scenario.h"
#include "engine/score/debrief.h"
#include "engine/score/lead.h"
#include "engine/score/words.h"
#include "engine/session/door.h"
#include "engine/session/ticket_files.h"
#include "tests/support/all.h"

namespace legwork::gui {
namespace {

namespace fs = std::filesystem;
using testing::ElementsAre;
using testing::IsEmpty;

PhraseBook book_of(const std::string& text) {
  Diagnostics found;
  PhraseBook book = PhraseBook::parse("p.yaml", text, found);
  EXPECT_EQ(found.text(), "");
  return book;
}

TEST(PhraseBook, WholeSentencesThenPatternsThenTheirPieces) {
  const PhraseBook book = book_of(
      "joined:\n"
      "  - {en: \"{0}, {1}\", es: \"{0}, {1}\"}\n"
      "a:\n"
      "  - {en: \"look at: {0}\", es: \"mirar: {0}\"}\n"
      "  - {en: \"look at: {0} with lamp\", es: \"mirar con lámpara: {0}\"}\n"
      "  - {en: \"the condenser\", es: \"el condensador\"}\n"
      "  - {en: \"{0} is at {1}\", es: \"en {1} está {0}\"}\n"
      "  - {en: \"the roof\", es: \"el techo\"}\n");
  EXPECT_EQ(book.in("the condenser", "es"), "el condensador");
  EXPECT_EQ(book.in("the condenser", "en"), "the condenser");
  EXPECT_EQ(book.in("look at: the condenser", "es"), "mirar: el condensador");
  EXPECT_EQ(book.in("look at: the condenser with lamp", "es"), "mirar con lámpara: el condensador");
  EXPECT_EQ(book.in("the condenser, CC.A1, the roof", "es"), "el condensador, CC.A1, el techo");
  EXPECT_EQ(book.in("CC is at the roof", "es"), "en el techo está CC");
  // A capital that only opens the English sentence goes, one that opens the Spanish one comes.
  EXPECT_EQ(book.in("The condenser is at the roof", "es"), "en el techo está el condensador");
  EXPECT_EQ(book.in("Look at: the roof", "es"), "Mirar: el techo");
}

TEST(PhraseBook, NamesAndNumbersStayAndColumnsAndLinesAreReadAlone) {
  const PhraseBook book = book_of(
      "a:\n"
      "  - {en: \"{0} starts\", es: \"{0} arranca\"}\n"
      "  - {en: points, es: puntos}\n");
  for (const char* stays : {"CC.A1 CC.T1>OL.L1", "204.6 V", "386 psig", "3 h 20 min", "OVER", ""})
    EXPECT_EQ(book.in(stays, "es"), stays);
  EXPECT_THAT(book.left("386 psig, CC"), IsEmpty());
  EXPECT_EQ(book.in("  6.0  points\n  CM starts", "es"), "  6.0  puntos\n  CM arranca");
  EXPECT_THAT(book.left("CM starts\nit does not"), ElementsAre("it does not"));
}

TEST(PhraseBook, WhatIsUnknownStaysAndTheRestIsSaid) {
  const PhraseBook book = book_of(
      "a:\n"
      "  - {en: \"go to: {0}\", es: \"ir a: {0}\"}\n"
      "  - {en: \"write down {=0}\", es: \"anotar: {=0}\"}\n"
      "  - {en: \"{0} stops\", es: \"{0} se para\"}\n"
      "inside:\n"
      "  - {en: \"no\", es: \"ninguno\"}\n");
  EXPECT_EQ(book.in("Go to: backyard", "es"), "Ir a: backyard");
  EXPECT_THAT(book.left("Go to: backyard"), ElementsAre("backyard"));
  EXPECT_EQ(book.in("write down the fan stops", "es"), "anotar: the fan stops");
  EXPECT_THAT(book.left("write down the fan stops"), IsEmpty());
  EXPECT_EQ(book.in("no", "es"), "no") << "it may be Spanish";
  EXPECT_EQ(book.in("go to: no", "es"), "ir a: ninguno");
}

TEST(PhraseBook, NumbersClausesAndQuotes) {
  const PhraseBook book = book_of(
      "a:\n"
      "  - {en: \"{#0} repairs fit\", es: \"cuadran {#0} reparaciones\"}\n"
      "  - {en: \"it struck {#0} names\", es: \"tachó {#0} nombres\"}\n"
      "  - {en: \"It ends.\", es: \"Se acaba.\"}\n"
      "  - {en: \"“{0}”\", es: \"«{0}»\"}\n"
      "  - {en: \"{0} stops\", es: \"{0} se para\"}\n"
      "inside:\n"
      "  - {en: two, es: dos}\n");
  EXPECT_EQ(book.in("It struck two names; 12 repairs fit", "es"),
            "Tachó dos nombres; cuadran 12 reparaciones");
  EXPECT_EQ(book.in("It ends. Two repairs fit · It ends.", "es"),
            "Se acaba. Cuadran dos reparaciones · Se acaba.");
  EXPECT_EQ(book.in("these repairs fit", "es"), "these repairs fit");
  EXPECT_EQ(book.in("“CM stops”", "es"), "«CM se para»");
  EXPECT_EQ(book.in("“the fan stops”", "es"), "“the fan stops”") << "somebody's own words";
}

TEST(PhraseBook, TicketsBringTheirOwn) {
  PhraseBook book = book_of("a:\n  - {en: \"go to: {0}\", es: \"ir a: {0}\"}\n");
  EXPECT_EQ(book.in("go to: The back room", "es"), "ir a: The back room");
  book.add({"The back room", {{"es", "El cuarto de atrás"}}});
  EXPECT_EQ(book.in("go to: The back room", "es"), "ir a: El cuarto de atrás");
  PhraseBook later = book_of("a:\n  - {en: \"open {0}\", es: \"abrir {0}\"}\n");
  later.add(book);
  EXPECT_EQ(later.in("open The back room", "es"), "abrir El cuarto de atrás");
}

TEST(PhraseBook, EverySlipOfTheFileIsFound) {
  Diagnostics found;
  PhraseBook::parse("p.yaml",
                    "a:\n"
                    "  - {en: One}\n"
                    "  - {en: \"{0} of {1}\", es: \"{0} de {2}\"}\n"
                    "  - {en: \"{0} stops\", es: \"{0} se para\"}\n"
                    "  - {en: \"{1} stops\", es: \"se para {1}\"}\n"
                    "  - {en: \"{0}{1}\", es: \"{0}{1}\"}\n"
                    "  - {en: \"{where} is it\", es: x}\n"
                    "b: no list\n",
                    found);
  EXPECT_EQ(found.text(),
            "p.yaml:2:5: error: missing key 'es' in a sentence of 'a'\n"
            "      - {en: One}\n"
            "        ^\n"
            "p.yaml:3:28: error: expected the same blanks as in English\n"
            "      - {en: \"{0} of {1}\", es: \"{0} de {2}\"}\n"
            "                               ^\n"
            "p.yaml:5:10: error: this sentence is there already\n"
            "      - {en: \"{1} stops\", es: \"se para {1}\"}\n"
            "             ^\n"
            "p.yaml:6:10: error: expected something between two blanks\n"
            "      - {en: \"{0}{1}\", es: \"{0}{1}\"}\n"
            "             ^\n"
            "p.yaml:7:10: error: expected a blank like {0}, {#0} or {=0}\n"
            "      - {en: \"{where} is it\", es: x}\n"
            "             ^\n"
            "p.yaml:8:4: error: expected a list of sentences in 'b'\n"
            "    b: no list\n"
            "       ^\n");
}

// Any bytes at all give some text, in bounded time.
TEST(PhraseBook, LongAndOddTextsAreBounded) {
  const PhraseBook book = book_of(
      "a:\n"
      "  - {en: \"{0}, {1}\", es: \"{0}, {1}\"}\n"
      "  - {en: \"{0}, {1}, {2}\", es: \"{0}; {1}; {2}\"}\n"
      "  - {en: \"{0} a {1}\", es: \"{0} e {1}\"}\n");
  std::string commas;
  for (int i = 0; i < 300; ++i) commas += "word, a ";
  EXPECT_FALSE(book.in(commas, "es").empty());
  EXPECT_EQ(book.in(std::string(100000, 'x'), "es").size(), 100000U);
  EXPECT_FALSE(book.in("\xff\xfe{0} a \xc3", "es").empty());
}

// ---- the file itself

// Every text that is said, and what of it is left in English: the piece, and one text it was in.
class Collected {
 public:
  Collected() {
    Diagnostics found;
    book_ = PhraseBook::read(std::string(LEGWORK_SOURCE_DIR) + "/assets/phrases.yaml", found);
    EXPECT_EQ(found.text(), "");
  }
  void learn(const std::vector<LocalText>& texts) {
    for (const LocalText& text : texts) book_.add(text);
  }
  void operator()(const std::string& text) {
    if (!seen_.insert(text).second) return;
    for (const std::string& piece : book_.left(text)) left_.emplace(piece, text);
  }
  void operator()(const std::vector<std::string>& texts) {
    for (const std::string& text : texts) (*this)(text);
  }
  std::string list() const {
    std::string out;
    for (const auto& [piece, text] : left_) out += "  " + piece + "\n      in: " + text + "\n";
    return out;
  }
  std::size_t seen() const { return seen_.size(); }

 private:
  PhraseBook book_;
  std::set<std::string> seen_;
  std::map<std::string, std::string> left_;
};

void collect(const session::Outcome& outcome, Collected& said) {
  said(outcome.why);
  for (const session::Observation& o : outcome.seen.observations) {
    said(o.shown);
    if (o.state < 0) said(o.key + ": " + o.shown);
  }
  said(outcome.seen.said);
  for (const session::Happening& h : outcome.seen.happenings) said(h.what + ".");
  for (const session::Hazard& h : outcome.hazards) said(h.why + " (" + h.reference + ")");
}

void collect(const session::View& view, Collected& said) {
  const session::TicketView& t = view.ticket;
  said({t.title, t.said, t.found, t.difficulty, t.teaches, view.closed_why});
  for (const session::PlaceView& place : view.places) {
    said(place.name);
    said(place.cautions);
  }
  for (const session::Action& action : view.actions)
    said({action.label, action.line, action.why_not});
  for (const session::TerminalView& terminal : view.terminals) said(terminal.why_not);
  for (const session::Tag& tag : view.tags) {
    std::string where;
    for (const std::string& at : tag.at) where += (where.empty() ? "" : " – ") + at;
    said(tag.shown);
    said(tag.function + " " + where + " · 3 min");
  }
  for (const session::TrailEntry& entry : view.trail) said(entry.text);
}

void collect(const score::Account& account, Collected& said) {
  for (const score::Dimension& d : account.dimensions) {
    said(std::string(score::name(d.dim)));
    said(d.sentence);
  }
  for (const score::Gate& gate : account.gates) said({gate.name, gate.sentence});
  said(account.remarks);
}

void collect(const score::Debrief& d, Collected& said) {
  said({d.closed_why, d.ask_first, d.truth, d.goal, d.caution});
  for (const score::SuspectLine& line : d.suspects) said({line.name, line.repair});
  said(d.repairs);
  for (const score::Page& page : d.pages) {
    said({page.words, page.verdict, page.better.words, std::string(word(page.step_class))});
  }
  said(d.wrote);
  collect(d.account, said);
  for (const score::Change& change : d.changes) said(change.sentence);
  for (const score::RouteStep& step : d.route) said({step.words, step.shown});
  for (const score::Series& series : d.series) said(series.name);
  said(d.skills);
}

std::vector<std::string> lines_of(const fs::path& path) {
  std::vector<std::string> lines;
  std::ifstream file(path);
  for (std::string line; std::getline(file, line);) {
    if (!line.empty() && line[0] != '#') lines.push_back(line);
  }
  return lines;
}

std::vector<fs::path> files_in(const char* folder) {
  std::vector<fs::path> out;
  for (const auto& it : fs::directory_iterator(std::string(LEGWORK_SOURCE_DIR) + folder)) {
    if (it.path().extension() == ".yaml") out.push_back(it.path());
  }
  std::sort(out.begin(), out.end());
  return out;
}

session::OpenOptions no_log() {
  session::OpenOptions options;
  options.home = LEGWORK_SOURCE_DIR;
  options.log_path = "-";
  return options;
}

// Goes everywhere and does once what is offered there, save what takes long or spends a part.
void go_round(session::Door& door, Collected& said) {
  std::set<std::string> done;
  for (const session::PlaceView& place : session::View(door.view()).places) {
    collect(door.submit_line("go " + place.id), said);
    collect(door.submit_line("cover off " + place.id), said);
    const session::View view = door.view();
    collect(view, said);
    for (const session::Action& action : view.actions) {
      using session::Group;
      const bool mild = action.group == Group::look || action.group == Group::ask ||
                        action.group == Group::measure || action.group == Group::instruments;
      if (!mild || action.open_ended || !done.insert(action.line).second) continue;
      collect(door.submit(action.step), said);
    }
  }
  collect(door.view(), said);
}

TEST(Phrases, EveryCallHasItsSpanish) {
  Collected said;
  for (const fs::path& path : files_in("/scenarios")) {
    session::Opening opening = session::Door::open(path.string(), no_log());
    ASSERT_TRUE(opening.door) << opening.why;
    said.learn(opening.door->texts());
    collect(opening.door->view(), said);
    const std::string steps = std::string(LEGWORK_SOURCE_DIR) + "/tests/terminal/calls/" +
                              path.stem().string() + ".steps";
    for (const std::string& line : lines_of(steps)) {
      collect(opening.door->submit_line(line), said);
      collect(opening.door->view(), said);
    }
    if (!fs::exists(steps)) go_round(*opening.door, said);
  }
  EXPECT_EQ(said.list(), "") << said.seen() << " texts";
}

TEST(Phrases, EveryUnitHasItsSpanish) {
  Collected said;
  Diagnostics found;
  const std::string home = LEGWORK_SOURCE_DIR;
  const fault::Priors priors = fault::load_priors(home + "/assets/priors.yaml", found);
  for (const fs::path& path : files_in("/circuits")) {
    const auto unit = unit::load_file(path.string(), home + "/assets", found);
    ASSERT_TRUE(unit) << found.text();
    said.learn(session::texts_of({}, *unit));
    said(unit->name.en);
    for (const unit::RungSection& section : unit->sections) said(section.title);
    for (const circuit::Device& device : unit->circuit.devices)
      said(std::string(device.kind->name));
    for (const unit::Look& look : unit->looks) {
      said(look.target);
      for (const unit::LookState& state : look.states) said(state.words.en);
    }
    for (const unit::ProbePoint& probe : unit->probes) said({probe.id, probe.name.en});
    for (const fault::Candidate& it : fault::catalogue(*unit, priors))
      said(score::fault_words(fault::text(*unit, it.fault)));
    for (const fault::Repair& repair : fault::repairs(*unit)) said(repair.text());
    for (const std::string& thing : fault::things(*unit)) {
      said(thing);
      for (const fault::Mode& mode : fault::modes_of(*unit, thing)) said(mode.how);
    }
  }
  EXPECT_EQ(said.list(), "") << said.seen() << " texts";
}

// Slips of hand and tongue, and work that hurts: at the people of the place, at the open panel, and
// with a hand that holds the contactor in.
TEST(Phrases, RefusalsAndHazardsHaveTheirSpanish) {
  const std::vector<std::string> lines = {"dance",
                                          "look",
                                          "volts CC.A1",
                                          "volts CC.A1 CC.A9",
                                          "volts XX.1 CC.A1",
                                          "go cellar",
                                          "go roof",
                                          "go rof",
                                          "look moon",
                                          "look condenzer",
                                          "ask why",
                                          "ask since whn",
                                          "temp nose",
                                          "temp box",
                                          "temp box air with infrared",
                                          "temp shell",
                                          "open CM",
                                          "lock CC",
                                          "reset CC",
                                          "push HPC",
                                          "pull CM",
                                          "discharge CC with resistor",
                                          "spin CC",
                                          "advance CC",
                                          "set time",
                                          "set CC opens 3 psig",
                                          "set TC opens",
                                          "set HPC opens 3",
                                          "set HPC opens 3 psig",
                                          "set HPC opens 3 moons",
                                          "set HPC opns 300 psig",
                                          "set DCK time 5",
                                          "set HPC opens warm",
                                          "volts CC.A1 CC.A1",
                                          "lift nothing",
                                          "lift CC.T1>OL.L1",
                                          "land CC.T1>OL.L1",
                                          "jumper HPC.1 HPC.1",
                                          "jumper HPC.1 HPC.2",
                                          "remove jumper CC.A1 CC.A2",
                                          "insert FU1",
                                          "pull FU1",
                                          "pull FU4",
                                          "fetch moon",
                                          "fetch FU1",

                                          "add charge 2",
                                          "add charge 2 lb",
                                          "add charge 200 lb",
                                          "find leak",
                                          "gauges",
                                          "gauges off",
                                          "gauges on",
                                          "let it run",
                                          "let it run long",
                                          "let it run 20 h",

                                          "remark 99 hm",
                                          "remark 1 a note",
                                          "write down so it was",
                                          "write up stopped by moon",
                                          "write up part HPC: sleepy",
                                          "write up part HPC: stuck opn",
                                          "write up part HPC",
                                          "write up sure 20",
                                          "write up product eat",
                                          "write up watch none",
                                          "sign off",
                                          "gloves on",
                                          "cover on roof",
                                          "cover off roof",
                                          "cover off yard",
                                          "cover off front",
                                          "open DISC",
                                          "close DISC",
                                          "unlock DISC",
                                          "ohms CC.A1 CC.A2",
                                          "ohms CF1.C CF1.R",
                                          "microfarads CAP1.1 CAP1.2",
                                          "spin CF1",
                                          "reset OL",
                                          "push CC",
                                          "release CC",
                                          "discharge CAP1 with screwdriver",
                                          "wash condenser inside out",
                                          "replace HPC",

                                          "tighten FU4.2>HPC.1",

                                          "open door",
                                          "close door",
                                          "volts SUP.L1 GND",
                                          "look HPC",
                                          "look CC with lamp",
                                          "prove dead CC",
                                          "prove dead CF1",
                                          "advance DCK",
                                          "set DCK time 06:00",
                                          "ring the shop",
                                          "ring the shop about ohms across CC.A1–CC.A2, after "
                                          "putting a lock on DISC"};
  Collected said;
  using Way = std::vector<std::string>;
  for (const Way& way : {Way{}, Way{"go roof", "cover off roof"},
                         Way{"gloves on", "go roof", "cover off roof", "push CC"}}) {
    session::Opening opening;
    for (const std::string& line : lines) {
      if (!opening.door || opening.door->view().closed) {
        opening = session::Door::open("mb-006", no_log());
        ASSERT_TRUE(opening.door) << opening.why;
        said.learn(opening.door->texts());
        for (const std::string& step : way) opening.door->submit_line(step);
      }
      const session::Outcome first = opening.door->submit_line(line);
      collect(first, said);
      if (!first.closed && first.minutes < 4) collect(opening.door->submit_line(line), said);
    }
    collect(opening.door->view(), said);
  }
  EXPECT_EQ(said.list(), "") << said.seen() << " texts";
}

// How pieces go together in Spanish: order, articles, capitals.
TEST(Phrases, SentencesReadAsOneWouldWriteThem) {
  Diagnostics found;
  const PhraseBook book =
      PhraseBook::read(std::string(LEGWORK_SOURCE_DIR) + "/assets/phrases.yaml", found);
  const std::pair<const char*, const char*> kSentences[] = {
      {"Look at: condenser with lamp · 5 min", "Mirar: condensador con lámpara · 5 min"},
      {"3 min  CC drops out", "3 min  CC se suelta"},
      {"Wash condenser inside out · 90 min",
       "Lavar el condensador de adentro hacia afuera · 90 min"},
      {"FU4.2>HPC.1, loose (2 ohm)", "FU4.2>HPC.1, conexión floja (2 ohm)"},
      {"fans in the box running; compressor off; the red button is out",
       "ventiladores de la cámara en marcha; compresor parado; el botón rojo está salido"},
      {"It struck three names; two repairs still fit. Volts across CC.A1–CC.A2 would have left "
       "about one of two, in 1 h 20 min.",
       "Tachó tres nombres; todavía cuadran dos reparaciones. Con voltios entre CC.A1 y CC.A2 "
       "habrían quedado más o menos una de dos, en 1 h 20 min."},
      {"When you wrote it up, 2 other repairs besides the condenser (plugged inside) still fitted "
       "your readings.",
       "Cuando hizo el informe, otras 2 reparaciones además del condensador (tapado por dentro) "
       "cuadraban todavía con sus lecturas."},
      {"Left behind: the gauges on, your lock on DISC, HPC set otherwise than it was.",
       "Quedó olvidado: los manómetros puestos, su candado en DISC, HPC con otro ajuste que el que "
       "tenía."},
      {"CC was pushed in past HPC, LPC, which stood open, and no gauges were on to watch the head. "
       "Many employers forbid it.",
       "CC se empujó a mano con HPC, LPC en abierto, y sin manómetros que vigilaran la alta. "
       "Muchas empresas lo prohíben."},
      {"unknown part 'moon'; did you mean 'CM'?", "pieza desconocida 'moon'; ¿quiso decir 'CM'?"},
      {"write up root condenser: plugged inside", "informe: raíz condensador: tapado por dentro"}};
  for (const auto& [english, spanish] : kSentences) EXPECT_EQ(book.in(english, "es"), spanish);
}

// The account from all kinds of facts, without working a call for each.
TEST(Phrases, EveryAccountHasItsSpanish) {
  Collected said;
  for (int k = 0; k < 64; ++k) {
    score::Facts f;
    f.right = k % 2 == 0;
    f.named = k % 7 == 0 ? "" : k % 3 == 0 ? "HPC (stuck open)" : "the condenser (plugged inside)";
    f.proof_u = k % 5 * 0.25;
    f.still_fitting = k % 4;
    f.frozen_by = k % 3 == 0 ? "replace HPC" : "";
    f.minutes = 10.0 * (k % 6);
    f.reference_minutes = 12;
    f.hints = k % 3;
    f.parts_replaced = k % 4;
    if (k % 5 == 1) f.parts_not_needed = {"replace HPC", "replace CC", "replace OL"};
    f.sureness = k % 4 == 3 ? 0 : 50 + 15 * (k % 4);
    f.evidence_p = k % 3 * 0.45;
    if (k % 6 == 5) f.serious_why = {"CAP1 still held 300 V of charge."};
    f.ended_by_hazard = k % 8 == 7;
    f.ended_why = f.ended_by_hazard ? "A hand in a turning fan: CF1." : "";
    f.unknown_leads = k == 40;
    collect(score::grade(f, score::Rubric{}), said);
  }
  EXPECT_EQ(said.list(), "") << said.seen() << " texts";
}

std::string worked(const std::string& scenario, const std::vector<std::string>& lines) {
  const std::string path =
      testing::TempDir() + "/phrases-" + scenario + "-" + std::to_string(lines.size()) + ".jsonl";
  fs::remove(path);
  session::OpenOptions options = no_log();
  options.log_path = path;
  session::Opening opening = session::Door::open(scenario, options);
  EXPECT_TRUE(opening.door) << opening.why;
  for (const std::string& line : lines) {
    if (opening.door) opening.door->submit_line(line);
  }
  return path;
}

TEST(Phrases, EveryDebriefHasItsSpanish) {
  setenv("LEGWORK_DATA", (testing::TempDir() + "/legwork-phrases").c_str(), 1);
  Collected said;
  const bool all = support::all();
  score::DebriefOptions options;
  options.home = LEGWORK_SOURCE_DIR;
  options.with_route = all;
  const std::vector<std::string> careless = {"ring the shop",
                                             "go roof",
                                             "cover off roof",
                                             "volts CC.A1 CC.A2",
                                             "volts CC.A1 CC.A2",

                                             "clamp CC.T1>OL.L1",
                                             "ohms CC.A1 CC.A2",
                                             "open DISC",
                                             "lock DISC",
                                             "replace LPC",
                                             "unlock DISC",
                                             "close DISC",
                                             "write up stopped by LPC",
                                             "write up part LPC: stuck open",
                                             "write up root LPC: stuck open",
                                             "write up sure 90",
                                             "sign off"};
  for (const fs::path& path : files_in("/scenarios")) {
    const std::string id = path.stem().string();
    if (!all && id != "mb-002") continue;
    std::vector<std::vector<std::string>> calls = {careless};
    if (all)
      calls.push_back(
          lines_of(std::string(LEGWORK_SOURCE_DIR) + "/tests/terminal/calls/" + id + ".steps"));
    for (const std::vector<std::string>& lines : calls) {
      if (lines.empty()) continue;
      const std::string log = worked(id, lines);
      session::Opening opening = session::Door::reopen(log, no_log());
      ASSERT_TRUE(opening.door) << opening.why;
      said.learn(opening.door->texts());
      const score::DebriefResult result = score::debrief_file(log, options);
      ASSERT_TRUE(result.debrief) << result.why;
      collect(*result.debrief, said);
    }
  }
  EXPECT_EQ(said.list(), "") << said.seen() << " texts";
}

}  // namespace
}  // namespace legwork::gui
