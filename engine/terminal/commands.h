#pragma once
// The table of subcommands. Adding one: a file NAME.cpp in this folder with its `Command`; the
// build finds it.
//
//   struct Options { std::string path; };
//   Runner add(Arguments& arguments) {           // says what it takes …
//     auto options = std::make_shared<Options>();
//     arguments.word("PATH", options->path, "…");
//     return [options] { return show(*options); };   // … and what to do: returns the exit code
//   }
//   std::span<const Command> commands_of_NAME() {
//     static constexpr Command kCommands[] = {
//         {"mine", "One line for the list.", "What it teaches, for its own --help.", add, 75}};
//     return kCommands;
//   }

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
  int place = 0;  // in the list: lower first; what trainees use before what authors do
};

std::span<const Command* const> commands();  // by their place

}  // namespace legwork::terminal
