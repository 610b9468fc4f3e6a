#include "engine/config/page_colours.h"

#include <fmt/format.h>

#include <string_view>

#include "engine/config/document.h"

namespace legwork {
namespace {

// "--paper:#faf7f0;--black-lead:#15130f;" of one theme.
std::string colours_of(const Document& document, std::string_view theme) {
  std::string css;
  for (const Entry& entry : document.root().find(theme).entries()) {
    const std::string value = entry.value.text();
    const bool colour = value.size() == 7 && value[0] == '#' &&
                        value.find_first_not_of("0123456789abcdefABCDEF", 1) == std::string::npos;
    if (!colour) continue;
    std::string role = entry.key;
    for (char& c : role) c = c == '_' ? '-' : c;
    css += fmt::format("--{}:{};", role, value);
  }
  return css;
}

}  // namespace

std::string page_colours(const std::string& home) {
  Diagnostics found;
  const Document document = read_document(home + "/assets/themes.yaml", found);
  if (!document.ok()) return {};
  const std::string light = colours_of(document, "paper-light");
  return fmt::format(
      ":root{{color-scheme:light dark;{}}}\n@media(prefers-color-scheme:dark){{:root{{{}}}}}\n"
      "@media print{{:root{{{}}}}}\n",
      light, colours_of(document, "paper-dark"), light);
}

}  // namespace legwork
