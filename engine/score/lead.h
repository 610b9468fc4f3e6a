#pragma once
// The shop lead's page of one scenario: the answer, the route, and the readings to expect. This
// shows the truth: front ends put it behind the lead's own door.
//
//   LeadPage page = lead_page("scenarios/mb-004.yaml", {});
//   if (!page.why.empty()) show(page.why);

#include <string>
#include <vector>

#include "engine/score/debrief.h"

namespace legwork::score {

struct ExpectedReading {
  std::string line;  // "volts CC.A1 CC.A2"
  Message healthy;   // on the sound machine, at the same moment: "204.6 V"
  Message here;      // with this fault: "0.0 V"
};

// What the check says of the scenario: too easy, not separable …
struct PageFinding {
  Severity severity = Severity::error;
  std::string_view key;  // of the scenario file, that it is about: "wrong", "par", "lead"
  Message what;          // a sentence
  Message hint;          // how to mend it; may be empty
};

struct LeadPage {
  Message why;  // not empty: the scenario cannot be worked out, and why
  std::string scenario;
  std::string unit_id;
  Message site;
  Message said;
  Message found;
  Message stopped_by;
  Message part;
  Message root;
  Message repair;
  Message story;  // sentences, from cause to complaint
  std::vector<RouteStep> route;
  double route_minutes = 0;          // search alone
  double mean_minutes = 0;           // the same, mean over all suspects of this ticket
  int suspects = 0;                  // that can show what the ticket says
  int repairs = 0;                   // repair classes among them
  std::vector<Message> look_alikes;  // repairs that no step can tell from the true one
  std::vector<PageFinding> findings;
  std::vector<ExpectedReading> readings;  // those that differ most from the sound machine

  bool broken() const;  // a finding is an error
};
Message words_of(const PageFinding& finding);  // "error: par is 40 min, and …"

LeadPage lead_page(const std::string& scenario, const DebriefOptions& options);
// What is broken in it alone, as soon as that is known: with the same findings, but the route is
// not made shorter than par allows.
LeadPage lead_page_in_short(const std::string& scenario, const DebriefOptions& options);
std::string as_text(const LeadPage& page, const Speech& speech = {});

// What every learner whose logs are in the user's data folder can do by now.
struct SkillLine {
  std::string skill;
  int calls = 0;
  double middle = 0, low = 0, high = 0;  // 0 to 1
  bool secure = false;
  int machines = 0;  // different units on which it was shown
  std::string last;  // day of the last call: "2026-03-01"
};
// A closed call as the day sheet lists it.
struct ShiftScore {
  std::string path;
  std::string day;  // of its end: "2026-03-01"
  double total = 0;
  bool scored = false, passed = false, practice = false;
};
// `scores`: filled with those of all closed logs too, in their order. May be null.
std::vector<SkillLine> progress_of(const std::vector<std::string>& log_paths,
                                   const DebriefOptions& options,
                                   std::vector<ShiftScore>* scores = nullptr);

}  // namespace legwork::score
