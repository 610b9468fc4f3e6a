#include "engine/score/making.h"

#include <sys/resource.h>

#include <future>
#include <utility>

#include "engine/score/maker.h"
#include "engine/score/pages.h"
#include "engine/score/shop_about.h"
#include "engine/session/replay.h"
#include "engine/session/ticket_files.h"

namespace legwork::score {

namespace {
constexpr int kNice = 15;  // the window and its frames come first
}

Making::Making(std::string log_path, const DebriefOptions& options, bool beside)
    : log_path_(std::move(log_path)),
      options_(options),
      beside_(beside),
      thread_([this] { run(); }) {}

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

std::string Making::ring_line() const {
  const std::lock_guard lock(mutex_);
  return score::ring_line(waits_ ? shop_about_ : std::string{});
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
  if (beside_) setpriority(PRIO_PROCESS, 0, kNice);
  work();
  finished_ = true;
}

void Making::say_head(const fault::Scenario& scenario, const unit::UnitPtr& unit,
                      const session::WriteUp& wrote) {
  auto head = std::make_shared<DebriefHead>();
  head->site = session::ticket_view(scenario).title;
  head->ask_first = ask_first_of(wrote);
  head->unit = unit;
  const std::lock_guard lock(mutex_);
  head_ = std::move(head);
}

void Making::work() {
  session::ReadLog read = session::read_log_file(log_path_);
  // Whatever does not go as it should is said by the function that has the whole log.
  const auto give_up = [this] {
    if (!cancel_) give(debrief_file(log_path_, options_));
  };
  if (!read.log) return give_up();
  const session::Log& log = *read.log;
  const auto replayed = [&] {
    return session::replay(log, session::home_or(options_.home), nullptr);
  };
  Maker maker(options_, {&cancel_, &suspects_done_, &suspects_of_});
  if (!log.closing) {
    const session::Replayed again = replayed();
    if (again.bad_line > 0) return give_up();
    if (!maker.open(again.attempt->unit, again.attempt->scenario, log.header.seed)) return;
    line_up_ready_ = true;
    if (!follow_growing(maker, read)) return give_up();
    if (cancel_) return;
    say_head(*maker.call().attempt().scenario, maker.call().attempt().unit,
             maker.call().attempt().book.write_up);
  } else {
    // A shift of the past is proven beside, on the other processor.
    std::future<session::Replayed> proof = std::async(std::launch::async, replayed);
    const session::TicketFiles files = session::load_ticket_texts(
        log.closing->scenario_text, log.header.scenario + ".yaml", log.closing->unit_text,
        log.header.unit + ".yaml", session::home_or(options_.home));
    if (!files.ok()) return give_up();
    say_head(*files.scenario, files.unit, log.closing->write_up);
    if (!maker.open(files.unit, files.scenario, log.header.seed)) return;
    line_up_ready_ = true;
    if (!maker.follow(log)) return give_up();
    if (!maker.weigh()) return;
    if (proof.get().bad_line > 0) return give_up();
  }
  DebriefResult result;
  result.debrief = maker.debrief();
  give(std::move(result));
}

// Until the log is closed, or its debrief is wanted as it is. False: it goes otherwise than the
// log.
bool Making::follow_growing(Maker& maker, session::ReadLog& read) {
  for (int seen = 0;;) {
    if (!maker.follow(*read.log)) return false;
    // Worked out while the trainee thinks, if they give the time.
    if (!maker.weigh() || read.log->closing) return true;
    std::string about = maker.shop_about();
    std::unique_lock lock(mutex_);
    shop_about_ = std::move(about);
    waits_ = grown_ == seen;
    changed_.wait(lock, [&] { return cancel_ || finish_ || grown_ != seen; });
    waits_ = false;
    if (cancel_ || grown_ == seen) return true;
    seen = grown_;
    lock.unlock();
    session::ReadLog now = session::read_log_file(log_path_);
    if (now.log) read = std::move(now);
  }
}

}  // namespace legwork::score
