#include "engine/config/reader.h"

#include <gtest/gtest.h>

namespace legwork {
namespace {

enum class Reset { automatic, manual };
const Choices<Reset> kResets = {{"automatic", Reset::automatic}, {"manual", Reset::manual}};

// Reads one device from the text by a fixed set of keys and gives back all that was said.
std::string complaints(std::string_view text) {
  Diagnostics diagnostics;
  const Document document = parse_document("x.yaml", text, diagnostics);
  Reader device(document.root(), diagnostics, say("device '{device}'", {{"device", Name{"HPC"}}}));
  device.quantity("opens", Dimension::pressure, {.max = pascals_from_psig(1000)});
  device.quantity("closes", Dimension::pressure, {.fallback = 1.0});
  device.integer("poles", 1, 4, 1);
  device.choice<Reset>("reset", kResets, Reset::automatic);
  device.flag("sealed", false);
  device.text("words", "");
  device.quantities("panel", Dimension::number, 2, {.fallback = 0.0});
  device.finish();
  return diagnostics.text();
}

TEST(Reader, Values) {
  Diagnostics diagnostics;
  const Document document = parse_document(
      "x.yaml",
      "{opens: 425 psig, poles: 3, reset: manual, sealed: yes, words: ab c, panel: [4, 2], "
      "load: 12.5 A, at: roof, alone: one, box: {low: 3}}",
      diagnostics);
  Reader r(document.root(), diagnostics, say("device '{device}'", {{"device", Name{"HPC"}}}));
  EXPECT_DOUBLE_EQ(r.quantity("opens", Dimension::pressure), pascals_from_psig(425));
  EXPECT_EQ(r.quantity("closes", Dimension::pressure, {.fallback = 7.0}), 7.0);
  EXPECT_FALSE(r.maybe_quantity("closes", Dimension::pressure));
  EXPECT_EQ(r.integer("poles", 1, 4), 3);
  EXPECT_EQ(r.integer("ways", 1, 4, 2), 2);
  EXPECT_EQ(r.choice<Reset>("reset", kResets), Reset::manual);
  EXPECT_TRUE(r.flag("sealed"));
  EXPECT_EQ(r.text("words"), "ab c");
  EXPECT_EQ(r.text("at", "box"), "roof");
  EXPECT_EQ(r.quantities("panel", Dimension::number, 2), (std::vector<double>{4, 2}));
  EXPECT_EQ(r.get<Amps>("load"), Amps(12.5));
  EXPECT_EQ(r.list("alone").size(), 1u);
  EXPECT_TRUE(r.maybe_list("nothing").empty());
  EXPECT_EQ(r.map("box").integer("low", 0, 9), 3);
  EXPECT_FALSE(r.maybe_map("bin"));
  r.finish();
  EXPECT_EQ(diagnostics.text(), "");
}

TEST(Reader, UnknownAndMissingKeys) {
  EXPECT_EQ(complaints("opns: 425 psig\n"),
            "x.yaml:1:1: error: missing key 'opens' in device 'HPC'\n"
            "    opns: 425 psig\n"
            "    ^\n"
            "x.yaml:1:1: error: unknown key 'opns' in device 'HPC'\n"
            "    opns: 425 psig\n"
            "    ^\n"
            "    did you mean 'opens'?\n");
  EXPECT_EQ(complaints("{opens: 425 psig, wattage: 3}\n"),
            "x.yaml:1:19: error: unknown key 'wattage' in device 'HPC'\n"
            "    {opens: 425 psig, wattage: 3}\n"
            "                      ^\n"
            "    known keys: opens, closes, poles, reset, sealed, words or panel\n");
}

TEST(Reader, AllAtOnceInTheOrderOfTheFile) {
  EXPECT_EQ(complaints("panel: [4]\n"
                       "opens: 425\n"
                       "closes: 325 V\n"
                       "poles: 3.5\n"
                       "reset: manuel\n"
                       "sealed: maybe\n"
                       "words: [a]\n"),
            "x.yaml:1:8: error: expected a list of 2 values, found 1 of them\n"
            "    panel: [4]\n"
            "           ^\n"
            "x.yaml:2:8: error: missing unit: expected a pressure such as 425 psig, found '425'\n"
            "    opens: 425\n"
            "           ^\n"
            "x.yaml:3:9: error: expected a pressure such as 425 psig, found '325 V', which is a "
            "voltage\n"
            "    closes: 325 V\n"
            "            ^\n"
            "x.yaml:4:8: error: expected a whole number, found '3.5'\n"
            "    poles: 3.5\n"
            "           ^\n"
            "x.yaml:5:8: error: unknown reset 'manuel'\n"
            "    reset: manuel\n"
            "           ^\n"
            "    did you mean 'manual'?\n"
            "x.yaml:6:9: error: expected yes or no, found 'maybe'\n"
            "    sealed: maybe\n"
            "            ^\n"
            "x.yaml:7:8: error: expected text, found a list\n"
            "    words: [a]\n"
            "           ^\n");
}

TEST(Reader, Ranges) {
  EXPECT_EQ(complaints("{opens: 1001 psig, poles: 5}"),
            "x.yaml:1:9: error: out of range: expected a pressure at most 1000 psig, found '1001 "
            "psig'\n"
            "    {opens: 1001 psig, poles: 5}\n"
            "            ^\n"
            "x.yaml:1:27: error: out of range: expected a whole number between 1 and 4, found "
            "'5'\n"
            "    {opens: 1001 psig, poles: 5}\n"
            "                              ^\n");
  EXPECT_EQ(complaints("{opens: 1000 psig, poles: 4}"), "");
  EXPECT_EQ(complaints("{opens: 1 psig, poles: 99999999999}"),
            "x.yaml:1:24: error: out of range: expected a whole number between 1 and 4, found "
            "'99999999999'\n"
            "    {opens: 1 psig, poles: 99999999999}\n"
            "                           ^\n");
}

TEST(Reader, WrongShapes) {
  EXPECT_EQ(complaints("- a\n"),
            "x.yaml:1:1: error: expected a map for device 'HPC', found a list\n"
            "    - a\n"
            "    ^\n");
  EXPECT_EQ(complaints("{opens: {a: 1}, reset: [manual]}"),
            "x.yaml:1:9: error: expected a pressure such as 425 psig, found a map\n"
            "    {opens: {a: 1}, reset: [manual]}\n"
            "            ^\n"
            "x.yaml:1:24: error: expected automatic or manual, found a list\n"
            "    {opens: {a: 1}, reset: [manual]}\n"
            "                           ^\n");
  EXPECT_EQ(complaints("{opens: }"),
            "x.yaml:1:9: error: expected a pressure such as 425 psig, found nothing\n"
            "    {opens: }\n"
            "            ^\n");
}

}  // namespace
}  // namespace legwork
