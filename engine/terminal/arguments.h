#pragma once
// What a subcommand takes: words, options and flags, each with the line of its --help. The parser
// stays behind it: its header is the slowest of all to compile.
//
//   arguments.word("LOG", options->log, "A shift log");           // cannot be left out
//   arguments.option("--html", options->html, "Write one file");  // may be
//   arguments.flag("--json", options->json, "As JSON");
//
// Where it is put must live until the subcommand has run.

#include <cstdint>
#include <string>
#include <vector>

#include "engine/base/message.h"

namespace CLI {
class App;
}

namespace legwork::terminal {

class Arguments {
 public:
  explicit Arguments(CLI::App& app) : app_(&app) {}

  void word(const char* name, std::string& to, const Phrase& help);
  void words(const char* name, std::vector<std::string>& to,
             const Phrase& help);  // one or more
  void words_if_any(const char* name, std::vector<std::string>& to, const Phrase& help);

  // What stands in `to` is shown as the usual value, unless it is empty.
  void option(const char* name, std::string& to, const Phrase& help);
  void option(const char* name, std::uint64_t& to, const Phrase& help);
  // `least` to `most` words behind one name.
  void option(const char* name, std::vector<std::string>& to, const Phrase& help, int least,
              int most);
  // A group of `least` to `most` words behind the name, which may be given again.
  void groups(const char* name, std::vector<std::vector<std::string>>& to, const Phrase& help,
              int least, int most);
  void option_again(const char* name, std::vector<std::string>& to, const Phrase& help);
  void flag(const char* name, bool& to, const Phrase& help);

 private:
  CLI::App* app_;
};

}  // namespace legwork::terminal
