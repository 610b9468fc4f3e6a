#pragma once
// A log that was damaged in its middle, opened up to its last good line.
//
//   const ReadLog read = read_log_file(path);                  // refused at line 7
//   const Result<std::string> aside = salvage(path, read);     // path + ".damaged"
//   if (!aside) complain(aside.failure()); else reopen(path);
//
// The file as it was goes beside it, and what is good of it stands in its place, with a line that
// says so. What stood behind the damage may have been what ends a call: so such a call cannot pass.

#include <string>

#include "engine/base/result.h"
#include "engine/session/log.h"
#include "engine/session/log_file.h"

namespace legwork::session {

// Can anything be saved? Not where the header itself is damaged, or the file cannot be read.
bool can_be_salvaged(const ReadLog& read);
// Where the damaged one went.
Result<std::string> salvage(const std::string& path, const ReadLog& read);

// What kept a log's file from being opened: for one that is open elsewhere, where, and how to look
// on.
Message words(const std::string& path, const LogFile::Opened& opened);

}  // namespace legwork::session
