#include "engine/base/text_file.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <system_error>
#include <utility>

#include "engine/base/plain_text.h"

namespace legwork {
namespace {

namespace fs = std::filesystem;

// Closed at the end of its block.
struct Descriptor {
  int number = -1;
  ~Descriptor() {
    if (number >= 0) ::close(number);
  }
};

Message too_large(std::size_t limit) {
  return limit % (1u << 20) == 0
             ? say("out of range: larger than {n} MiB", {{"n", Number{limit >> 20}}})
             : say("out of range: larger than {n} bytes", {{"n", Number{limit}}});
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

Result<std::string> check_text(std::string bytes, std::size_t limit) {
  if (bytes.size() > limit) return Failure(too_large(limit));
  if (bytes.starts_with("\xEF\xBB\xBF")) bytes.erase(0, 3);
  const auto place = [&](std::size_t at) {
    const std::string_view before = std::string_view(bytes).substr(0, at);
    const std::size_t line = before.rfind('\n') + 1;  // npos + 1 = 0
    const auto lines = std::count(before.begin(), before.end(), '\n');
    return Mark{static_cast<int>(lines) + 1,
                static_cast<int>(character_count(before.substr(line))) + 1};
  };
  const std::size_t invalid = first_invalid_utf8(bytes);
  if (invalid != std::string::npos) {
    const std::string byte = fmt::format("0x{:02X}", static_cast<unsigned char>(bytes[invalid]));
    return Failure(
        say("unexpected byte {byte}: the file is not UTF-8 text", {{"byte", Name{byte}}}), {},
        place(invalid));
  }
  std::string text;
  text.reserve(bytes.size());
  for (std::size_t i = 0; i < bytes.size(); ++i) {
    if (bytes[i] == '\r') {
      text += '\n';
      if (i + 1 < bytes.size() && bytes[i + 1] == '\n') ++i;
    } else {
      text += bytes[i];
    }
  }
  bytes = std::move(text);
  const std::size_t control = first_control(bytes);
  if (control != std::string::npos) {
    return Failure(unexpected_control(bytes, control), {}, place(control));
  }
  return bytes;
}

Result<std::string> read_regular_file(const std::string& path, std::size_t limit) {
  const auto refuse = [](const Phrase& why) { return Failure(why); };
  if (path.find('\0') != std::string::npos)
    return refuse(phrase("unexpected NUL in the file's name"));
  // Not to wait for somebody at the other end of a pipe.
  const Descriptor file{::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY)};
  if (file.number < 0) {
    struct stat there {};
    if (::stat(path.c_str(), &there) != 0) {
      return refuse(errno == ENOENT || errno == ENOTDIR ? phrase("missing file")
                                                        : phrase("cannot be opened for reading"));
    }
    return refuse(S_ISREG(there.st_mode) ? phrase("cannot be opened for reading")
                                         : phrase("expected a regular file"));
  }
  struct stat is {};
  if (::fstat(file.number, &is) != 0) return refuse(phrase("cannot be read"));
  if (S_ISDIR(is.st_mode)) return refuse(phrase("expected a file, found a folder"));
  if (!S_ISREG(is.st_mode)) return refuse(phrase("expected a regular file"));
  // One byte more than allowed tells a file that is too large, even one that grows meanwhile.
  std::string bytes;
  bytes.reserve(std::min(limit, static_cast<std::size_t>(is.st_size)) + 1);
  char buffer[65536];
  while (bytes.size() <= limit) {
    const ssize_t n =
        ::read(file.number, buffer, std::min(sizeof buffer, limit + 1 - bytes.size()));
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) return refuse(phrase("cannot be read"));
    if (n == 0) break;
    bytes.append(buffer, static_cast<std::size_t>(n));
  }
  return bytes;
}

Result<std::string> read_text_file(const std::string& path, std::size_t limit) {
  Result<std::string> bytes = read_regular_file(path, limit);
  return bytes ? check_text(std::move(*bytes), limit) : bytes;
}

bool write_whole_file(const std::string& path, std::string_view bytes) {
  std::error_code error;
  const fs::path folder = fs::path(path).parent_path();
  if (!folder.empty()) fs::create_directories(folder, error);
  std::string fresh = path + ".XXXXXX";
  Descriptor file{::mkstemp(fresh.data())};
  if (file.number < 0) return false;
  bool good = ::fchmod(file.number, 0644) == 0;
  for (std::string_view rest = bytes; good && !rest.empty();) {
    const ssize_t n = ::write(file.number, rest.data(), rest.size());
    if (n < 0 && errno == EINTR) continue;
    good = n > 0;
    if (good) rest.remove_prefix(static_cast<std::size_t>(n));
  }
  good = ::close(std::exchange(file.number, -1)) == 0 && good;
  good = good && ::rename(fresh.c_str(), path.c_str()) == 0;
  if (!good) ::unlink(fresh.c_str());
  return good;
}

}  // namespace legwork
