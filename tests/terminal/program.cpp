#include "tests/terminal/program.h"

#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

namespace legwork::terminal {

std::string read_whole(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  std::stringstream out;
  out << file.rdbuf();
  return out.str();
}

Ran run_program(const std::string& arguments) {
  const std::string stem = testing::TempDir() + "legwork_" + std::to_string(getpid());
  const std::string command = "cd '" + std::string(LEGWORK_SOURCE_DIR) + "' && LEGWORK_DATA='" +
                              stem + "_data'; export LEGWORK_DATA; ( '" + LEGWORK_PROGRAM + "' " +
                              arguments + "\n) >'" + stem + ".out' 2>'" + stem + ".err'";
  const int status = std::system(command.c_str());
  Ran ran;
  ran.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  ran.out = read_whole(stem + ".out");
  ran.errors = read_whole(stem + ".err");
  std::filesystem::remove(stem + ".out");
  std::filesystem::remove(stem + ".err");
  std::filesystem::remove_all(stem + "_data");
  return ran;
}

}  // namespace legwork::terminal
