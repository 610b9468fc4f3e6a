#include "engine/base/text_file.h"

#include <fmt/format.h>

#include <filesystem>
#include <fstream>
#include <system_error>

namespace legwork {
namespace {

namespace fs = std::filesystem;

TextFile refused(std::string error) { return {false, {}, std::move(error)}; }

std::string too_large(std::size_t limit) {
  return limit % (1u << 20) == 0 ? fmt::format("out of range: larger than {} MiB", limit >> 20)
                                 : fmt::format("out of range: larger than {} bytes", limit);
}

// How many bytes this character should have, and the least value such a length may hold; 0: none.
int length_of_lead(unsigned char lead) {
  if (lead < 0x80) return 1;
  if (lead >= 0xC2 && lead < 0xE0) return 2;
  if (lead >= 0xE0 && lead < 0xF0) return 3;
  if (lead >= 0xF0 && lead < 0xF5) return 4;
  return 0;
}

}  // namespace

std::size_t first_invalid_utf8(std::string_view bytes) {
  for (std::size_t i = 0; i < bytes.size();) {
    const auto lead = static_cast<unsigned char>(bytes[i]);
    const int length = length_of_lead(lead);
    if (length == 0 || i + static_cast<std::size_t>(length) > bytes.size()) return i;
    unsigned value = length == 1 ? lead : lead & (0x7Fu >> length);
    for (int k = 1; k < length; ++k) {
      const auto next = static_cast<unsigned char>(bytes[i + static_cast<std::size_t>(k)]);
      if ((next & 0xC0u) != 0x80u) return i;
      value = value << 6 | (next & 0x3Fu);
    }
    const bool overlong = (length == 3 && value < 0x800) || (length == 4 && value < 0x10000);
    if (overlong || value > 0x10FFFF || (value >= 0xD800 && value < 0xE000)) return i;
    i += static_cast<std::size_t>(length);
  }
  return std::string_view::npos;
}

std::size_t character_count(std::string_view text) {
  std::size_t count = 0;
  for (const char c : text) count += (static_cast<unsigned char>(c) & 0xC0u) != 0x80u;
  return count;
}

TextFile check_text(std::string bytes, std::size_t limit) {
  if (bytes.size() > limit) return refused(too_large(limit));
  if (bytes.starts_with("\xEF\xBB\xBF")) bytes.erase(0, 3);
  auto line_of = [&](std::size_t at) {
    std::size_t line = 1;
    for (std::size_t i = 0; i < at; ++i) line += bytes[i] == '\n';
    return line;
  };
  const std::size_t invalid = first_invalid_utf8(bytes);
  if (invalid != std::string::npos) {
    return refused(fmt::format("unexpected byte 0x{:02X} in line {}: the file is not UTF-8 text",
                               static_cast<unsigned char>(bytes[invalid]), line_of(invalid)));
  }
  std::string text;
  text.reserve(bytes.size());
  for (std::size_t i = 0; i < bytes.size(); ++i) {
    const auto byte = static_cast<unsigned char>(bytes[i]);
    if (byte == '\r') {
      text += '\n';
      if (i + 1 < bytes.size() && bytes[i + 1] == '\n') ++i;
    } else if ((byte < 0x20 && byte != '\n' && byte != '\t') || byte == 0x7F) {
      return refused(
          fmt::format("unexpected control character 0x{:02X} in line {}", byte, line_of(i)));
    } else {
      text += bytes[i];
    }
  }
  return {true, std::move(text), {}};
}

TextFile read_text_file(const std::string& path, std::size_t limit) {
  if (path.find('\0') != std::string::npos) return refused("unexpected NUL in the file's name");
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  if (!fs::exists(status)) return refused("missing file");
  if (fs::is_directory(status)) return refused("expected a file, found a folder");
  if (!fs::is_regular_file(status)) return refused("expected a regular file");
  std::ifstream file(path, std::ios::binary);
  if (!file) return refused("cannot be opened for reading");
  // One byte more than allowed tells a file that is too large, even one that grows meanwhile.
  std::string bytes(limit + 1, '\0');
  file.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  bytes.resize(static_cast<std::size_t>(file.gcount()));
  if (file.bad()) return refused("cannot be read");
  return check_text(std::move(bytes), limit);
}

std::optional<std::string> path_inside(const std::string& folder, std::string_view relative) {
  if (relative.empty() || relative.find('\0') != std::string_view::npos) return std::nullopt;
  if (relative.find('\\') != std::string_view::npos) return std::nullopt;
  const fs::path part{std::string(relative)};
  if (part.is_absolute() || part.has_root_name()) return std::nullopt;
  for (const fs::path& step : part) {
    if (step == "..") return std::nullopt;
  }
  std::error_code error;
  const fs::path root = fs::weakly_canonical(folder, error);
  if (error) return std::nullopt;
  const fs::path target = fs::weakly_canonical(root / part, error);
  if (error) return std::nullopt;
  auto inner = target.begin();
  for (const fs::path& step : root) {
    if (step.empty()) continue;  // a folder written with a slash at its end
    if (inner == target.end() || *inner != step) return std::nullopt;
    ++inner;
  }
  if (inner == target.end()) return std::nullopt;  // the folder itself
  return target.string();
}

}  // namespace legwork
