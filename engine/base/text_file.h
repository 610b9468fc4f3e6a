// Reading text that a stranger may have written: bounded, UTF-8, and only from where it may come.
//
//   Result<std::string> text = read_text_file("circuits/wf-208.yaml");
//   if (!text) found.file_error(path, text.failure());   // "missing file"
//
// A byte order mark at the start is dropped, "\r\n" and a lone "\r" become "\n": the same text, and
// so the same content hash, whichever system the file was saved on.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "engine/base/result.h"

namespace legwork {

inline constexpr std::size_t kTextFileLimit = 1u << 20;  // 1 MiB

// All bytes of a regular file; of no device or pipe, which may never end, and at which even opening
// may wait for ever.
Result<std::string> read_regular_file(const std::string& path, std::size_t limit);
// A failure has its place in the text, where there is one.
Result<std::string> read_text_file(const std::string& path, std::size_t limit = kTextFileLimit);
// The same checks on text already at hand: UTF-8, and no control characters (plain_text.h).
Result<std::string> check_text(std::string bytes, std::size_t limit = kTextFileLimit);

// Writes the whole file or leaves what was there: under a name of its own beside it first, so that
// neither a kill nor a second program at the same time leaves half of one. Makes the folder.
bool write_whole_file(const std::string& path, std::string_view bytes);

// Byte offset of the first byte that is no UTF-8 (overlong forms, surrogates and values past
// U+10FFFF are none); npos if all is well.
std::size_t first_invalid_utf8(std::string_view bytes);
// Characters (code points) in valid UTF-8.
std::size_t character_count(std::string_view text);

}  // namespace legwork
