// Where the program's own files are: the folder that holds assets/, circuits/ and scenarios/.
//
//   read_text_file(home_folder() + "/circuits/wf-208.yaml");
//
// Looked for in this order, the first that holds all three wins:
//   1. the environment variable LEGWORK_HOME (if it is set and does not hold them: no answer)
//   2. upward from the folder of the running program
//   3. the source tree this program was built from
//   4. ../share/legwork beside the folder of the running program
// An empty text means that none was found; say home_help() then.
#pragma once

#include <string>
#include <vector>

#include "engine/base/message.h"

namespace legwork {

std::string home_folder();
// Folders that may hold catalogues (es.mo), the first to be asked first: LEGWORK_HOME/languages,
// those named "languages" upward from the program, that of the build, ../share/legwork/languages.
std::vector<std::string> language_folders();
// One sentence for the user: where it was looked for and what to set.
Message home_help();

}  // namespace legwork
