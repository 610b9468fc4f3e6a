#pragma once
// The texts of unit and scenario that a call was begun with, kept in the data folder under their
// fingerprints: an open log names its files and holds none of their text, and they may be changed,
// moved or out of reach of their ids before the call is gone on with.
//
//   keep_begun_files(attempt);                                // when a log is begun
//   if (auto text = begun_file(header.scenario_sha256)) ...   // when it is opened again
//
// A text that does not have the fingerprint asked for is not read.

#include <optional>
#include <string>

#include "engine/session/attempt.h"

namespace legwork::session {

// If they cannot be kept, the call can be gone on with only where its files are found by their ids.
void keep_begun_files(const Attempt& attempt);
std::optional<std::string> begun_file(const std::string& sha256);

}  // namespace legwork::session
