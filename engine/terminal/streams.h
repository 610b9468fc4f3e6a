#pragma once
// Standard streams that cannot be written make a run fail: a full disk, a pipe whose reader has
// gone (quietly: that reader knows), a stream that was closed beforehand.
//
//   ready_streams();
//   return guarded([&] { return runner(); });

#include <functional>

namespace legwork::terminal {

// Before any file is opened: a stream that is closed is held, or the next file would get its number
// and what is printed. A pipe without a reader becomes an error of writing instead of a signal.
void ready_streams();

// The exit code of `act`; 1 and a sentence on standard error if not all of its output could be
// written.
int guarded(const std::function<int()>& act);

}  // namespace legwork::terminal
