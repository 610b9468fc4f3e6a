// legwork: without arguments the window, with a subcommand the terminal.

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <optional>
#include <string>

#include "engine/terminal/terminal.h"

#ifdef LEGWORK_WINDOW
#include "engine/base/catalogue.h"
#include "engine/base/home.h"
#include "engine/session/door.h"
#include "engine/terminal/chosen.h"
#include "gui/bridge.h"
#include "gui/headless.h"
#include "gui/pictures.h"
#include "gui/screens/samples.h"
#endif

namespace {

#ifdef LEGWORK_WINDOW
int work_in_window(int count, char** words) {
  using namespace legwork::gui;
  State state;
  std::string picture, pictures, size = "1600x1000";
  bool only_first = false, places = false, can_open = false;
  CLI::App options("Legwork: find why the box is warm. Without options the window opens.",
                   "legwork");
  options.add_option("--ticket", state.first_ticket, "Open this ticket: mb-002");
  Settings& asked = state.settings;
  const CLI::Option* theme =
      options.add_option("--theme", asked.theme, "paper-light or paper-dark");
  const CLI::Option* scale = options.add_option("--scale", asked.scale, "Size of everything")
                                 ->check(CLI::Range(kLeastScale, kMostScale));
  std::vector<std::string> tags;
  for (const legwork::Language& known : legwork::languages()) tags.push_back(known.tag);
  const CLI::Option* language =
      options.add_option("--lang,--language", asked.language, "Language, for this time")
          ->check(CLI::IsMember(tags));
  const CLI::Option* celsius = options.add_flag("--celsius", asked.celsius, "°C instead of °F");
  const CLI::Option* bar = options.add_flag("--bar", asked.bar, "bar instead of psig");
  options.add_option("--screen", state.screen)->group("");
  options.add_option("--picture", picture)->group("");
  options.add_option("--pictures", pictures)->group("");
  options.add_option("--size", size)->group("");
  options.add_flag("--can-open", can_open)->group("");
  options.add_flag("--places", places)->group("");
  options.add_flag("--only-first", only_first)->group("");
  try {
    options.parse(count, words);
  } catch (const CLI::ParseError& error) {
    return options.exit(error) == 0 ? 0 : 2;
  }
  if (can_open) {
    const std::string why = no_display();
    if (!why.empty()) fmt::print("{}\n", why);
    return why.empty() ? 0 : 1;
  }
  state.home = legwork::home_folder();
  if (state.home.empty()) {
    fmt::print(stderr, "{}\n", legwork::english(legwork::home_help()));
    return 1;
  }
  if (!pictures.empty()) {
    const std::string problem = save_pictures(pictures, state.home);
    if (!problem.empty()) fmt::print(stderr, "{}\n", problem);
    return problem.empty() ? 0 : 1;
  }
  if (picture.empty() && !places) {
    if (const std::string why = no_display(); !why.empty()) {
      fmt::print(stderr, "{} The terminal works without: legwork tickets, legwork work mb-002.\n",
                 why);
      return 1;
    }
    // What is asked for on this line counts for today and over what was kept.
    const std::string kept = legwork::session::data_folder() + "/settings.yaml";
    legwork::Diagnostics found;
    Settings settings = read_settings(kept, found);
    if (theme->count() > 0) settings.theme = asked.theme;
    if (scale->count() > 0) settings.scale = asked.scale;
    settings.language = legwork::terminal::chosen_language(
        language->count() > 0 ? asked.language : "", settings.language);
    if (celsius->count() > 0) settings.celsius = asked.celsius;
    if (bar->count() > 0) settings.bar = asked.bar;
    state.settings = settings;
    state.notice = found.message();
    state.works_ahead = true;
    state.first_round = !settings.shown_round;
    return run_window(state, kept, only_first);
  }
  int width = 0, height = 0;
  if (std::sscanf(size.c_str(), "%dx%d", &width, &height) != 2 || width < 320 || height < 240 ||
      width > 8000 || height > 8000) {
    fmt::print(stderr, "--size: expected WIDTHxHEIGHT, found '{}'\n", size);
    return 2;
  }
  if (const Sample* sample = find_sample(state.screen);
      state.first_ticket.empty() && sample != nullptr) {
    sample->show(state);
  }
  Headless page(state, width, height);
  if (!page.problem().empty()) {
    fmt::print(stderr, "{}\n", page.problem());
    return 1;
  }
  if (places) {
    for (const auto& [name, place] : state.places) {
      fmt::print("{:.0f} {:.0f} {}\n", place.middle_x(), place.middle_y(), name);
    }
  }
  return picture.empty() || page.save(picture) ? 0 : 1;
}
#endif

}  // namespace

int main(int count, char** words) {
  if (const std::optional<int> code = legwork::terminal::run(count, words)) return *code;
#ifdef LEGWORK_WINDOW
  return work_in_window(count, words);
#else
  fmt::print(stderr, "This build has no window; legwork --help lists what it does without.\n");
  return 2;
#endif
}
