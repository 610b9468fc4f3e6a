#include "engine/base/plain_text.h"

#include <algorithm>
#include <cstdint>
#include <cstdio>

namespace legwork {
namespace {

// A character and its bytes; of text that is no UTF-8 here: one byte and no value.
struct Decoded {
  std::uint32_t value = 0;
  std::size_t bytes = 1;
  bool good = true;
};

Decoded decode(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char lead = byte(at);
  if (lead < 0x80) return {lead, 1, true};
  const std::size_t bytes = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC2 || lead > 0xF4 || at + bytes > text.size()) return {0, 1, false};
  std::uint32_t value = lead & (0x7Fu >> bytes);
  for (std::size_t k = 1; k < bytes; ++k) {
    if ((byte(at + k) & 0xC0u) != 0x80u) return {0, 1, false};
    value = value << 6 | (byte(at + k) & 0x3Fu);
  }
  return {value, bytes, true};
}

bool is_control(std::uint32_t c) {
  if (c < 0x20) return c != '\t' && c != '\n';
  return (c >= 0x7F && c <= 0x9F) || (c >= 0x2028 && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069) ||
         c == 0xFEFF;
}

}  // namespace

std::size_t first_control(std::string_view text) {
  for (std::size_t at = 0; at < text.size();) {
    const Decoded c = decode(text, at);
    if (c.good && is_control(c.value)) return at;
    at += c.bytes;
  }
  return std::string_view::npos;
}

std::string control_name(std::string_view text, std::size_t byte) {
  char name[16];
  std::snprintf(name, sizeof name, "U+%04X", static_cast<unsigned>(decode(text, byte).value));
  return name;
}

Message unexpected_control(std::string_view text, std::size_t byte) {
  return say("unexpected control character {character}",
             {{"character", Name{control_name(text, byte)}}});
}

std::string printable(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t at = 0; at < text.size();) {
    const Decoded c = decode(text, at);
    if (c.good && !is_control(c.value)) {
      out += text.substr(at, c.bytes);
    } else {
      out += '?';
    }
    at += c.bytes;
  }
  return out;
}

std::string escaped_html(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (const char c : text) {
    if (c == '&')
      out += "&amp;";
    else if (c == '<')
      out += "&lt;";
    else if (c == '>')
      out += "&gt;";
    else if (c == '"')
      out += "&quot;";
    else
      out += c;
  }
  return out;
}

std::string cut(std::string_view text, std::size_t characters) {
  if (text.size() <= characters) return std::string(text);
  std::size_t at = 0, end = 0;  // where the last character but one ends
  for (std::size_t count = 0; at < text.size(); ++count) {
    if (count + 1 == characters) end = at;
    if (count == characters) return std::string(text.substr(0, end)) + "…";
    at += decode(text, at).bytes;
  }
  return std::string(text);
}

bool is_plain_name(std::string_view text) {
  return !text.empty() && text.size() <= kLongestName &&
         text.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-") == text.npos;
}

}  // namespace legwork
