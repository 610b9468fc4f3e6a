#include "gui/theme.h"

#include <charconv>

#include "engine/config/reader.h"

namespace legwork::gui {
namespace {

constexpr std::array<const char*, static_cast<std::size_t>(Role::count)> kNames = {
    "paper", "desk", "plate",  "ink", "dim",      "faint",
    "rule",  "pen",  "marker", "tag", "red_lead", "black_lead"};

std::optional<Colour> parse_colour(std::string_view text) {
  if (text.size() != 7 || text[0] != '#') return {};
  unsigned value = 0;
  const auto [end, error] = std::from_chars(text.data() + 1, text.data() + 7, value, 16);
  if (error != std::errc() || end != text.data() + 7) return {};
  return Colour{static_cast<std::uint8_t>(value >> 16), static_cast<std::uint8_t>(value >> 8),
                static_cast<std::uint8_t>(value)};
}

}  // namespace

const char* name_of(Role role) { return kNames[static_cast<std::size_t>(role)]; }

std::uint32_t Theme::packed(Role role, std::uint8_t alpha) const {
  const Colour c = (*this)[role];
  return static_cast<std::uint32_t>(c.red) | static_cast<std::uint32_t>(c.green) << 8 |
         static_cast<std::uint32_t>(c.blue) << 16 | static_cast<std::uint32_t>(alpha) << 24;
}

std::vector<Theme> read_themes(const std::string& path, Diagnostics& found) {
  std::vector<Theme> themes;
  const Document document = read_document(path, found);
  for (const Entry& entry : document.root().entries()) {
    Theme theme{.name = entry.key};
    Reader reader(entry.value, found, say("theme '{theme}'", {{"theme", Name{entry.key}}}));
    for (std::size_t i = 0; i < kNames.size(); ++i) {
      const std::string text = reader.text(kNames[i]);
      if (const auto colour = parse_colour(text)) {
        theme.colours[i] = *colour;
      } else if (!text.empty()) {
        reader.error(kNames[i], say("expected a colour like \"#1f1d1a\", found '{found}'",
                                    {{"found", Name{text}}}));
      }
    }
    reader.finish();
    themes.push_back(theme);
  }
  return themes;
}

}  // namespace legwork::gui
