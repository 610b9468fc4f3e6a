#pragma once
// Work beside the page: on threads of their own, at low priority, so that no frame waits for it.
// The page looks for the answer with each frame; whoever goes elsewhere leaves the work, which then
// stops by itself.
//
//   mine.asking = ask(state, [path](const std::atomic<bool>& cancel) { return read(path, cancel);
//   }); if (const Answer* answer = mine.asking->answer()) show(*answer);

#include <sys/resource.h>

#include <atomic>
#include <functional>
#include <memory>
#include <thread>
#include <utility>
#include <vector>

#include "engine/score/making.h"
#include "gui/app.h"

namespace legwork::gui {

constexpr int kBesideNice = 15;

template <class Answer>
class Errand {
 public:
  using Work = std::function<Answer(const std::atomic<bool>& cancel)>;
  explicit Errand(Work work)
      : thread_([this, work = std::move(work)] {
          setpriority(PRIO_PROCESS, 0, kBesideNice);  // Linux keeps it by thread
          answer_ = work(cancel_);
          finished_ = true;
        }) {}
  ~Errand() {
    cancel();
    if (thread_.joinable()) thread_.join();
  }
  Errand(const Errand&) = delete;
  Errand& operator=(const Errand&) = delete;

  void cancel() { cancel_ = true; }
  bool finished() const { return finished_; }
  const Answer* answer() const { return finished_ ? &answer_ : nullptr; }
  void wait() {
    if (thread_.joinable()) thread_.join();
  }

 private:
  std::atomic<bool> cancel_ = false, finished_ = false;
  Answer answer_{};
  std::thread thread_;  // last: it uses the rest
};

struct Beside {
  std::shared_ptr<score::Making> making;       // of the call in hand, or of the shift looked at
  std::vector<std::function<bool()>> leaving;  // true: gone
};

// Of this log, begun if it is not in hand already.
// `waited_for`: not beside a call.
score::Making& making_of(State& state, const std::string& log_path, bool waited_for = false);
void leave_making(State& state);
// Lets go of what has stopped: once a frame.
void reap(State& state);

void leave_work(State& state, std::function<bool()> gone);
// Cancelled, and let go of once it has stopped.
template <class Work>
void leave(State& state, std::shared_ptr<Work>& work) {
  if (work == nullptr) return;
  work->cancel();
  leave_work(state, [work] { return work->finished(); });
  work.reset();
}

}  // namespace legwork::gui
