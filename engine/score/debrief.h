#pragma once
// The debrief of one attempt: score and replay as data, made from the shift log alone. Nothing here
// knows a fault type: names and sentences only, so that a front end can show all of it.
//
//   DebriefResult r = debrief_file(log_path, {});
//   if (!r.debrief) { show(r.why); return; }
//   show(r.debrief->ask_first);                 // the trainee first
//   for (const Page& page : r.debrief->pages) ...
//   fputs(as_html(*r.debrief, scenes).c_str(), file);
//
// The same log gives the same debrief, letter for letter. A log that is not closed gives pages, but
// no account. What was known at a page is what the trainee's own steps had shown by then; nothing
// is judged by what came out later.

#include <array>
#include <atomic>
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/message.h"
#include "engine/score/grade.h"

namespace legwork::score {

// What a step was worth when it was taken.
enum class StepClass {
  other,     // no reading: walking, asking, putting instruments on, repairing
  decisive,  // it left one repair
  told,      // it ruled out repairs or ways to fail
  known,     // it told again what an earlier step or the ticket had told
  practice,  // good practice: supply proven, confirmed across the part, product and box read
  repeat,    // read before, nothing had changed
  nothing,   // it told nothing, could not have, and is no practice either
  unsafe,
  safe_working,  // making safe and proving it: never weighed as a search
  verifying,     // read after the repair
};
Message word(StepClass step_class);  // "decisive", "known already"; empty for other

// What a conductor followed at that moment, as a meter would have found it.
enum class Follows : std::uint8_t { dead, leg1, leg2, leg3, neutral, floating, back_fed };

enum class Standing : std::uint8_t { possible, doubtful, struck };

// A line of the ink list.
struct SuspectLine {
  Message name;        // "condenser, plugged inside (two thirds)"
  Message bare;        // without its severity
  Message severity;    // empty if it has one alone
  std::string repair;  // "wash condenser inside out"
  bool wire = false;   // a conductor, or an end of it
  std::string what;    // of a wire: its name, whatever is wrong with it
  int struck_by = -1;  // page number that struck it for good; 0 = the ticket; -1 = never
};

// A step that would have told more, at the moment of a page.
struct BetterStep {
  std::string line;  // "volts CC.A1 CC.A2"; "" if there was none
  Message words;     // "volts across CC.A1–CC.A2"
  double minutes = 0;
  int leaves = 0;  // repairs it would have left, most probably
};

struct Page {
  int number = 0;  // 1 …
  std::string line;
  Message words;  // the step for a person: "Volts across CC.A1–CC.A2"
  std::string place;
  double at_minute = 0;  // when it ended, since the ticket began
  double minutes = 0;
  std::vector<Message> shown;     // readings and looks, as shown
  std::vector<Message> happened;  // what was heard
  std::vector<Message> said;
  std::vector<Message> hazards;  // why, each a sentence
  StepClass step_class = StepClass::other;
  Message verdict;                 // what it told, or why not
  std::vector<int> struck;         // suspects struck by this page: indices into Debrief::suspects
  std::vector<int> back;           // suspects that came back
  int known_by = -1;               // step that had told it already; 0 = the ticket; -1 = none
  std::vector<Standing> standing;  // per suspect, after this page
  int suspects_left = 0;
  int repairs_left = 0;
  BetterStep better;               // only if it would have told clearly more
  double lost_minutes = 0;         // cost less what the best step would have cost for as much
  std::vector<Follows> terminals;  // by the circuit's terminal index, after this page
};

struct RouteStep {
  std::string line;
  Message words;
  Message shown;  // what it reads on this call
  double minutes = 0;
  double at_minute = 0;
  int repairs_left = 0;
  bool condemns = false;  // belongs to the test that condemns what is left
};

// The call as a master would go through it.
enum class StageKind { on_site, called, power, rung, part, why, mended, running, handed_over };
struct LeadStepView {
  Message words;
  LocalText remark;  // the lead's own words; may be empty
};
struct Stage {
  StageKind kind = StageKind::on_site;
  Message name;                    // "Along the rung"
  std::vector<int> pages;          // the trainee's steps of this stage that showed something
  std::vector<Message> own;        // the same, each "step 19: looking at CF1"
  std::vector<LeadStepView> lead;  // the lead's
};

struct Change {  // a step worth changing
  int page = 0;
  Message step;  // "step 19: looking at CF1"
  Message sentence;
};

// One value over the call, for a chart: at the end of each page, and every minute of the longer
// ones. Minutes since the ticket began.
struct Series {
  Message name;      // "head", "suction", "box", "compressor"
  std::string unit;  // of y: "psig", "°F", "A"
  std::vector<float> minute;
  std::vector<float> value;
  std::vector<int> page;  // the page that ends at this point; 0: between two

  Series in(const Speech& speech) const;  // in the reader's units
};

struct Debrief {
  std::string scenario;
  Message site;
  Message said;
  std::string unit_id;
  Message unit_name;
  std::string clock;  // "05:10"
  Message outdoor;
  double minutes = 0;
  bool closed = false;
  std::string closed_why;

  Message opening;    // one sentence on how the call went; empty if it is not closed
  Message ask_first;  // the question put to the trainee before anything is shown
  std::vector<SuspectLine> suspects;
  std::vector<std::string> repairs;  // names of the repair classes that were ever possible
  std::vector<Page> pages;
  Message truth;               // two or three sentences: what it was and how it came about
  std::vector<Message> wrote;  // the write-up, a line each
  std::vector<Message> done;   // what was done, by the log
  Account account;
  std::vector<Change> changes;   // at most three
  std::vector<RouteStep> route;  // the other way to go
  double route_minutes = 0;      // its search
  std::vector<Stage> stages;     // the trainee's steps beside the lead's; closed calls alone
  bool lead_wrote = false;       // the lead's way is a lead's own; else it is the route
  Message goal;                  // one, for next time
  std::vector<Series> series;
  std::vector<std::string> skills;  // that the scenario teaches
  Message caution;                  // what a trainer is not
};

struct DebriefOptions {
  std::string home;       // "" = where the program finds its own files
  bool use_cache = true;  // arrival snapshots, in the user's data folder
  bool with_route = true;
  bool with_better_steps = true;
  const std::atomic<bool>* cancel = nullptr;  // set: what comes back soon is worth nothing
};

struct DebriefResult {
  std::shared_ptr<const Debrief> debrief;
  Message why;  // no debrief: what is wrong with the log, and at which line
};
DebriefResult debrief_file(const std::string& log_path, const DebriefOptions& options);

// What the points do not say: whether it was the shipped call, and what this machine knows of it
// besides (session/provenance.h, session/call_book.h). Not of the log alone, so no part of the
// debrief. A call out of the hat is made again for it, which takes seconds.
std::vector<Message> beside_the_points(const std::string& log_path, const std::string& home);

Message outcome_word(const Account& account);  // "Passed.", "Not passed.", "Practice."
std::string as_text(const Debrief& debrief, const Speech& speech = {});
std::string as_json(const Debrief& debrief);  // indented, keys in a fixed order
struct HtmlOptions {
  // `scenes[k]` is the sheet for page k as an SVG element; may be shorter or empty.
  std::vector<std::string> scenes;
  Speech speech;
  std::vector<Message> beside;  // beside_the_points()
  std::string home;             // of assets/themes.yaml; "" = where the program finds its own files
};
// One file, no network, screen and paper.
std::string as_html(const Debrief& debrief, const HtmlOptions& options = {});
std::string account_text(const Debrief& debrief, const Speech& speech = {});  // the score alone
std::string account_json(const Debrief& debrief);

}  // namespace legwork::score
