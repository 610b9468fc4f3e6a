#pragma once
// What a stranger's text may be before it is shown or becomes part of a path.
//
//   if (const std::size_t at = first_control(title); at != title.npos)
//     complain(unexpected_control(title, at));
//   if (!is_plain_name(id)) complain(kNameRule);
//   fmt::print("{}\n", printable(text));  // whatever it is, the terminal stays as it was
//   cut("a very long name", 6)            // "a ver…"

#include <cstddef>
#include <string>
#include <string_view>

#include "engine/base/message.h"

namespace legwork {

// Byte offset of the first character that would steer a terminal or turn text round: C0 but for tab
// and line feed, DEL, C1 (U+0080 to U+009F), line and paragraph separators, the controls of
// writing direction (U+202A to U+202E, U+2066 to U+2069), a byte order mark. npos: none. The text
// is UTF-8.
std::size_t first_control(std::string_view text);
// "U+001B": the character that begins at this byte.
std::string control_name(std::string_view text, std::size_t byte);
// "unexpected control character U+001B"
Message unexpected_control(std::string_view text, std::size_t byte);
// The text with each such character, and each byte that is no UTF-8, as a question mark.
std::string printable(std::string_view text);

// For the text or an attribute of an HTML or SVG file: & < > " written as entities.
std::string escaped_html(std::string_view text);

// At most so many characters; what was cut off is told by an ellipsis, which counts.
std::string cut(std::string_view text, std::size_t characters);

// Ids of units, scenarios, logs and learners: what may become the name of a file.
inline constexpr std::size_t kLongestName = 64;
inline constexpr Phrase kNameRule = phrase("small letters, digits and -; at most 64 of them");
bool is_plain_name(std::string_view text);

}  // namespace legwork
