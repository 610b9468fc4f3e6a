#include "gui/raster.h"

#include <imgui.h>
#include <stb/stb_image_write.h>

#include <algorithm>
#include <cmath>

namespace legwork::gui {
namespace {

constexpr int kSub = 16;  // sub-pixel steps

struct Clip {
  int left, top, right, bottom;
};

struct Corner {
  std::int64_t x, y;  // in sub-pixels
  double u, v;        // in texels
  double channel[4];  // red, green, blue, alpha, 0 to 255
};

Corner corner_of(const ImDrawVert& vertex, ImVec2 origin, const Coverage& atlas) {
  Corner c{};
  c.x = static_cast<std::int64_t>(std::floor((vertex.pos.x - origin.x) * kSub + 0.5F));
  c.y = static_cast<std::int64_t>(std::floor((vertex.pos.y - origin.y) * kSub + 0.5F));
  c.u = static_cast<double>(vertex.uv.x) * atlas.width;
  c.v = static_cast<double>(vertex.uv.y) * atlas.height;
  for (int i = 0; i < 4; ++i) c.channel[i] = (vertex.col >> (8 * i)) & 0xFF;
  return c;
}

void blend(std::uint8_t* pixel, int red, int green, int blue, int alpha) {
  const auto mix = [alpha](int under, int over) {
    return static_cast<std::uint8_t>((over * alpha + under * (255 - alpha) + 127) / 255);
  };
  pixel[0] = mix(pixel[0], red);
  pixel[1] = mix(pixel[1], green);
  pixel[2] = mix(pixel[2], blue);
}

// Twice the area of a, b, p: positive if p lies to the right of a->b as seen with y down.
std::int64_t edge(const Corner& a, const Corner& b, std::int64_t x, std::int64_t y) {
  return (b.x - a.x) * (y - a.y) - (b.y - a.y) * (x - a.x);
}

// A shared edge belongs to one of its two triangles: the one that has it at its top or left.
bool owns(const Corner& a, const Corner& b) { return (a.y == b.y && b.x > a.x) || b.y < a.y; }

void fill(Corner a, Corner b, Corner c, const Coverage& atlas, const Clip& clip, Picture& picture) {
  std::int64_t area = edge(a, b, c.x, c.y);
  if (area == 0) return;
  if (area < 0) {
    std::swap(b, c);
    area = -area;
  }
  const auto low = [](std::int64_t s) { return static_cast<int>((s - kSub / 2 + kSub - 1) >> 4); };
  const int left = std::max(clip.left, low(std::min({a.x, b.x, c.x})));
  const int top = std::max(clip.top, low(std::min({a.y, b.y, c.y})));
  const int right = std::min(clip.right, low(std::max({a.x, b.x, c.x})) + 1);
  const int bottom = std::min(clip.bottom, low(std::max({a.y, b.y, c.y})) + 1);
  if (left >= right || top >= bottom) return;
  const std::int64_t bias_a = owns(b, c) ? 0 : -1, bias_b = owns(c, a) ? 0 : -1,
                     bias_c = owns(a, b) ? 0 : -1;
  const bool one_colour = std::equal(a.channel, a.channel + 4, b.channel) &&
                          std::equal(a.channel, a.channel + 4, c.channel);
  const bool one_texel = a.u == b.u && a.u == c.u && a.v == b.v && a.v == c.v;
  const auto texel = [&](double u, double v) -> int {
    const int tx = std::clamp(static_cast<int>(u), 0, atlas.width - 1);
    const int ty = std::clamp(static_cast<int>(v), 0, atlas.height - 1);
    return atlas.texels[static_cast<std::size_t>(ty) * static_cast<std::size_t>(atlas.width) +
                        static_cast<std::size_t>(tx)];
  };
  const int flat_texel = one_texel ? texel(a.u, a.v) : 0;
  const double per_area = 1.0 / static_cast<double>(area);
  for (int y = top; y < bottom; ++y) {
    const std::int64_t sy = static_cast<std::int64_t>(y) * kSub + kSub / 2;
    std::int64_t sx = static_cast<std::int64_t>(left) * kSub + kSub / 2;
    std::int64_t wa = edge(b, c, sx, sy), wb = edge(c, a, sx, sy), wc = edge(a, b, sx, sy);
    const std::int64_t step_a = -(c.y - b.y) * kSub, step_b = -(a.y - c.y) * kSub,
                       step_c = -(b.y - a.y) * kSub;
    std::uint8_t* pixel = picture.pixels.data() +
                          (static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.width) +
                           static_cast<std::size_t>(left)) *
                              4;
    for (int x = left; x < right; ++x, pixel += 4, wa += step_a, wb += step_b, wc += step_c) {
      if ((wa + bias_a) < 0 || (wb + bias_b) < 0 || (wc + bias_c) < 0) continue;
      const double fa = static_cast<double>(wa) * per_area, fb = static_cast<double>(wb) * per_area,
                   fc = static_cast<double>(wc) * per_area;
      int channel[4];
      for (int i = 0; i < 4; ++i) {
        channel[i] =
            one_colour
                ? static_cast<int>(a.channel[i])
                : static_cast<int>(a.channel[i] * fa + b.channel[i] * fb + c.channel[i] * fc + 0.5);
      }
      const int covered =
          one_texel ? flat_texel
                    : texel(a.u * fa + b.u * fb + c.u * fc, a.v * fa + b.v * fb + c.v * fc);
      const int alpha = (channel[3] * covered + 127) / 255;
      if (alpha > 0) blend(pixel, channel[0], channel[1], channel[2], alpha);
    }
  }
}

}  // namespace

std::uint32_t Picture::at(int x, int y) const {
  const std::size_t i = (static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                         static_cast<std::size_t>(x)) *
                        4;
  return static_cast<std::uint32_t>(pixels[i]) | static_cast<std::uint32_t>(pixels[i + 1]) << 8 |
         static_cast<std::uint32_t>(pixels[i + 2]) << 16 |
         static_cast<std::uint32_t>(pixels[i + 3]) << 24;
}

Picture rasterise(const ImDrawData& data, const Coverage& atlas, std::uint32_t paper) {
  Picture picture{static_cast<int>(data.DisplaySize.x), static_cast<int>(data.DisplaySize.y), {}};
  picture.pixels.resize(static_cast<std::size_t>(picture.width) *
                        static_cast<std::size_t>(picture.height) * 4);
  for (std::size_t i = 0; i < picture.pixels.size(); ++i) {
    picture.pixels[i] = static_cast<std::uint8_t>(paper >> (8 * (i % 4)));
  }
  for (int n = 0; n < data.CmdListsCount; ++n) {
    const ImDrawList& list = *data.CmdLists[n];
    for (const ImDrawCmd& command : list.CmdBuffer) {
      if (command.UserCallback != nullptr) continue;
      const Clip clip{
          std::max(0, static_cast<int>(command.ClipRect.x - data.DisplayPos.x)),
          std::max(0, static_cast<int>(command.ClipRect.y - data.DisplayPos.y)),
          std::min(picture.width, static_cast<int>(command.ClipRect.z - data.DisplayPos.x)),
          std::min(picture.height, static_cast<int>(command.ClipRect.w - data.DisplayPos.y))};
      const ImDrawIdx* index = list.IdxBuffer.Data + command.IdxOffset;
      const ImDrawVert* vertex = list.VtxBuffer.Data + command.VtxOffset;
      for (unsigned i = 0; i + 2 < command.ElemCount; i += 3) {
        fill(corner_of(vertex[index[i]], data.DisplayPos, atlas),
             corner_of(vertex[index[i + 1]], data.DisplayPos, atlas),
             corner_of(vertex[index[i + 2]], data.DisplayPos, atlas), atlas, clip, picture);
      }
    }
  }
  return picture;
}

bool save_png(const Picture& picture, const std::string& path) {
  return stbi_write_png(path.c_str(), picture.width, picture.height, 4, picture.pixels.data(),
                        picture.width * 4) != 0;
}

}  // namespace legwork::gui
