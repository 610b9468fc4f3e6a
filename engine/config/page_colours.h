#pragma once
// Colours of a page that is written as one HTML file: those of assets/themes.yaml, by the roles
// that table explains, so that pages and window look alike.
//
//   html += "<style>" + page_colours(home) +
//   "body{background:var(--paper);color:var(--ink)}</style>";
//
// Light, dark where the reader's screen asks for it, and light again on paper.

#include <string>

namespace legwork {

// `home`: folder with assets/. A table that cannot be read leaves the browser's own colours.
std::string page_colours(const std::string& home);

}  // namespace legwork
