#include "gui/pictures.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "engine/base/catalogue.h"
#include "gui/headless.h"
#include "gui/screens/samples.h"

namespace legwork::gui {

std::string save_pictures(const std::string& folder, const std::string& home) {
  std::error_code error;
  std::filesystem::create_directories(folder, error);
  if (error) return fmt::format("{}: {}", folder, error.message());
  constexpr std::pair<int, int> kSizes[] = {{1600, 1000}, {1280, 720}};
  for (const Sample& sample : samples()) {
    for (const auto& [width, height] : kSizes) {
      State state;
      state.home = home;
      sample.show(state);
      Headless page(state, width, height);
      if (!page.problem().empty()) return page.problem();
      for (const Theme& theme : state.themes) {
        for (const Language& language : languages()) {
          state.settings.theme = theme.name;
          state.settings.language = language.tag;
          page.move(-1, -1);
          std::string name(sample.name);
          std::erase(name, ',');
          std::replace(name.begin(), name.end(), ' ', '-');
          const std::string path = fmt::format("{}/{}-{}-{}-{}x{}.png", folder, name, theme.name,
                                               language.tag, width, height);
          if (!page.save(path)) return path + ": cannot be written";
        }
      }
    }
  }
  return {};
}

}  // namespace legwork::gui
