#include "gui/fonts.h"

#include <imgui.h>
#include <imgui_freetype.h>

#include <cmath>
#include <filesystem>

namespace legwork::gui {
namespace {

struct FontFile {
  const char* path;
  const char* package;
};
constexpr FontFile kWords{"/usr/share/fonts/opentype/inter/Inter-Regular.otf", "fonts-inter"};
constexpr FontFile kStrong{"/usr/share/fonts/opentype/inter/Inter-SemiBold.otf", "fonts-inter"};
constexpr FontFile kMono{"/usr/share/fonts/truetype/jetbrains-mono/JetBrainsMono-Regular.ttf",
                         "fonts-jetbrains-mono"};

constexpr std::array<float, kSheetSizes> kSheetHeights = {8, 10, 12, 15, 19, 24, 30};

// Dear ImGui wants pairs of first and last, ended by 0, alive as long as the atlas.
const ImWchar* glyph_ranges() {
  static const std::vector<ImWchar> ranges = [] {
    std::vector<ImWchar> list = {0x20, 0xFF};
    for (const char32_t sign : extra_signs()) {
      list.push_back(static_cast<ImWchar>(sign));
      list.push_back(static_cast<ImWchar>(sign));
    }
    list.push_back(0);
    return list;
  }();
  return ranges.data();
}

}  // namespace

const std::vector<char32_t>& extra_signs() {
  static const std::vector<char32_t> signs = {U'Ω', U'µ', U'°',      U'·', U'×', U'÷', U'−', U'±',
                                              U'≥', U'≤', U'→',      U'←', U'↑', U'↓', U'–', U'—',
                                              U'‘', U'’', U'“',      U'”', U'…', U'•', U'½', U'¼',
                                              U'¾', U'Δ', U'\u2009', U'√', U'œ', U'Œ'};
  return signs;
}

std::string missing_fonts() {
  for (const FontFile& file : {kWords, kStrong, kMono}) {
    std::error_code error;
    if (!std::filesystem::is_regular_file(file.path, error)) {
      return std::string("The window's font ") + file.path + " is not there. Install the package " +
             file.package + ".";
    }
  }
  return {};
}

Fonts bake_fonts(ImFontAtlas& atlas, float scale) {
  atlas.Clear();
  atlas.FontBuilderIO = ImGuiFreeType::GetBuilderForFreeType();
  atlas.FontBuilderFlags = ImGuiFreeTypeBuilderFlags_LightHinting;
  atlas.Flags |= ImFontAtlasFlags_NoBakedLines;
  const auto add = [&](const FontFile& file, float height) {
    ImFontConfig config;
    config.PixelSnapH = true;
    return atlas.AddFontFromFileTTF(file.path, std::round(height * scale), &config, glyph_ranges());
  };
  Fonts fonts;
  fonts.body = add(kWords, 18);
  fonts.small = add(kWords, 15);
  fonts.strong = add(kStrong, 18);
  fonts.title = add(kStrong, 25);
  fonts.mono = add(kMono, 17);
  fonts.digits = add(kMono, 30);
  for (int i = 0; i < kSheetSizes; ++i) {
    const auto at = static_cast<std::size_t>(i);
    fonts.sheet_mono[at] = add(kMono, kSheetHeights[at] * 1.32F);  // line height of the type's size
    fonts.sheet_words[at] = add(kWords, kSheetHeights[at] * 1.21F);
  }
  atlas.Build();
  // JetBrains Mono has no thin space; where every sign is as wide as the next, a space will do.
  const auto plain_space = [](ImFont* font) { font->AddRemapChar(0x2009, 0x20); };
  plain_space(fonts.mono);
  plain_space(fonts.digits);
  for (ImFont* font : fonts.sheet_mono) plain_space(font);
  return fonts;
}

ImFont* Fonts::sheet(bool mono, float pixels) const {
  const auto& sizes = mono ? sheet_mono : sheet_words;
  const float factor = mono ? 1.32F : 1.21F;
  ImFont* best = nullptr;
  for (ImFont* font : sizes) {
    if (best == nullptr ? font->FontSize <= pixels * factor + 1.5F
                        : font->FontSize <= pixels * factor + 0.5F) {
      best = font;
    }
  }
  return best;
}

}  // namespace legwork::gui
