#include "engine/session/log_writer.h"

#include "engine/session/log_file.h"
#include "engine/session/log_lines.h"
#include "engine/session/salvage.h"

namespace legwork::session {

struct LogWriter::File {
  std::unique_ptr<LogFile> file;
  std::string chain;
  bool put(const std::string& body) {
    std::string next;
    if (!file->append(sealed_line(body, chain, next))) return false;
    chain = next;
    return true;
  }
};

LogWriter::LogWriter(std::unique_ptr<File> file) : file_(std::move(file)) {}
LogWriter::~LogWriter() = default;

Result<std::unique_ptr<LogWriter>> LogWriter::create(const std::string& path,
                                                     const LogHeader& header) {
  LogFile::Opened opened = LogFile::create(path);
  if (opened.file == nullptr) return Failure(words(path, opened));
  auto file = std::make_unique<File>(File{std::move(opened.file), {}});
  if (!file->put(line_of(header)))
    return Failure(say("{file}: cannot be written (is the disk full?)", {{"file", Name{path}}}));
  return std::unique_ptr<LogWriter>(new LogWriter(std::move(file)));
}

Result<std::unique_ptr<LogWriter>> LogWriter::append_to(const std::string& path,
                                                        const ReadLog& read) {
  LogFile::Opened opened = LogFile::go_on(path, read.good_bytes, read.bytes);
  if (opened.file == nullptr) return Failure(words(path, opened));
  return std::unique_ptr<LogWriter>(
      new LogWriter(std::make_unique<File>(File{std::move(opened.file), read.tail_chain})));
}

bool LogWriter::write(const LogStep& step) { return file_->put(line_of(step)); }
bool LogWriter::write(const LogClosing& closing) { return file_->put(line_of(closing)); }

}  // namespace legwork::session
