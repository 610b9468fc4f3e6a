#include "engine/base/diagnostics.h"

#include <gtest/gtest.h>

#include "engine/base/text_file.h"

namespace legwork {
namespace {

TEST(Diagnostics, LineCaretAndHint) {
  const Source source("circuits/x.yaml", "unit: x\n  HPC: {opens: 425 psgi}\n");
  Diagnostics diagnostics;
  diagnostics.error(source, {2, 16}, verbatim("unknown unit 'psgi' for a pressure"),
                    verbatim("did you mean 'psig'?"));
  EXPECT_EQ(diagnostics.text(),
            "circuits/x.yaml:2:16: error: unknown unit 'psgi' for a pressure\n"
            "      HPC: {opens: 425 psgi}\n"
            "                   ^\n"
            "    did you mean 'psig'?\n");
}

TEST(Diagnostics, TabsAreRepeatedAndCharactersOfSeveralBytesCountOnce) {
  const Source source("x", "\tµ°:\tbad\n");
  Diagnostics diagnostics;
  diagnostics.error(source, source.mark_of_byte(7), verbatim("unexpected word"));
  EXPECT_EQ(diagnostics.text(),
            "x:1:6: error: unexpected word\n"
            "    \tµ°:\tbad\n"
            "    \t   \t^\n");
}

TEST(Diagnostics, InTheOrderOfTheFileWhateverTheOrderOfFinding) {
  const Source a("a", "1\n2\n3\n"), b("b", "1\n");
  Diagnostics diagnostics;
  diagnostics.error(a, {3, 1}, verbatim("third"));
  diagnostics.error(b, {1, 1}, verbatim("other file"));
  diagnostics.warning(a, {1, 1}, verbatim("first"));
  diagnostics.note(a, {1, 1}, verbatim("second"));
  diagnostics.file_error("a", verbatim("whole file"));
  std::string order;
  for (const Diagnostic& d : diagnostics.list()) order += english(d.message) + "; ";
  EXPECT_EQ(order, "whole file; first; second; third; other file; ");
  EXPECT_EQ(diagnostics.error_count(), 3);
  EXPECT_EQ(diagnostics.list().front().text(), "a: error: whole file\n");
}

TEST(Diagnostics, OnlySoManyAreKept) {
  const Source source("x", "x\n");
  Diagnostics diagnostics;
  for (int i = 0; i < Diagnostics::kLimit + 7; ++i)
    diagnostics.error(source, {1, 1}, verbatim("again"));
  EXPECT_EQ(diagnostics.list().size(), static_cast<std::size_t>(Diagnostics::kLimit));
  EXPECT_EQ(diagnostics.dropped(), 7);
  EXPECT_TRUE(diagnostics.text().ends_with("and 7 more\n"));
}

// One mistake in a line of a megabyte: what is quoted stays as wide as a page, the caret under it.
TEST(Diagnostics, ALongLineIsQuotedToAWidth) {
  const std::string left(5000, 'l'), right(500000, 'r');
  const Source source("x", left + "µHERE" + right);
  for (const int column : {1, 40, 5002, 300000, 505005}) {
    Diagnostics diagnostics;
    diagnostics.error(source, {1, column}, verbatim("unexpected word"));
    const Diagnostic& d = diagnostics.list().front();
    EXPECT_LE(character_count(d.source_line), Diagnostics::kQuotedLine + 1) << column;
    const std::string text = d.text();
    const std::size_t quoted = text.find('\n') + 1, caret = text.find('\n', quoted) + 1;
    const std::string_view under = std::string_view(text).substr(caret);
    EXPECT_LE(under.find('^'), Diagnostics::kQuotedLine + 4) << column;
    if (column == 5002) {
      // Letters of several bytes count as one on both lines.
      const std::string_view line = std::string_view(text).substr(quoted, caret - quoted);
      EXPECT_EQ(character_count(line.substr(0, line.find("HERE"))), under.find('^'));
    }
  }
}

TEST(Diagnostics, NeitherMessageNorHintRunsOn) {
  const Source source("x", "x\n");
  Diagnostics diagnostics;
  diagnostics.error(source, {1, 1}, verbatim("unknown word '" + std::string(17000, 'w') + "'"),
                    verbatim(std::string(17000, 'h')));
  EXPECT_LT(diagnostics.text().size(), 1500U);
}

TEST(Diagnostics, NothingInThemSteersATerminal) {
  Diagnostics diagnostics;
  diagnostics.file_error("a\x1b[2Jb.yaml", verbatim("unexpected \x1b]0;x\x07\nx: error: made up"),
                         verbatim("\xC2\x9B"));
  EXPECT_EQ(diagnostics.text(),
            "a?[2Jb.yaml: error: unexpected \uFFFD]0;x\uFFFD x: error: made up\n    \uFFFD\n");
}

// Two hundred warnings hide no error: the file is still refused.
TEST(Diagnostics, AnErrorPastTheLimitIsAnError) {
  const Source source("x", "x\n");
  Diagnostics diagnostics;
  for (int i = 0; i < Diagnostics::kLimit; ++i)
    diagnostics.warning(source, {1, 1}, verbatim("again"));
  EXPECT_FALSE(diagnostics.has_errors());
  diagnostics.error(source, {1, 1}, verbatim("the one that counts"));
  EXPECT_TRUE(diagnostics.has_errors());
  Diagnostics all;
  all.append(diagnostics);
  EXPECT_TRUE(all.has_errors());
}

TEST(Source, PlacesInALongLine) {
  std::string text = "first\n";
  for (int i = 0; i < 3000; ++i) text += "µa";
  const Source source("x", text);
  for (const int byte : {0, 1, 2, 3, 254, 255, 256, 257, 3000, 8999}) {
    const Mark mark = source.mark_of_byte(static_cast<std::size_t>(6 + byte));
    EXPECT_EQ(mark.line, 2);
    EXPECT_EQ(mark.column, static_cast<int>(character_count(
                               std::string_view(text).substr(6, static_cast<std::size_t>(byte)))) +
                               1)
        << byte;
  }
}

TEST(Source, PlacesOfBytes) {
  const Source source("x", "a\nµb\n");
  EXPECT_EQ(source.mark_of_byte(0), (Mark{1, 1}));
  EXPECT_EQ(source.mark_of_byte(1), (Mark{1, 2}));  // the line's end belongs to it
  EXPECT_EQ(source.mark_of_byte(2), (Mark{2, 1}));
  EXPECT_EQ(source.mark_of_byte(4), (Mark{2, 2}));
  EXPECT_EQ(source.mark_of_byte(99), (Mark{3, 1}));
  EXPECT_EQ(source.line(2), "µb");
  EXPECT_EQ(source.line(0), "");
  EXPECT_EQ(source.line(9), "");
  EXPECT_EQ(Source().line(1), "");
}

}  // namespace
}  // namespace legwork
