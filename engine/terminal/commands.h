#pragma once
// The table of subcommands. Adding one: a file with its `Command` and a line in commands.cpp.
//
//   struct Options { std::string path; };
//   Runner add(Arguments& arguments) {           // says what it takes …
//     auto options = std::make_shared<Options>();
//     arguments.word("PATH", options->path, "…");
//     return [options] { return show(*options); };   // … and what to do: returns the exit code
//   }
//   const Command kMine{"mine", "One line for the list.", "What it teaches, for its own --help.",
//   add};

#include <functional>
#include <span>
#include <string_view>

#include "engine/terminal/arguments.h"

namespace legwork::terminal {

inline constexpr int kFine = 0;
inline constexpr int kFindings = 1;
inline constexpr int kUsage = 2;

using Runner = std::function<int()>;

struct Command {
  std::string_view name;
  Phrase help;     // one line
  Phrase teaches;  // after the options
  Runner (*add)(Arguments& arguments) = nullptr;
};

std::span<const Command* const> commands();  // in the order of the list

extern const Command kTickets;
extern const Command kWork;
extern const Command kCheck;
extern const Command kReplay;
extern const Command kReading;
extern const Command kFaults;
extern const Command kSuspects;
extern const Command kScore;
extern const Command kDebrief;
extern const Command kRoute;
extern const Command kProgress;

}  // namespace legwork::terminal
