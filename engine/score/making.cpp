#include "engine/score/making.h"

#include <sys/resource.h>

#include <utility>

#include "engine/score/maker.h"
#include "engine/score/pages.h"
#include "engine/session/replay.h"
#include "engine/session/ticket_files.h"

namespace legwork::score {

namespace {
constexpr int kNice = 15;  // the window and its frames come first
}

Making::Making(std::string log_path, const DebriefOptions& options)
    : log_path_(std::move(log_path)), options_(options), thread_([this] { run(); }) {}

Making::~Making() {
  cancel();
  thread_.join();
}

void Making::grown() {
  const std::lock_guard lock(mutex_);
  ++grown_;
  changed_.notify_all();
}

void Making::finish() {
  const std::lock_guard lock(mutex_);
  finish_ = true;
  ++grown_;
  changed_.notify_all();
}

void Making::cancel() {
  const std::lock_guard lock(mutex_);
  cancel_ = true;
  changed_.notify_all();
}

bool Making::caught_up() const {
  const std::lock_guard lock(mutex_);
  return waits_;
}

std::shared_ptr<const DebriefResult> Making::result() const {
  const std::lock_guard lock(mutex_);
  return result_;
}

std::shared_ptr<const DebriefHead> Making::head() const {
  const std::lock_guard lock(mutex_);
  return head_;
}

void Making::give(DebriefResult result) {
  const std::lock_guard lock(mutex_);
  result_ = std::make_shared<const DebriefResult>(std::move(result));
}

void Making::run() {
  // Of this thread and those it starts: Linux keeps it by thread.
  setpriority(PRIO_PROCESS, 0, kNice);
  work();
  finished_ = true;
}

void Making::work() {
  session::ReadLog read = session::read_log_file(log_path_);
  if (!read.log) return give(debrief_file(log_path_, options_));  // says what is wrong
  session::Replayed again = session::replay(*read.log, session::home_or(options_.home), nullptr);
  if (again.bad_line > 0) return give(debrief_file(log_path_, options_));
  const auto say_head = [&](const session::Attempt& attempt) {
    auto head = std::make_shared<DebriefHead>();
    head->site = session::ticket_view(*attempt.scenario).title;
    head->ask_first = ask_first_of(attempt.book.write_up);
    head->unit = attempt.unit;
    head->texts = session::texts_of(*attempt.scenario, *attempt.unit);
    const std::lock_guard lock(mutex_);
    head_ = std::move(head);
  };
  if (read.log->closing) say_head(*again.attempt);
  Maker maker(options_, {&cancel_, &suspects_done_, &suspects_of_});
  if (!maker.open(again.attempt->unit, again.attempt->scenario, read.log->header.seed)) return;
  again.attempt.reset();
  line_up_ready_ = true;
  for (int seen = 0;;) {
    if (!maker.follow(*read.log)) {
      if (!cancel_) give(debrief_file(log_path_, options_));
      return;
    }
    if (read.log->closing && head() == nullptr) say_head(maker.call().attempt());
    // Worked out while the trainee thinks, if they give the time.
    if (!maker.weigh()) return;
    if (!read.log->closing) {
      std::unique_lock lock(mutex_);
      waits_ = grown_ == seen;
      changed_.wait(lock, [&] { return cancel_ || finish_ || grown_ != seen; });
      waits_ = false;
      if (cancel_) return;
      if (grown_ != seen) {
        seen = grown_;
        lock.unlock();
        session::ReadLog now = session::read_log_file(log_path_);
        if (now.log) read = std::move(now);
        continue;
      }
    }
    if (head() == nullptr) say_head(maker.call().attempt());
    DebriefResult result;
    result.debrief = maker.debrief();
    return give(std::move(result));
  }
}

}  // namespace legwork::score
