#pragma once
// A debrief in the making: worked out on a thread of its own beside the call that it is about. Who
// could have done it and what a direct route is do not depend on the trainee, and each step is
// weighed when it is taken; so the debrief of a call just signed off is there at once.
//
//   Making making(door->log_path(), {});   // when the ticket is opened, or for a shift of the past
//   making.grown();                        // after each step: the log has another line
//   making.finish();                       // the debrief is wanted now
//   if (making.result()) ...               // asked again and again: null until it is there
//
// The same log gives the same debrief as debrief_file(). Its functions never wait, but for the
// destructor: it cancels and waits until the thread has noticed (after finished(): not at all).

#include <atomic>
#include <condition_variable>
#include <memory>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

#include "engine/score/debrief.h"
#include "engine/unit/unit.h"

namespace legwork::session {
struct ReadLog;
struct WriteUp;
}  // namespace legwork::session
namespace legwork::fault {
struct Scenario;
}

namespace legwork::score {

class Maker;

// What can be said before all else is worked out.
struct DebriefHead {
  Message site;
  Message ask_first;
  unit::UnitPtr unit;
};

class Making {
 public:
  // `beside`: somebody works meanwhile, and comes first; otherwise somebody waits for it.
  Making(std::string log_path, const DebriefOptions& options, bool beside = true);
  ~Making();
  Making(const Making&) = delete;
  Making& operator=(const Making&) = delete;

  void grown();
  void finish();
  void cancel();

  const std::string& log_path() const { return log_path_; }
  bool finished() const { return finished_.load(); }  // the thread is done, with or without result
  std::shared_ptr<const DebriefResult> result() const;
  std::shared_ptr<const DebriefHead> head() const;  // of a closed log soon after finish()

  // How far it is.
  int suspects_done() const { return suspects_done_.load(); }
  int suspects_of() const { return suspects_of_.load(); }  // 0: not known yet
  bool line_up_ready() const { return line_up_ready_.load(); }
  bool caught_up() const;  // with all that the log held when it was last told
  // What is to be submitted for "ring the shop": with what the shop would ask about
  // (shop_about.h), once it has caught up.
  std::string ring_line() const;

 private:
  void run();
  void work();
  bool follow_growing(Maker& maker, session::ReadLog& read);
  void say_head(const fault::Scenario& scenario, const unit::UnitPtr& unit,
                const session::WriteUp& wrote);
  void give(DebriefResult result);

  const std::string log_path_;
  const DebriefOptions options_;
  const bool beside_;
  std::atomic<bool> cancel_ = false, finished_ = false, line_up_ready_ = false;
  std::atomic<int> suspects_done_ = 0, suspects_of_ = 0;

  mutable std::mutex mutex_;  // of what follows
  std::condition_variable changed_;
  int grown_ = 0;
  bool finish_ = false, waits_ = false;
  std::string shop_about_;
  std::shared_ptr<const DebriefResult> result_;
  std::shared_ptr<const DebriefHead> head_;

  std::thread thread_;  // last: it uses all of the above
};

}  // namespace legwork::score
