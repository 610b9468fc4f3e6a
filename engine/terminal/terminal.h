#pragma once
// The program without its window: `legwork SUBCOMMAND …`. Every subcommand is a row of a table
// (commands.h); `legwork --help` lists them, `legwork SUBCOMMAND --help` teaches one.
//
//   if (const std::optional<int> code = legwork::terminal::run(argc, argv)) return *code;
//   … open the window …
//
// Exit codes: 0 all well · 1 findings (a file with mistakes, a refused step, a log that differs) ·
// 2 wrong usage.

#include <optional>

namespace legwork::terminal {

// Nothing: no subcommand was named, so the window is meant.
std::optional<int> run(int argc, const char* const* argv);

}  // namespace legwork::terminal
