// Test words.cpp, and the file of words itself.

#include "engine/config/words.h"

#include <gtest/gtest.h>

namespace legwork {
namespace {

TEST(Words, SaysEachLanguageAndFallsBackToEnglish) {
  Diagnostics found;
  const Words words = Words::parse(
      "w.yaml", "day sheet:\n  today: {en: \"Today's calls\", es: Las llamadas de hoy}\n", found);
  EXPECT_EQ(found.text(), "");
  EXPECT_EQ(words.say("day sheet.today", "en"), "Today's calls");
  EXPECT_EQ(words.say("day sheet.today", "es"), "Las llamadas de hoy");
  EXPECT_EQ(words.say("day sheet.today", "fr"), "Today's calls");
  EXPECT_EQ(words.say("day sheet.gone", "en"), "day sheet.gone");
}

TEST(Words, BothLanguagesAndTheSameBlanksAreWanted) {
  Diagnostics found;
  Words::parse("w.yaml",
               "page:\n"
               "  one: {en: One}\n"
               "  two: {en: \"{0} min of {1}\", es: \"{0} min\"}\n",
               found);
  EXPECT_EQ(found.text(),
            "w.yaml:2:8: error: missing key 'es' in 'one'\n"
            "      one: {en: One}\n"
            "           ^\n"
            "w.yaml:3:35: error: expected the same blanks as in English\n"
            "      two: {en: \"{0} min of {1}\", es: \"{0} min\"}\n"
            "                                      ^\n");
}

TEST(Words, TheFileIsCompleteInBothLanguages) {
  Diagnostics found;
  const std::string path = std::string(LEGWORK_SOURCE_DIR) + "/assets/words.yaml";
  const Words words = Words::read(path, found);
  EXPECT_EQ(found.text(), "");
  EXPECT_GT(words.all().size(), 10U);
  for (const auto& [key, text] : words.all()) {
    EXPECT_FALSE(text.en.empty()) << key;
    EXPECT_FALSE(text.in("es").empty()) << key;
  }
}

}  // namespace
}  // namespace legwork
