#pragma once
// Draws Dear ImGui's triangles into memory with whole-number arithmetic: pictures without a display
// or graphics card, the same pixels on every machine with the same fonts.

#include <cstdint>
#include <string>
#include <vector>

struct ImDrawData;

namespace legwork::gui {

// Rows from the top, four bytes a pixel: red, green, blue, alpha.
struct Picture {
  int width = 0, height = 0;
  std::vector<std::uint8_t> pixels;

  std::uint32_t at(int x, int y) const;  // 0xAABBGGRR
};

// The font atlas: coverage, one byte a texel.
struct Coverage {
  int width = 0, height = 0;
  const std::uint8_t* texels = nullptr;
};

// `paper`: colour of the empty picture, 0xAABBGGRR. Texture lookups take the nearest texel: the
// atlas must have no baked lines, and text must stand on whole pixels.
Picture rasterise(const ImDrawData& data, const Coverage& atlas, std::uint32_t paper);

// Writes a PNG; false if the file cannot be written.
bool save_png(const Picture& picture, const std::string& path);

}  // namespace legwork::gui
