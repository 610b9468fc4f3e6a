#include "engine/base/diagnostics.h"

#include <gtest/gtest.h>

namespace legwork {
namespace {

TEST(Diagnostics, LineCaretAndHint) {
  const Source source("circuits/x.yaml", "unit: x\n  HPC: {opens: 425 psgi}\n");
  Diagnostics diagnostics;
  diagnostics.error(source, {2, 16}, "unknown unit 'psgi' for a pressure", "did you mean 'psig'?");
  EXPECT_EQ(diagnostics.text(),
            "circuits/x.yaml:2:16: error: unknown unit 'psgi' for a pressure\n"
            "      HPC: {opens: 425 psgi}\n"
            "                   ^\n"
            "    did you mean 'psig'?\n");
}

TEST(Diagnostics, TabsAreRepeatedAndCharactersOfSeveralBytesCountOnce) {
  const Source source("x", "\tµ°:\tbad\n");
  Diagnostics diagnostics;
  diagnostics.error(source, source.mark_of_byte(7), "unexpected word");
  EXPECT_EQ(diagnostics.text(),
            "x:1:6: error: unexpected word\n"
            "    \tµ°:\tbad\n"
            "    \t   \t^\n");
}

TEST(Diagnostics, InTheOrderOfTheFileWhateverTheOrderOfFinding) {
  const Source a("a", "1\n2\n3\n"), b("b", "1\n");
  Diagnostics diagnostics;
  diagnostics.error(a, {3, 1}, "third");
  diagnostics.error(b, {1, 1}, "other file");
  diagnostics.warning(a, {1, 1}, "first");
  diagnostics.note(a, {1, 1}, "second");
  diagnostics.file_error("a", "whole file");
  std::string order;
  for (const Diagnostic& d : diagnostics.list()) order += d.message + "; ";
  EXPECT_EQ(order, "whole file; first; second; third; other file; ");
  EXPECT_EQ(diagnostics.error_count(), 3);
  EXPECT_EQ(diagnostics.list().front().text(), "a: error: whole file\n");
}

TEST(Diagnostics, OnlySoManyAreKept) {
  const Source source("x", "x\n");
  Diagnostics diagnostics;
  for (int i = 0; i < Diagnostics::kLimit + 7; ++i) diagnostics.error(source, {1, 1}, "again");
  EXPECT_EQ(diagnostics.list().size(), static_cast<std::size_t>(Diagnostics::kLimit));
  EXPECT_EQ(diagnostics.dropped(), 7);
  EXPECT_TRUE(diagnostics.text().ends_with("and 7 more\n"));
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
