#include "gui/settings.h"

#include <fmt/format.h>

#include <filesystem>

#include "engine/base/catalogue.h"
#include "engine/base/text_file.h"
#include "engine/config/document.h"
#include "engine/config/reader.h"

namespace legwork::gui {

Settings read_settings(const std::string& path, Diagnostics& found) {
  Settings out;
  std::error_code error;
  if (!std::filesystem::exists(path, error)) return out;
  const Document document = read_document(path, found);
  if (!document.ok()) return out;
  Reader reader(document.root(), found, phrase("the settings"));
  out.theme = reader.text("paper", out.theme);
  out.scale = static_cast<float>(
      reader.number("text size", {.fallback = out.scale, .min = kLeastScale, .max = kMostScale}));
  std::vector<std::pair<std::string_view, std::string>> known;
  for (const Language& language : languages()) known.emplace_back(language.tag, language.tag);
  out.language = reader.choice<std::string>("language", known, out.language);
  out.celsius = reader.choice<bool>("temperature", {{"°F", false}, {"°C", true}}, out.celsius);
  out.bar = reader.choice<bool>("pressure", {{"psig", false}, {"bar", true}}, out.bar);
  out.sound = reader.flag("sound", out.sound);
  out.calm = reader.flag("reduced motion", out.calm);
  out.shown_round = reader.flag("shown round", out.shown_round);
  reader.finish();
  return out;
}

bool write_settings(const std::string& path, const Settings& settings) {
  return write_whole_file(
      path,
      fmt::format("paper: {}\ntext size: {:.1f}\nlanguage: {}\ntemperature: {}\npressure: {}\n"
                  "sound: {}\nreduced motion: {}\nshown round: {}\n",
                  settings.theme, settings.scale, settings.language, settings.celsius ? "°C" : "°F",
                  settings.bar ? "bar" : "psig", settings.sound, settings.calm,
                  settings.shown_round));
}

}  // namespace legwork::gui
