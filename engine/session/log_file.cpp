#include "engine/session/log_file.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <charconv>
#include <filesystem>
#include <optional>
#include <utility>

#include "engine/base/text_file.h"
#include "engine/session/log.h"

namespace legwork::session {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kFirstLine = "{\"kind\":\"header\",\"format\":";
constexpr std::size_t kLongestHolder = 20;

bool write_all(int descriptor, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t n = ::write(descriptor, bytes.data(), bytes.size());
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(n));
  }
  return true;
}

// The name of a new file is on the disk once its folder is.
void sync_folder(const std::string& path) {
  const fs::path folder = fs::path(path).parent_path();
  const int descriptor =
      ::open(folder.empty() ? "." : folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (descriptor < 0) return;
  ::fsync(descriptor);
  ::close(descriptor);
}

std::string holder_file(const std::string& path) { return path + ".open"; }

int holder_of(const std::string& path) {
  const Result<std::string> text = read_regular_file(holder_file(path), kLongestHolder);
  int process = 0;
  if (text) std::from_chars(text->data(), text->data() + text->size(), process);
  return process;
}

// Takes the lock. A file system that has no locks is written without one.
bool is_locked_by_another(int descriptor) {
  return ::flock(descriptor, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK;
}

std::optional<std::uint64_t> size_of(int descriptor) {
  struct stat is {};
  if (::fstat(descriptor, &is) != 0 || !S_ISREG(is.st_mode)) return std::nullopt;
  return static_cast<std::uint64_t>(is.st_size);
}

}  // namespace

LogFile::LogFile(int descriptor, std::string path, std::uint64_t size)
    : descriptor_(descriptor), path_(std::move(path)), size_(size) {
  write_whole_file(holder_file(path_), std::to_string(::getpid()) + "\n");
}

LogFile::~LogFile() {
  ::unlink(holder_file(path_).c_str());  // while the lock is held: nobody else's
  ::close(descriptor_);
}

LogFile::Opened LogFile::create(const std::string& path) {
  const auto fail = [](Trouble trouble) { return Opened{nullptr, trouble, 0}; };
  std::error_code error;
  const fs::path folder = fs::path(path).parent_path();
  if (!folder.empty()) fs::create_directories(folder, error);
  const int descriptor =
      ::open(path.c_str(), O_RDWR | O_CREAT | O_APPEND | O_CLOEXEC | O_NONBLOCK | O_NOCTTY, 0644);
  if (descriptor < 0) {
    return fail(fs::exists(path, error) && !fs::is_regular_file(path, error) ? Trouble::no_file
                                                                             : Trouble::unwritable);
  }
  const std::optional<std::uint64_t> size = size_of(descriptor);
  Trouble trouble = Trouble::none;
  int process = 0;
  if (!size) {
    trouble = Trouble::no_file;
  } else if (is_locked_by_another(descriptor)) {
    trouble = Trouble::in_use;
    process = holder_of(path);
  } else if (*size > 0) {
    const Result<std::string> text = read_regular_file(path, kFirstLine.size() + 4096);
    const bool unbegun = text && is_unbegun_log(*text);
    if (!unbegun) trouble = Trouble::is_there;
    if (unbegun && ::ftruncate(descriptor, 0) != 0) trouble = Trouble::unwritable;
  }
  if (trouble != Trouble::none) {
    ::close(descriptor);
    return {nullptr, trouble, process};
  }
  sync_folder(path);
  return {std::unique_ptr<LogFile>(new LogFile(descriptor, path, 0)), Trouble::none, 0};
}

LogFile::Opened LogFile::go_on(const std::string& path, std::uint64_t good_bytes,
                               std::uint64_t size) {
  const int descriptor =
      ::open(path.c_str(), O_RDWR | O_APPEND | O_CLOEXEC | O_NONBLOCK | O_NOCTTY);
  if (descriptor < 0) return {nullptr, Trouble::unwritable, 0};
  Trouble trouble = Trouble::none;
  int process = 0;
  const std::optional<std::uint64_t> now = size_of(descriptor);
  if (!now) {
    trouble = Trouble::no_file;
  } else if (is_locked_by_another(descriptor)) {
    trouble = Trouble::in_use;
    process = holder_of(path);
  } else if (size_of(descriptor) != size) {
    trouble = Trouble::changed;  // between reading it and locking it
  } else if (good_bytes < size && ::ftruncate(descriptor, static_cast<off_t>(good_bytes)) != 0) {
    trouble = Trouble::unwritable;
  }
  if (trouble != Trouble::none) {
    ::close(descriptor);
    return {nullptr, trouble, process};
  }
  return {std::unique_ptr<LogFile>(new LogFile(descriptor, path, good_bytes)), Trouble::none, 0};
}

bool LogFile::append(std::string_view line) {
  // Somebody who asks for no lock has written to it: whose line would be where?
  if (size_of(descriptor_) != size_) return false;
  if (!write_all(descriptor_, line) || ::fdatasync(descriptor_) != 0) {
    // Half a line is none. If even that fails, the reader drops it as torn.
    if (::ftruncate(descriptor_, static_cast<off_t>(size_)) != 0) return false;
    return false;
  }
  size_ += line.size();
  return true;
}

bool is_unbegun_log(std::string_view text) {
  if (text.find('\n') != text.npos) return false;
  const std::size_t n = std::min(text.size(), kFirstLine.size());
  return text.substr(0, n) == kFirstLine.substr(0, n);
}

std::string set_damaged_aside(const std::string& path, std::uint64_t good_bytes) {
  const Result<std::string> whole = read_regular_file(path, kLargestLog);
  if (!whole || whole->size() < good_bytes) return {};
  for (int number = 1; number < 1000; ++number) {
    const std::string aside =
        path + ".damaged" + (number == 1 ? std::string() : "-" + std::to_string(number));
    // A link fails where there is one of that name; nothing is ever lost on the way.
    if (::link(path.c_str(), aside.c_str()) != 0) {
      if (errno == EEXIST) continue;
      return {};
    }
    if (write_whole_file(path, std::string_view(*whole).substr(0, good_bytes))) return aside;
    ::unlink(aside.c_str());
    return {};
  }
  return {};
}

}  // namespace legwork::session
