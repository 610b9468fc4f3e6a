#pragma once
// Writing the shift log (log.h): each line is on the disk when the call returns, and one program at
// a time writes (log_file.h).
//
//   auto writer = LogWriter::create(path, log_header(attempt));
//   if (!writer) complain(writer.failure());
//   if (!(*writer)->write(log_step(attempt, outcome))) ...

#include <memory>
#include <string>

#include "engine/base/result.h"
#include "engine/session/log.h"

namespace legwork::session {

class LogWriter {
 public:
  // Starts a new file; refuses one that exists, but for one that a kill left before its first line
  // was whole.
  static Result<std::unique_ptr<LogWriter>> create(const std::string& path,
                                                   const LogHeader& header);
  // Goes on with a file that read_log found good: cuts a torn tail off first.
  static Result<std::unique_ptr<LogWriter>> append_to(const std::string& path, const ReadLog& read);
  ~LogWriter();

  bool write(const LogStep& step);
  bool write(const LogClosing& closing);

 private:
  struct File;
  explicit LogWriter(std::unique_ptr<File> file);
  std::unique_ptr<File> file_;
};

}  // namespace legwork::session
