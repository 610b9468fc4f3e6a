#include "engine/session/salvage.h"

#include "engine/session/log_lines.h"

namespace legwork::session {

Message words(const std::string& path, const LogFile::Opened& opened) {
  const Name file{path};
  switch (opened.trouble) {
    case LogFile::Trouble::is_there:
      return say("{file}: is there already; a shift log is never overwritten", {{"file", file}});
    case LogFile::Trouble::in_use:
      if (opened.process > 0) {
        return say("{file}: is open in another program (process {process}); to look on: {command}",
                   {{"file", file},
                    {"process", Name{std::to_string(opened.process)}},
                    {"command", Name{"legwork replay " + path}}});
      }
      return say("{file}: is open in another program; to look on: {command}",
                 {{"file", file}, {"command", Name{"legwork replay " + path}}});
    case LogFile::Trouble::no_file:
      return say("{file}: expected a regular file", {{"file", file}});
    case LogFile::Trouble::changed:
      return say("{file}: another program has written to it just now; try again", {{"file", file}});
    default:
      return say("{file}: cannot be written", {{"file", file}});
  }
}

bool can_be_salvaged(const ReadLog& read) {
  return !read.log && read.bad_line > 1 && read.good_bytes > 0;
}

Result<std::string> salvage(const std::string& path, const ReadLog& read) {
  if (!can_be_salvaged(read)) return Failure(located(path, read.bad_line, read.why));
  // Nobody may be writing it meanwhile.
  LogFile::Opened old = LogFile::go_on(path, read.bytes, read.bytes);
  if (old.file == nullptr) return Failure(words(path, old));
  const std::string aside = set_damaged_aside(path, read.good_bytes);
  if (aside.empty()) return Failure(say("{file}: cannot be written", {{"file", Name{path}}}));
  old.file.reset();
  LogFile::Opened fresh = LogFile::go_on(path, read.good_bytes, read.good_bytes);
  if (fresh.file == nullptr) return Failure(words(path, fresh));
  std::string chain;
  if (!fresh.file->append(sealed_line(line_of_salvage(read.bad_line), read.tail_chain, chain)))
    return Failure(say("{file}: cannot be written", {{"file", Name{path}}}));
  return aside;
}

}  // namespace legwork::session
