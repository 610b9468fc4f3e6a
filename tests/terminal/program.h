#pragma once
// Runs the built program as a person would, and gives back what it wrote and its exit code.

#include <string>

namespace legwork::terminal {

struct Ran {
  int code = -1;
  std::string out;     // standard output
  std::string errors;  // standard error
};

// `arguments` as written in a shell (bash), after `before`: settings and limits for this run alone.
// The data folder is one of the test's own, with nothing in it but who could have done it.
Ran run_program(const std::string& arguments, const std::string& before = {});
std::string read_whole(const std::string& path);

}  // namespace legwork::terminal
