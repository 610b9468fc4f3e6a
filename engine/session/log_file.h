#pragma once
// The file of a shift log: locked for as long as somebody writes it, only ever added to, and on the
// disk when append() returns.
//
//   LogFile::Opened opened = LogFile::create(path);
//   if (opened.file == nullptr) complain(opened.trouble, opened.process);
//   if (!opened.file->append(line)) ...        // what was there before is as it was
//
// The lock is the kernel's (flock) and goes with the process, however that ends. Who holds it is
// written beside it, in PATH.open, for the second one to say; that file alone locks nothing.

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>

namespace legwork::session {

class LogFile {
 public:
  enum class Trouble {
    none,
    is_there,    // create: there is a log already
    in_use,      // another program, or another call of this one, has it open
    no_file,     // no regular file
    changed,     // it is not as long as it was when it was read
    unwritable,  // no permission, no room
  };
  struct Opened {
    std::unique_ptr<LogFile> file;
    Trouble trouble = Trouble::none;
    int process = 0;  // in use: by this one; 0 = not known
  };

  // A new file. One that a kill left before its first line was whole counts as none.
  static Opened create(const std::string& path);
  // One that was read up to `good_bytes`: what is past them, a torn last line, is cut off. `size`:
  // how long the file was when it was read.
  static Opened go_on(const std::string& path, std::uint64_t good_bytes, std::uint64_t size);

  ~LogFile();
  LogFile(const LogFile&) = delete;
  LogFile& operator=(const LogFile&) = delete;

  // The line as it is, its newline included. False: not written, and nothing of it stands there.
  bool append(std::string_view line);

 private:
  LogFile(int descriptor, std::string path, std::uint64_t size);
  int descriptor_;
  std::string path_;
  std::uint64_t size_;
};

// Empty, or the beginning of a first line: a kill came before there was anything to keep.
bool is_unbegun_log(std::string_view text);

// Before a log that was damaged in its middle is gone on with: the file as it was goes to
// PATH.damaged (or .damaged-2 …) and its first `good_bytes` stand in its place. Where the damaged
// one went; "": neither was touched.
std::string set_damaged_aside(const std::string& path, std::uint64_t good_bytes);

}  // namespace legwork::session
