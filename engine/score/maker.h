#pragma once
// A debrief while it is made, a step at a time: for debrief_file(), which has the whole log, and
// for making.h, which works beside a call. Inside of debrief.h; not for other folders.
//
//   Maker maker(options);
//   if (!maker.open(unit, scenario, seed)) return;     // cancelled
//   maker.follow(log);                                 // again whenever the log has grown
//   maker.weigh();                                     // the reference: any time after open()
//   result.debrief = maker.debrief();

#include <atomic>
#include <memory>
#include <optional>
#include <string>

#include "engine/score/call.h"
#include "engine/score/debrief.h"
#include "engine/score/reference.h"
#include "engine/session/log.h"

namespace legwork::score {

// How somebody outside watches the work and stops it; all may be null.
struct Watched {
  const std::atomic<bool>* cancel = nullptr;
  std::atomic<int>* done = nullptr;  // suspects worked out …
  std::atomic<int>* of = nullptr;    // … of so many
};

class Maker {
 public:
  explicit Maker(const DebriefOptions& options, const Watched& watched = {});

  // False: cancelled.
  bool open(const unit::UnitPtr& unit, const std::shared_ptr<const fault::Scenario>& scenario,
            std::uint64_t seed);
  // Takes the log's steps that are not taken yet. False: one of them goes otherwise than the log
  // says (replay.h says how), or it was cancelled.
  bool follow(const session::Log& log);
  // What the reference searcher makes of the ticket. False: cancelled.
  bool weigh();
  std::shared_ptr<const Debrief> debrief() const;
  std::string shop_about();  // shop_about.h, of the call so far

  const Call& call() const { return *call_; }

 private:
  bool cancelled() const { return watched_.cancel != nullptr && watched_.cancel->load(); }

  DebriefOptions options_;
  std::string home_, cache_folder_;
  Watched watched_;
  suspects::LineupPtr lineup_;
  std::optional<session::Attempt> on_arrival_;
  std::optional<Call> call_;
  bool weighed_ = false;
  bool salvaged_ = false;
  Reference reference_;
  ReferenceWay way_;
};

}  // namespace legwork::score
