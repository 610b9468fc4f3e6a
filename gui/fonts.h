#pragma once
// The type of the window: Inter for words, JetBrains Mono for tags, terminals and digits, from
// Debian's font packages. All sizes are baked into one atlas; text is drawn at its native size on
// whole pixels.

#include <array>
#include <string>
#include <vector>

struct ImFont;
struct ImFontAtlas;

namespace legwork::gui {

inline constexpr int kSheetSizes = 7;

struct Fonts {
  ImFont* body = nullptr;                         // words, 16 px line height
  ImFont* small = nullptr;                        // 13.5
  ImFont* strong = nullptr;                       // body, heavier
  ImFont* title = nullptr;                        // 22
  ImFont* mono = nullptr;                         // tags, terminals
  ImFont* digits = nullptr;                       // 28: a meter's reading
  std::array<ImFont*, kSheetSizes> sheet_mono{};  // labels on the sheet, smallest first
  std::array<ImFont*, kSheetSizes> sheet_words{};

  // The sheet font whose height comes nearest below or at `pixels`; nullptr if even the smallest is
  // too large to be worth drawing.
  ImFont* sheet(bool mono, float pixels) const;
};

// Empty if every font file is there; otherwise a sentence that says which package to install.
std::string missing_fonts();

// Bakes all sizes, multiplied by `scale`, into the atlas (which is cleared). Call only if no font
// is missing: Dear ImGui aborts on a missing file.
Fonts bake_fonts(ImFontAtlas& atlas, float scale);

// Signs that every text of the program may use besides Latin-1; a test checks that the fonts have
// them.
const std::vector<char32_t>& extra_signs();

}  // namespace legwork::gui
