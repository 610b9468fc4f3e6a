#include "tests/terminal/program.h"

#include <gtest/gtest.h>
#include <sys/wait.h>

#include <cstdlib>
#include <fstream>
#include <sstream>

#include "tests/support/own_folder.h"
#include "tests/support/shared_arrivals.h"

namespace legwork::terminal {

std::string read_whole(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  std::stringstream out;
  out << file.rdbuf();
  return out.str();
}

Ran run_program(const std::string& arguments, const std::string& before) {
  const support::OwnFolder folder;
  support::share_arrivals(folder / "data");
  {
    // A script of its own: the arguments are read by one shell, and by it alone.
    std::ofstream script(folder / "run", std::ios::binary);
    script << "cd '" << LEGWORK_SOURCE_DIR << "'\nexport LEGWORK_DATA='" << folder / "data"
           << "'\n"
           << before << "\n'" << LEGWORK_PROGRAM << "' " << arguments << "\n";
  }
  const std::string command =
      "bash '" + (folder / "run") + "' >'" + (folder / "out") + "' 2>'" + (folder / "err") + "'";
  const int status = std::system(command.c_str());
  Ran ran;
  ran.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  ran.out = read_whole(folder / "out");
  ran.errors = read_whole(folder / "err");
  return ran;
}

}  // namespace legwork::terminal
