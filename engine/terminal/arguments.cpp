#include "engine/terminal/arguments.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <charconv>
#include <limits>

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
  // The parser itself takes -1 for the largest number there is.
  app_->add_option(name, to, help)->check([](const std::string& text) {
    std::uint64_t number = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    return error == std::errc() && end == text.data() + text.size()
               ? std::string()
               : fmt::format("expected a whole number from 0 to {}, found '{}'",
                             std::numeric_limits<std::uint64_t>::max(), text);
  });
}

void Arguments::option(const char* name, std::vector<std::string>& to, const std::string& help,
                       int least, int most) {
  app_->add_option(name, to, help)->expected(least, most);
}

void Arguments::groups(const char* name, std::vector<std::vector<std::string>>& to,
                       const std::string& help, int least, int most) {
  app_->add_option(name, to, help)
      ->type_size(least, most)
      ->expected(1, CLI::detail::expected_max_vector_size);
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
