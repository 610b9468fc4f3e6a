#include "engine/config/document.h"

#include <gtest/gtest.h>

#include "engine/base/random.h"
#include "engine/base/text_file.h"
#include "tests/support/translated.h"

namespace legwork {
namespace {

std::string errors_of(std::string_view text) {
  Diagnostics diagnostics;
  parse_document("x.yaml", text, diagnostics);
  EXPECT_EQ(support::untranslated(diagnostics, std::string(text)), "");
  return diagnostics.text();
}

TEST(Document, ValuesInTheOrderOfTheFileWithTheirPlaces) {
  Diagnostics diagnostics;
  const Document document = parse_document("x.yaml",
                                           "zebra: 1\n"
                                           "ant: {µ: [a, 'b c'], none: }\n"
                                           "\"bee\": |\n"
                                           "  two\n"
                                           "  lines\n",
                                           diagnostics);
  ASSERT_TRUE(document.ok()) << diagnostics.text();
  const std::vector<Entry> entries = document.root().entries();
  ASSERT_EQ(entries.size(), 3u);
  EXPECT_EQ(entries[0].key, "zebra");
  EXPECT_EQ(entries[1].key, "ant");
  EXPECT_EQ(entries[1].key_mark, (Mark{2, 1}));
  const Node list = entries[1].value.find("µ");
  ASSERT_TRUE(list.is_list());
  EXPECT_EQ(list.at(1).text(), "b c");
  EXPECT_TRUE(list.at(1).quoted());
  EXPECT_EQ(list.at(1).mark(), (Mark{2, 14}));
  EXPECT_EQ(entries[1].value.find("none").kind(), Node::Kind::null);
  EXPECT_FALSE(entries[1].value.find("other").exists());
  EXPECT_EQ(entries[2].value.text(), "two\nlines\n");
  EXPECT_FALSE(list.at(2).exists());
}

// Escaped in the file, they are seen only here; they never come through.
TEST(Document, ControlCharactersAreRefusedAfterUnescaping) {
  for (const char* escaped :
       {"\\x1b[31m", "\\x07", "\\0", "\\r", "\\x7f", "\\x9b", "\\u202E", "\\L", "\\ufeff"}) {
    for (const std::string& text :
         {"a: \"x" + std::string(escaped) + "y\"\n", "\"x" + std::string(escaped) + "\": 1\n",
          "a: [b, \"" + std::string(escaped) + "\"]\n"}) {
      const std::string errors = errors_of(text);
      EXPECT_NE(errors.find("error: unexpected control character U+"), std::string::npos) << text;
    }
  }
  // What the parser makes a single byte of, which is no character.
  for (const char* text : {"a: \"\\N\"\n", "a: \"\\_\"\n", "\"\\N\": 1\n"}) {
    EXPECT_NE(errors_of(text).find("error: unexpected escape"), std::string::npos) << text;
  }
  EXPECT_EQ(errors_of("a: \"tab\\tand line\\nfeed, \\u00B0, \\u2126\"\n"), "");
}

TEST(Document, TextsAndKeysAreBounded) {
  EXPECT_EQ(errors_of("a: " + std::string(kDocumentText, 'x') + "\n"), "");
  EXPECT_NE(errors_of("a: " + std::string(kDocumentText + 1, 'x') + "\n")
                .find("out of range: a text of more than 4000 characters"),
            std::string::npos);
  EXPECT_NE(errors_of(std::string(kDocumentKey + 1, 'x') + ": 1\n")
                .find("out of range: a key of more than 100 characters"),
            std::string::npos);
}

TEST(Document, MistakesAreNamedWithTheirPlace) {
  EXPECT_EQ(errors_of("a: 1\nb: 2\na: 3\n"),
            "x.yaml:3:1: error: duplicate key 'a'\n"
            "    a: 3\n"
            "    ^\n"
            "    first written in line 1\n");
  EXPECT_EQ(errors_of("a: [1, 2\nb: 3\n"),
            "x.yaml:2:2: error: missing ']' of the list opened in line 1\n"
            "    b: 3\n"
            "     ^\n");
  EXPECT_EQ(errors_of("a: {b: 1\n"),
            "x.yaml:2:1: error: missing '}' of the map opened in line 1\n"
            "    between two keys stands a comma\n");
  EXPECT_EQ(errors_of("a: &x 1\nb: *x\n"),
            "x.yaml:1:4: error: unexpected anchor\n"
            "    a: &x 1\n"
            "       ^\n"
            "    anchors (&name) are not taken\n");
  EXPECT_EQ(errors_of("a: !!int 1\n"),
            "x.yaml:1:4: error: unexpected tag 'tag:yaml.org,2002:int'\n"
            "    a: !!int 1\n"
            "       ^\n"
            "    tags (!name) are not taken\n");
  EXPECT_EQ(errors_of("a: 1\n---\nb: 2\n"),
            "x.yaml:2:1: error: unexpected second document in one file\n"
            "    ---\n"
            "    ^\n");
  EXPECT_EQ(errors_of("[a]: 1\n"),
            "x.yaml:1:1: error: expected a word as key, found a list\n"
            "    [a]: 1\n"
            "    ^\n"
            "    is a closing bracket missing?\n");
  EXPECT_EQ(errors_of(""), "x.yaml: error: missing content: the file is empty\n");
  EXPECT_EQ(errors_of("# only a comment\n"), "x.yaml: error: missing content: the file is empty\n");
  EXPECT_EQ(errors_of("a: \"open\n"),
            "x.yaml:1:4: error: missing closing quote\n"
            "    a: \"open\n"
            "       ^\n");
  EXPECT_EQ(errors_of("a: 'it''s open\n"),
            "x.yaml:1:4: error: missing closing quote\n"
            "    a: 'it''s open\n"
            "       ^\n");
  EXPECT_EQ(errors_of("a: 'it''s'\nb: \"\\\"\"\n"), "");
  EXPECT_EQ(errors_of("a: b: c\n"),
            "x.yaml:1:5: error: unexpected ':' in a value\n"
            "    a: b: c\n"
            "        ^\n"
            "    put text that has ': ' in it between double quotes\n");
  EXPECT_EQ(errors_of("a: @x\n"),
            "x.yaml:1:4: error: unexpected character\n"
            "    a: @x\n"
            "       ^\n"
            "    put the text between double quotes\n");
  EXPECT_EQ(errors_of("a:\n\t- x\n"),
            "x.yaml:2:2: error: unexpected tab at the beginning of the line\n"
            "    \t- x\n"
            "    \t^\n"
            "    indent with spaces\n");
}

TEST(Document, Limits) {
  const std::string deep = std::string(33, '[') + std::string(33, ']');
  EXPECT_EQ(errors_of(deep), "x.yaml:1:33: error: out of range: deeper than 32 levels\n    " +
                                 deep + "\n" + std::string(36, ' ') + "^\n");
  EXPECT_EQ(errors_of(std::string(32, '[') + std::string(32, ']')), "");
  std::string many = "[";
  for (int i = 0; i < kDocumentValues; ++i) many += "a,\n";
  EXPECT_TRUE(errors_of(many + "a]")
                  .starts_with("x.yaml:20000:1: error: out of range: more than 20000 values\n"));
  EXPECT_EQ(errors_of(std::string((1u << 20) + 1, 'a')),
            "x.yaml: error: out of range: larger than 1 MiB\n");
  // Deep enough to end a parser that recurses without a limit.
  EXPECT_NE(errors_of(std::string(500000, '[')), "");
  EXPECT_NE(errors_of(std::string(500000, '{')), "");
  std::string dashes;
  for (int i = 0; i < 200000; ++i) dashes += "- ";
  EXPECT_NE(errors_of(dashes), "");
}

// Any bytes whatever give diagnostics or a document, never a crash or a hang; the same seed gives
// the same texts, so that a failure can be had again.
TEST(Document, MutationsNeverCrash) {
  const std::string valid =
      "unit: wf-208\n"
      "devices:\n"
      "  CC: {kind: contactor, poles: 3, coil: 208 V, at: roof, panel: [4, 2]}\n"
      "rungs:\n"
      "  - [TB.L1, FU4, HPC, CC.coil, {any: [DH1, DH2]}, TB.L3]\n"
      "words: \"quoted \\u00e9\"\n"
      "text: >\n"
      "  folded\n"
      "  text\n";
  const std::string spice = "[]{}:,-#&*!|>'\"%@`?\n\t \\~<=\xC3\x80\xFF";
  Random random(20240501);
  int documents = 0;
  int refused = 0;
  for (int round = 0; round < 4000; ++round) {
    std::string text = valid;
    const std::uint64_t edits = 1 + random.below(6);
    for (std::uint64_t k = 0; k < edits; ++k) {
      const std::size_t at = random.below(text.size());
      switch (random.below(5)) {
        case 0:
          text[at] = spice[random.below(spice.size())];
          break;
        case 1:
          text.insert(at, 1, spice[random.below(spice.size())]);
          break;
        case 2:
          text.erase(at, 1 + random.below(8));
          break;
        case 3:
          text.insert(at, text.substr(random.below(text.size()), random.below(40)));
          break;
        default:
          text[at] = static_cast<char>(random.below(256));
      }
      if (text.empty()) text = "a";
    }
    Diagnostics diagnostics;
    const Document document = parse_document("x.yaml", text, diagnostics);
    EXPECT_EQ(document.ok() || diagnostics.has_errors(), true) << text;
    document.ok() ? ++documents : ++refused;
    for (const Diagnostic& d : diagnostics.list()) {
      EXPECT_EQ(first_invalid_utf8(d.text()), std::string_view::npos) << text;
    }
  }
  // Both outcomes are really met.
  EXPECT_GT(documents, 400);
  EXPECT_GT(refused, 400);
}

// Between single quotes a backslash is a letter, wherever it stands; between double ones it takes
// the next with it.
TEST(Document, ABackslashBetweenSingleQuotesIsALetter) {
  const auto value = [](const std::string& line) {
    Diagnostics diagnostics;
    const Document document = parse_document("x.yaml", line + "\nb: 2\n", diagnostics);
    EXPECT_TRUE(document.ok()) << line << "\n" << diagnostics.text();
    return document.ok() ? document.root().find("a").text() : std::string();
  };
  EXPECT_EQ(value(R"(a: 'ends in \')"), R"(ends in \)");
  EXPECT_EQ(value(R"(a: '\')"), R"(\)");
  EXPECT_EQ(value(R"(a: 'it''s \ here')"), R"(it's \ here)");
  EXPECT_EQ(value(R"(a: "a \" quote")"), "a \" quote");
  EXPECT_EQ(value(R"(a: "ends in \\")"), R"(ends in \)");
}

}  // namespace
}  // namespace legwork
