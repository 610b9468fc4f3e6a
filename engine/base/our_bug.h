#pragma once
// When an assert fires, or memory is touched that is not ours: the program ends, and says first
// where the shift log is and what to send.
//
//   say_where_the_log_is("/home/x/.local/share/legwork/shifts/mb-002-001.jsonl");   // at its
//   opening
//
// Asserts stay on in what users run: a wrong reading is worse than none.

#include <string_view>

namespace legwork {

// The log that is written now; "" = none. The first call makes SIGABRT, SIGSEGV, SIGBUS, SIGFPE and
// SIGILL speak before they end the program as they would have.
void say_where_the_log_is(std::string_view path);

}  // namespace legwork
