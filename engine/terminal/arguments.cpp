#include "engine/terminal/arguments.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <charconv>
#include <limits>

#include "engine/terminal/print.h"

namespace legwork::terminal {

void Arguments::word(const char* name, std::string& to, const Phrase& help) {
  app_->add_option(name, to, spoken(help))->required();
}

void Arguments::words(const char* name, std::vector<std::string>& to, const Phrase& help) {
  app_->add_option(name, to, spoken(help))->required();
}

void Arguments::words_if_any(const char* name, std::vector<std::string>& to, const Phrase& help) {
  app_->add_option(name, to, spoken(help));
}

void Arguments::option(const char* name, std::string& to, const Phrase& help) {
  CLI::Option* option = app_->add_option(name, to, spoken(help));
  if (!to.empty()) option->capture_default_str();
}

void Arguments::option(const char* name, std::uint64_t& to, const Phrase& help) {
  // The parser itself takes -1 for the largest number there is.
  app_->add_option(name, to, spoken(help))->check([](const std::string& text) {
    std::uint64_t number = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (error == std::errc() && end == text.data() + text.size()) return std::string();
    return spoken(say("expected a whole number from 0 to {most}, found '{text}'",
                      {{"most", Name{std::to_string(std::numeric_limits<std::uint64_t>::max())}},
                       {"text", Name{text}}}));
  });
}

void Arguments::option(const char* name, std::vector<std::string>& to, const Phrase& help,
                       int least, int most) {
  app_->add_option(name, to, spoken(help))->expected(least, most);
}

void Arguments::groups(const char* name, std::vector<std::vector<std::string>>& to,
                       const Phrase& help, int least, int most) {
  app_->add_option(name, to, spoken(help))
      ->type_size(least, most)
      ->expected(1, CLI::detail::expected_max_vector_size);
}

void Arguments::option_again(const char* name, std::vector<std::string>& to, const Phrase& help) {
  app_->add_option(name, to, spoken(help))
      ->expected(1)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
}

void Arguments::flag(const char* name, bool& to, const Phrase& help) {
  app_->add_flag(name, to, spoken(help));
}

}  // namespace legwork::terminal
