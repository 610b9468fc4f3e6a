#include "gui/sheet/legend.h"

#include <algorithm>
#include <string>
#include <vector>

#include "gui/sheet/symbols.h"

namespace legwork::gui {
namespace {

constexpr int kTypeLegend = 12;
constexpr int kRowHigh = 48;
constexpr int kEntryWords = 190;  // for an entry's words
constexpr int kLegendPad = 14;

int width_of(std::string_view text, int size) { return (letters(text) * size * 62 + 99) / 100; }

int high_of(const SymbolKind& kind) {
  const Box box = bounds_of(kind);
  return std::max(kRowHigh, box.bottom - box.top + 18);
}

}  // namespace

std::vector<std::string> broken(std::string_view text, int most) {
  std::vector<std::string> lines;
  std::string line;
  while (!text.empty()) {
    const std::size_t space = text.find(' ');
    const std::string_view word = text.substr(0, space);
    if (!line.empty() && letters(line) + 1 + letters(word) > most) {
      lines.push_back(std::move(line));
      line.clear();
    }
    if (!line.empty()) line += ' ';
    line += word;
    text = space == std::string_view::npos ? std::string_view{} : text.substr(space + 1);
  }
  if (!line.empty()) lines.push_back(std::move(line));
  return lines;
}

Box add_legend(Scene& scene, Point from, int width, const Speech& speech) {
  // In the order of the table, each once.
  std::vector<const SymbolKind*> kinds;
  for (const SymbolKind& kind : symbol_kinds()) {
    if (std::any_of(scene.symbols.begin(), scene.symbols.end(),
                    [&](const Symbol& symbol) { return symbol.kind == kind.name; })) {
      kinds.push_back(&kind);
    }
  }
  int half = 24;  // the widest symbol stands over the middle of its column
  for (const SymbolKind* kind : kinds) half = std::max(half, bounds_of(*kind).right);
  const int entry = 2 * half + kLegendPad + kEntryWords;
  const int columns = std::max(1, (width - kLegendPad) / entry);
  const auto put = [&](const std::string& text, Point at, int size, bool strong) {
    scene.labels.push_back({text, at, Anchor::left, Face::words, size, "", strong});
  };
  int y = from.y + kLegendPad + 8;
  put(render(phrase("On this sheet"), speech), {from.x + kLegendPad, y}, 14, true);
  y += 22;
  const int room = width - 2 * kLegendPad;
  int right = from.x + std::min(width, columns * entry + kLegendPad);
  for (const Phrase& text :
       {phrase("Drawn de-energised, shelf state; the low-pressure control as with charge."),
        phrase("A crossing without a dot is no joint."),
        phrase("Numbers over a line name the wire. At the right of a coil: the lines of its "
               "contacts, closed ones underlined. After the name of a contact, in brackets: the "
               "line of its coil.")}) {
    for (const std::string& line : broken(render(text, speech), room * 100 / (kTypeLegend * 62))) {
      put(line, {from.x + kLegendPad, y}, kTypeLegend, false);
      right = std::max(right, from.x + 2 * kLegendPad + width_of(line, kTypeLegend));
      y += kTypeLegend + 6;
    }
  }
  y += 10;
  int total = 0;
  for (const SymbolKind* kind : kinds) total += high_of(*kind);
  const int foot = y + total / columns + (columns > 1 ? kRowHigh : 0);
  int column = 0;
  int lowest = y;
  for (int top = y; const SymbolKind* kind : kinds) {
    const int high = high_of(*kind);
    if (top > y && top + high > foot && column + 1 < columns) {
      top = y;
      ++column;
    }
    const int left = from.x + kLegendPad + column * entry;
    const Box box = bounds_of(*kind);
    const int middle = top + high / 2;
    scene.symbols.push_back({std::string(kind->name),
                             "",
                             {left + half, middle - (box.top + box.bottom) / 2},
                             0,
                             Pen::control});
    const auto lines = broken(render(kind->words, speech), kEntryWords * 100 / (kTypeLegend * 62));
    const int first = middle - static_cast<int>(lines.size() - 1) * 8;
    for (std::size_t n = 0; n < lines.size(); ++n) {
      put(lines[n], {left + 2 * half + kLegendPad, first + static_cast<int>(n) * 16}, kTypeLegend,
          false);
    }
    top += high;
    lowest = std::max(lowest, top);
  }
  const Box box{from.x, from.y, right, lowest + kLegendPad};
  add_frame(scene, box);
  return box;
}

}  // namespace legwork::gui
