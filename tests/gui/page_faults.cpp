#include "tests/gui/page_faults.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <vector>

#include "gui/screens/states.h"

namespace legwork::gui {
namespace {

struct Rect {
  float left = 1e9F, top = 1e9F, right = -1e9F, bottom = -1e9F;
  void take(ImVec2 p) {
    left = std::min(left, p.x);
    right = std::max(right, p.x);
    top = std::min(top, p.y);
    bottom = std::max(bottom, p.y);
  }
  float area() const { return std::max(0.0F, right - left) * std::max(0.0F, bottom - top); }
};

float shared(const Rect& a, const Rect& b) {
  return std::max(0.0F, std::min(a.right, b.right) - std::max(a.left, b.left)) *
         std::max(0.0F, std::min(a.bottom, b.bottom) - std::max(a.top, b.top));
}

struct Letter {
  Rect at;
  Rect seen;  // what its window leaves of it
  ImVec4 clip;
  char32_t code = 0;
  ImVec2 uv;
  bool hidden = false;
};

// Which letter of which font a corner of the atlas belongs to.
std::map<std::pair<float, float>, char32_t> letters_of_atlas() {
  std::map<std::pair<float, float>, char32_t> out;
  for (const ImFont* font : ImGui::GetIO().Fonts->Fonts) {
    for (const ImFontGlyph& glyph : font->Glyphs) out[{glyph.U0, glyph.V0}] = glyph.Codepoint;
  }
  return out;
}

std::string utf8(char32_t code) {
  std::string out;
  if (code < 0x80) {
    out += static_cast<char>(code);
  } else if (code < 0x800) {
    out += static_cast<char>(0xC0 | (code >> 6));
    out += static_cast<char>(0x80 | (code & 0x3F));
  } else {
    out += static_cast<char>(0xE0 | (code >> 12));
    out += static_cast<char>(0x80 | ((code >> 6) & 0x3F));
    out += static_cast<char>(0x80 | (code & 0x3F));
  }
  return out;
}

// Letters by the square of the page that their middle is in.
class Squares {
 public:
  Squares() : squares_(kAcross * kAcross) {}
  static ImVec2 middle(const Letter& it) {
    return {(it.seen.left + it.seen.right) / 2, (it.seen.top + it.seen.bottom) / 2};
  }
  void add(const Letter& it, std::size_t index) {
    const ImVec2 p = middle(it);
    squares_[square(p.x) + kAcross * square(p.y)].push_back(index);
  }
  template <typename Each>
  void each_in(const Rect& box, Each each) const {
    for (std::size_t y = square(box.top); y <= square(box.bottom); ++y) {
      for (std::size_t x = square(box.left); x <= square(box.right); ++x) {
        for (const std::size_t index : squares_[x + kAcross * y]) each(index);
      }
    }
  }

 private:
  static constexpr std::size_t kAcross = 64;
  static constexpr float kSide = 48;  // pixels
  static std::size_t square(float at) {
    return static_cast<std::size_t>(std::clamp(at / kSide, 0.0F, static_cast<float>(kAcross - 1)));
  }
  std::vector<std::vector<std::size_t>> squares_;
};

// The letters of a page in the order of drawing; those that something opaque was drawn over later
// are hidden.
std::vector<Letter> letters_of_page() {
  const auto atlas = letters_of_atlas();
  const ImDrawData& data = *ImGui::GetDrawData();
  std::vector<Letter> letters;
  Squares squares;
  for (int n = 0; n < data.CmdListsCount; ++n) {
    const ImDrawList& list = *data.CmdLists[n];
    for (const ImDrawCmd& cmd : list.CmdBuffer) {
      for (unsigned i = 0; i + 2 < cmd.ElemCount;) {
        const auto corner = [&](unsigned k) -> const ImDrawVert& {
          return list.VtxBuffer[static_cast<int>(cmd.VtxOffset) +
                                list.IdxBuffer[static_cast<int>(cmd.IdxOffset + i + k)]];
        };
        const ImDrawVert &a = corner(0), &b = corner(1), &c = corner(2);
        // A letter: two triangles over the same diagonal, with a piece of the atlas on them.
        const bool letter = i + 5 < cmd.ElemCount && a.uv.x != b.uv.x && b.uv.y != c.uv.y &&
                            a.uv.y == b.uv.y && b.uv.x == c.uv.x;
        if (letter) {
          Letter it;
          it.at.take(a.pos);
          it.at.take(c.pos);
          it.clip = cmd.ClipRect;
          it.seen = {std::max(it.at.left, it.clip.x), std::max(it.at.top, it.clip.y),
                     std::min(it.at.right, it.clip.z), std::min(it.at.bottom, it.clip.w)};
          it.uv = a.uv;
          const auto at = atlas.find({a.uv.x, a.uv.y});
          if (at != atlas.end()) it.code = at->second;
          if (at != atlas.end() && (a.col >> 24) > 60) {
            squares.add(it, letters.size());
            letters.push_back(it);
          }
          i += 6;
          continue;
        }
        const float twice = std::abs((b.pos.x - a.pos.x) * (c.pos.y - a.pos.y) -
                                     (c.pos.x - a.pos.x) * (b.pos.y - a.pos.y));
        constexpr float kCovers = 80;  // twice the area, pixels²
        if (twice > kCovers && (a.col >> 24) > 250 && (b.col >> 24) > 250 && (c.col >> 24) > 250) {
          const auto side = [](ImVec2 p, ImVec2 q, ImVec2 r) {
            return (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
          };
          Rect box;
          for (const ImDrawVert* corner_of : {&a, &b, &c}) box.take(corner_of->pos);
          squares.each_in(box, [&](std::size_t index) {
            Letter& it = letters[index];
            const ImVec2 p = Squares::middle(it);
            if (p.x < cmd.ClipRect.x || p.x > cmd.ClipRect.z || p.y < cmd.ClipRect.y ||
                p.y > cmd.ClipRect.w)
              return;
            const float u = side(a.pos, b.pos, p), v = side(b.pos, c.pos, p),
                        w = side(c.pos, a.pos, p);
            if ((u >= 0 && v >= 0 && w >= 0) || (u <= 0 && v <= 0 && w <= 0)) it.hidden = true;
          });
        }
        i += 3;
      }
    }
  }
  return letters;
}

// The letters around one, for a message that can be found on the page.
std::string near(const std::vector<Letter>& letters, std::size_t at) {
  std::string text;
  const std::size_t from = at < 8 ? 0 : at - 8, to = std::min(letters.size(), at + 9);
  for (std::size_t i = from; i < to; ++i) {
    if (i == at) text += '[';
    text += utf8(letters[i].code);
    if (i == at) text += ']';
  }
  return fmt::format("'{}' at {:.0f} {:.0f}", text, letters[at].at.left, letters[at].at.top);
}

std::string faults_of_letters(const std::vector<Place>& sheets, int width, int height) {
  std::string found;
  int count = 0;
  constexpr int kMost = 12;
  std::vector<Letter> letters = letters_of_page();
  const auto tell = [&](std::string what) {
    if (++count <= kMost) found += std::move(what) + "\n";
  };
  std::vector<std::size_t> shown;
  for (std::size_t i = 0; i < letters.size(); ++i) {
    Letter& it = letters[i];
    if (it.hidden || it.at.area() <= 0) continue;
    const ImVec4& clip = it.clip;
    const bool out = it.at.right <= clip.x || it.at.left >= clip.z || it.at.bottom <= clip.y ||
                     it.at.top >= clip.w;
    if (out) continue;  // scrolled away
    shown.push_back(i);
    // What scrolls is cut above and below; nothing is cut at a side, or by the page itself.
    // A sheet that can be moved about is cut where its window ends.
    const bool moves = std::any_of(sheets.begin(), sheets.end(), [&](const Place& sheet) {
      return clip.x >= sheet.left - 2 && clip.z <= sheet.right + 2 && clip.y >= sheet.top - 2 &&
             clip.w <= sheet.bottom + 2;
    });
    if (!moves && (it.at.left < clip.x - 1 || it.at.right > clip.z + 1))
      tell("cut off at a side: " + near(letters, i));
    if (it.at.right > static_cast<float>(width) + 1 || it.at.left < -1 ||
        (it.at.bottom > static_cast<float>(height) + 1 && clip.w >= static_cast<float>(height)))
      tell("out of the page: " + near(letters, i));
    // What is cut off above or below, where a paper scrolls, lies on nothing.
    it.at = it.seen;
  }
  // Letters on letters, by cells of a grid.
  constexpr float kCell = 64;
  std::map<std::pair<int, int>, std::vector<std::size_t>> cells;
  for (const std::size_t i : shown) {
    const Rect& a = letters[i].at;
    const std::pair<int, int> cell{static_cast<int>(a.left / kCell),
                                   static_cast<int>(a.top / kCell)};
    bool told = false;
    for (int x = cell.first - 1; x <= cell.first + 1 && !told; ++x) {
      for (int y = cell.second - 1; y <= cell.second + 1 && !told; ++y) {
        const auto at = cells.find({x, y});
        if (at == cells.end()) continue;
        for (const std::size_t j : at->second) {
          const Rect& b = letters[j].at;
          const bool twice = letters[i].uv.x == letters[j].uv.x &&
                             letters[i].uv.y == letters[j].uv.y && std::abs(a.left - b.left) < 2 &&
                             std::abs(a.top - b.top) < 1;  // drawn twice to be strong
          // Two letters of one word, one after the other on one line.
          const bool next = (i == j + 1 || j == i + 1) && std::abs(a.bottom - b.bottom) < 5 &&
                            shared(a, b) < 0.7F * std::min(a.area(), b.area());
          if (twice || next) continue;
          // Neighbours in one word touch; more than a third is on one another.
          // A strong word is printed twice, half a pixel apart: its narrow letters graze their
          // neighbours.
          constexpr float kGrazes = 2;  // pixels across
          const float across = std::min(a.right, b.right) - std::max(a.left, b.left);
          if (across > kGrazes && shared(a, b) > 0.34F * std::min(a.area(), b.area()) &&
              shared(a, b) > 6) {
            tell(near(letters, i) + " lies on " + near(letters, j));
            told = true;
            break;
          }
        }
      }
    }
    cells[cell].push_back(i);
  }
  if (count > kMost) found += fmt::format("and {} more\n", count - kMost);
  return found;
}

}  // namespace

std::string page_faults(const State& state, int width, int height) {
  std::vector<Place> sheets;
  if (state.screens) {
    const OnSiteState& site = state.screens->on_site;
    const DebriefState& debrief = state.screens->debrief;
    if (state.screen == "on site") sheets = {site.outside_area, site.panel_area, site.diagram_area};
    if (state.screen == "debrief") sheets = {debrief.fitted_area};
  }
  std::string found = faults_of_letters(sheets, width, height);
  const auto wide = static_cast<float>(width), high = static_cast<float>(height);
  for (const auto& [name, at] : state.places) {
    const bool away = at.right <= 0 || at.bottom <= 0 || at.left >= wide || at.top >= high;
    if (away || name == "clock" || name == "meter") continue;
    // Middles of what lies on a sheet, for tests to click: hit() gives them their 24 px.
    if (name.starts_with("terminal ") || name.starts_with("screw ") || name.starts_with("wire ") ||
        name.starts_with("part "))
      continue;
    constexpr float kTarget = 23.5F;  // 24 px, on whole pixels
    if (at.right - at.left < kTarget || at.bottom - at.top < kTarget)
      found += fmt::format("{} is too small a target: {:.0f} by {:.0f}\n", name, at.right - at.left,
                           at.bottom - at.top);
  }
  return found;
}

}  // namespace legwork::gui
