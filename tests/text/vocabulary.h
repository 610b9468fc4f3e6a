#pragma once
// Every word that the program shows as a Term (base/message.h): not written in a say() of its own,
// but taken from a table or a shipped file. Gathered by walking those tables and files.

#include <set>
#include <string>

namespace legwork::text {

std::set<std::string> vocabulary();

}  // namespace legwork::text
