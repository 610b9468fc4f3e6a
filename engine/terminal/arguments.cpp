#include "engine/terminal/arguments.h"

#include <CLI/CLI.hpp>

namespace legwork::terminal {

void Arguments::word(const char* name, std::string& to, const std::string& help) {
  app_->add_option(name, to, help)->required();
}

void Arguments::words(const char* name, std::vector<std::string>& to, const std::string& help) {
  app_->add_option(name, to, help)->required();
}

void Arguments::words_if_any(const char* name, std::vector<std::string>& to,
                             const std::string& help) {
  app_->add_option(name, to, help);
}

void Arguments::option(const char* name, std::string& to, const std::string& help) {
  CLI::Option* option = app_->add_option(name, to, help);
  if (!to.empty()) option->capture_default_str();
}

void Arguments::option(const char* name, std::uint64_t& to, const std::string& help) {
  app_->add_option(name, to, help);
}

void Arguments::option(const char* name, std::vector<std::string>& to, const std::string& help,
                       int least, int most) {
  app_->add_option(name, to, help)->expected(least, most);
}

void Arguments::option_again(const char* name, std::vector<std::string>& to,
                             const std::string& help) {
  app_->add_option(name, to, help)
      ->expected(1)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
}

void Arguments::flag(const char* name, bool& to, const std::string& help) {
  app_->add_flag(name, to, help);
}

}  // namespace legwork::terminal
