#include "engine/session/begun_files.h"

#include <algorithm>
#include <filesystem>

#include "engine/base/fingerprint.h"
#include "engine/base/text_file.h"
#include "engine/session/door.h"

namespace legwork::session {

namespace {

constexpr std::size_t kLargest = 8u << 20;  // bytes; far above what is read as a unit

// Of a log that may be anybody's: nothing but a fingerprint becomes a path.
bool is_fingerprint(const std::string& sha256) {
  constexpr std::size_t kDigits = 64;
  return sha256.size() == kDigits && sha256.find_first_not_of("0123456789abcdef") == sha256.npos;
}

std::string path_of(const std::string& sha256) {
  return data_folder() + "/begun/" + sha256 + ".yaml";
}

void keep(const std::string& sha256, const std::string& text) {
  std::error_code error;
  if (!is_fingerprint(sha256) || std::filesystem::exists(path_of(sha256), error)) return;
  std::filesystem::create_directories(data_folder() + "/begun", error);
  write_whole_file(path_of(sha256), text);
}

}  // namespace

void keep_begun_files(const Attempt& attempt) {
  keep(attempt.scenario->content_hash, attempt.scenario->source_text);
  keep(attempt.unit->content_hash, attempt.unit->source_text);
}

std::optional<std::string> begun_file(const std::string& sha256) {
  if (!is_fingerprint(sha256)) return std::nullopt;
  const Result<std::string> text = read_regular_file(path_of(sha256), kLargest);
  if (!text || sha256_hex(*text) != sha256) return std::nullopt;
  return *text;
}

}  // namespace legwork::session
