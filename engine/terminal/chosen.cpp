#include "engine/terminal/chosen.h"

#include <cstdlib>
#include <filesystem>

#include "engine/base/catalogue.h"
#include "engine/config/document.h"
#include "engine/session/door.h"

namespace legwork::terminal {
namespace {

std::string text_of(const Document& document, std::string_view key) {
  const Node node = document.root().find(key);
  return node.is_scalar() ? std::string(node.text()) : std::string();
}

}  // namespace

std::string settings_path() { return session::data_folder() + "/settings.yaml"; }

std::string chosen_language(const std::string& asked, const std::string& kept) {
  if (!asked.empty()) return asked;
  const char* set = std::getenv("LEGWORK_LANG");
  if (set == nullptr || *set == '\0') return kept;
  const auto catalogue = Catalogue::of(set);
  return catalogue == nullptr ? "en" : catalogue->tag();
}

Speech chosen_speech(const std::string& asked) {
  // What is wrong with the settings is for the window to say.
  Diagnostics unsaid;
  const std::string path = settings_path();
  std::error_code error;
  std::string language = "en", temperature, pressure;
  if (std::filesystem::exists(path, error)) {
    const Document document = read_document(path, unsaid);
    if (document.ok()) {
      language = text_of(document, "language");
      temperature = text_of(document, "temperature");
      pressure = text_of(document, "pressure");
    }
  }
  return speech_of(chosen_language(asked, language), temperature == "°C", pressure == "bar");
}

}  // namespace legwork::terminal
