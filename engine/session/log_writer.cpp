#include "engine/session/log_writer.h"

#include <cstdio>
#include <filesystem>

#include "engine/base/fingerprint.h"
#include "engine/session/log_lines.h"

namespace legwork::session {
namespace {

// The chain goes last in its line, so that the sealed text is the line up to it.
std::string sealed_line(std::string body, const std::string& chain_before, std::string& chain) {
  chain = sha256_hex(chain_before + body);
  body.pop_back();
  return body + ",\"chain\":\"" + chain + "\"}\n";
}

}  // namespace

struct LogWriter::File {
  std::FILE* handle = nullptr;
  std::string chain;
  ~File() {
    if (handle != nullptr) std::fclose(handle);
  }
  bool put(const std::string& body) {
    std::string next;
    const std::string line = sealed_line(body, chain, next);
    if (std::fwrite(line.data(), 1, line.size(), handle) != line.size() ||
        std::fflush(handle) != 0) {
      return false;
    }
    chain = next;
    return true;
  }
};

LogWriter::LogWriter(std::unique_ptr<File> file) : file_(std::move(file)) {}
LogWriter::~LogWriter() = default;

std::unique_ptr<LogWriter> LogWriter::create(const std::string& path, const LogHeader& header,
                                             Message& why) {
  auto file = std::make_unique<File>();
  const std::filesystem::path folder = std::filesystem::path(path).parent_path();
  std::error_code error;
  if (!folder.empty()) std::filesystem::create_directories(folder, error);
  file->handle = std::fopen(path.c_str(), "wbx");
  if (file->handle == nullptr) {
    why = std::filesystem::exists(path, error)
              ? say("{file}: is there already; a shift log is never overwritten",
                    {{"file", Name{path}}})
              : say("{file}: cannot be written", {{"file", Name{path}}});
    return nullptr;
  }
  if (!file->put(line_of(header))) {
    why = say("{file}: cannot be written (is the disk full?)", {{"file", Name{path}}});
    return nullptr;
  }
  return std::unique_ptr<LogWriter>(new LogWriter(std::move(file)));
}

std::unique_ptr<LogWriter> LogWriter::append_to(const std::string& path, const ReadLog& read,
                                                Message& why) {
  std::error_code error;
  if (read.torn) std::filesystem::resize_file(path, read.good_bytes, error);
  auto file = std::make_unique<File>();
  file->chain = read.tail_chain;
  file->handle = error ? nullptr : std::fopen(path.c_str(), "ab");
  if (file->handle == nullptr) {
    why = say("{file}: cannot be written", {{"file", Name{path}}});
    return nullptr;
  }
  return std::unique_ptr<LogWriter>(new LogWriter(std::move(file)));
}

bool LogWriter::write(const LogStep& step) { return file_->put(line_of(step)); }
bool LogWriter::write(const LogClosing& closing) { return file_->put(line_of(closing)); }

}  // namespace legwork::session
