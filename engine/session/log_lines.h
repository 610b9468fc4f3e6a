#pragma once
// A line of the shift log as text: shared by its reader and its writer.

#include <string>
#include <string_view>

#include "engine/session/log.h"

namespace legwork::session {

std::string line_of(const LogHeader& header);
std::string line_of(const LogStep& step);
std::string line_of(const LogClosing& closing);
std::string line_of_salvage(int bad_line);
// The line with its seal and its end: the chain goes last, so that the sealed text is the line up
// to it.
std::string sealed_line(std::string body, const std::string& chain_before, std::string& chain);

// One line into the log; what is wrong with it, or nothing. Throws nothing: what is no JSON is
// said.
Message take_line(const std::string& line, Log& log, int number);

}  // namespace legwork::session
