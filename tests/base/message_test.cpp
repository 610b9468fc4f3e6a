#include "engine/base/message.h"

#include <gtest/gtest.h>

#include <fstream>
#include <iterator>

#include "engine/base/catalogue.h"

namespace legwork {
namespace {

std::string bytes_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

// The catalogue of tests/base/sample.po.
Speech sample(bool celsius = false, bool bar = false) {
  static const auto catalogue = Catalogue::parse("es", bytes_of(LEGWORK_SAMPLE_MO));
  return {catalogue, celsius, bar};
}

TEST(Message, IsEnglishWithItsBlanksFilled) {
  const Message m = say("{part} pulls in.", {{"part", Name{"CC"}}});
  EXPECT_EQ(english(m), "CC pulls in.");
  EXPECT_EQ(render(m, sample()), "CC se cierra.");
  EXPECT_EQ(english(say("{{{a}}} and {b}", {{"a", Number{1.25, 1}}})), "{1.2} and {b}");
  EXPECT_TRUE(Message().empty());
  EXPECT_TRUE(Message(Name{""}).empty());
  EXPECT_EQ(english(Message()), "");
}

TEST(Message, WithoutTranslationFallsBackToEnglish) {
  EXPECT_EQ(render(say("{part} is on fire.", {{"part", Name{"CC"}}}), sample()), "CC is on fire.");
  EXPECT_EQ(render(say_many("One cat.", "{n} cats.", 3), sample()), "3 cats.");
  EXPECT_EQ(Catalogue::of("tlh"), nullptr);
  EXPECT_EQ(Catalogue::of("../es"), nullptr);
  EXPECT_EQ(Catalogue::of(""), nullptr);
  EXPECT_EQ(render(phrase("the condenser"), speech_of("tlh")), "the condenser");
}

TEST(Message, PluralsHaveTheFormsOfTheLanguage) {
  const auto fit = [](int n) {
    return say_many("One repair still fits.", "{n} repairs still fit.", n);
  };
  EXPECT_EQ(english(fit(1)), "One repair still fits.");
  EXPECT_EQ(english(fit(0)), "0 repairs still fit.");
  EXPECT_EQ(english(fit(2)), "2 repairs still fit.");
  EXPECT_EQ(render(fit(1), sample()), "Una reparación aún encaja.");
  EXPECT_EQ(render(fit(3), sample()), "Pocas (3) reparaciones aún encajan.");
  EXPECT_EQ(render(fit(12), sample()), "12 reparaciones aún encajan.");
}

TEST(Message, QuantitiesAreInTheReadersUnits) {
  // 74 °F = 23.3 °C; 386 psig = 26.6 bar gauge (NIST SP 811, appendix B).
  const Message head = say("The head stood at {head}.",
                           {{"head", amount(pascals_from_psig(386), Dimension::pressure)}});
  const Message air = amount(kelvin_from_fahrenheit(74), Dimension::temperature, 0);
  EXPECT_EQ(english(head), "The head stood at 386 psig.");
  EXPECT_EQ(render(head, sample(false, true)), "26.6 bar era la alta.");
  EXPECT_EQ(english(air), "74 °F");
  EXPECT_EQ(render(air, sample(true, false)), "23 °C");
  const Message warmer = amount(5, Dimension::temperature_difference, 0);
  EXPECT_EQ(english(warmer), "9 °F");
  EXPECT_EQ(render(warmer, sample(true, false)), "5 K");
  EXPECT_EQ(render(amount(204.6, Dimension::voltage, 1), sample(true, true)), "204.6 V");
  EXPECT_EQ(render(Amount{kelvin_from_fahrenheit(-5), Dimension::temperature, 0, true}, {}), "−5");
}

TEST(Message, OfMessagesIsOneSentence) {
  const Message what = phrase("the condenser");
  EXPECT_EQ(english(say("face of {what}", {{"what", what}})), "face of the condenser");
  EXPECT_EQ(render(say("face of {what}", {{"what", what}}), sample()), "cara del condensador");
  EXPECT_EQ(english(say("{What} is warm.", {{"what", what}})), "The condenser is warm.");
  EXPECT_EQ(render(say("{What} is warm.", {{"what", what}}), sample()),
            "El condensador está tibio.");
  // Only whole words contract.
  EXPECT_EQ(render(say("ande {what}", {{"what", what}}), sample()), "ande el condensador");
  EXPECT_EQ(render(say("{what}", {{"what", LocalText{"ice", {{"es", "ñame"}}}}}), sample()),
            "ñame");
  EXPECT_EQ(render(say("{What}", {{"what", LocalText{"ice", {{"es", "ñame"}}}}}), sample()),
            "Ñame");
  EXPECT_EQ(render(LocalText{"ice", {{"pt", "gelo"}}}, sample()), "ice");
}

TEST(Message, ListsAreJoinedAsTheLanguageDoes) {
  const std::vector<std::string> names = {"FU1", "FU2", "FU3"};
  EXPECT_EQ(english(listed(names)), "FU1, FU2, FU3");
  EXPECT_EQ(english(listed(names, Joined::by_or)), "FU1, FU2 or FU3");
  EXPECT_EQ(render(listed(names, Joined::by_and), sample()), "FU1, FU2 y FU3");
  EXPECT_EQ(english(listed({"FU1"}, Joined::by_and)), "FU1");
  EXPECT_EQ(english(listed({}, Joined::by_and)), "");
}

TEST(Message, WordsSpelledAlikeAreToldApartByContext) {
  EXPECT_EQ(render(phrase_in("a switch", "off"), sample()), "apagado");
  EXPECT_EQ(render(say_in("a cover", "off"), sample()), "quitada");
  EXPECT_EQ(render(phrase("off"), sample()), "off");
  EXPECT_EQ(english(phrase_in("a cover", "off")), "off");
}

TEST(Message, IsComparedByContent) {
  const auto pulls = [](const char* part) {
    return say("{part} pulls in.", {{"part", Name{part}}});
  };
  EXPECT_EQ(pulls("CC"), pulls("CC"));
  EXPECT_NE(pulls("CC"), pulls("DR"));
  EXPECT_NE(Message(phrase_in("a cover", "off")), Message(phrase_in("a switch", "off")));
  EXPECT_LT(pulls("CC"), pulls("DR"));
  EXPECT_FALSE(pulls("CC") < pulls("CC"));
}

// Authors' words and names may hold an escape that a terminal would obey.
TEST(Message, ControlCharactersOfOthersDoNotReachTheReader) {
  EXPECT_EQ(english(say("{a}", {{"a", Name{"CC\x1B[2J"}}})), "CC\uFFFD[2J");
  EXPECT_EQ(english(LocalText{"a\tb\nc\x7F\xC2\x9B"
                              "d",
                              {}}),
            "a\tb\nc\uFFFD\uFFFDd");
  EXPECT_EQ(without_controls("año ° –"), "año ° –");
}

TEST(Message, TimesOfDay) {
  EXPECT_EQ(english(say("at {clock}", {{"clock", Clock{319}}})), "at 05:19");
  EXPECT_EQ(english(say("at {clock}", {{"clock", Clock{1440 + 61}}})), "at 01:01");
}

TEST(Catalogue, OfTheShippedLanguagesIsFound) {
  const auto spanish = Catalogue::of("es_MX.UTF-8");
  ASSERT_NE(spanish, nullptr);
  EXPECT_EQ(spanish->native_name(), "Español");
  EXPECT_EQ(spanish, Catalogue::of("es"));
  EXPECT_EQ(languages().front().tag, "en");
  EXPECT_GE(languages().size(), 2u);
}

TEST(Catalogue, OfDamagedBytesIsNone) {
  EXPECT_EQ(Catalogue::parse("es", ""), nullptr);
  EXPECT_EQ(Catalogue::parse("es", "not a catalogue at all, but long enough to hold a header"),
            nullptr);
  const std::string good = bytes_of(LEGWORK_SAMPLE_MO);
  for (std::size_t length = 0; length < good.size(); length += 7)
    Catalogue::parse("es", std::string_view(good).substr(0, length));
}

}  // namespace
}  // namespace legwork
