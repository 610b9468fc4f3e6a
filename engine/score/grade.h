#pragma once
// From what was established about a call to points: ten dimensions, six gates, two caps. A pure
// function of plain data; who gathers the facts (from the log) is call.h. Each rule is a row of
// rules.cpp: name, key in the rubric, judge and sentence.
//
//   Account account = grade(facts, rubric);
//   account.total, account.passed, account.dimensions[k].sentence
//
// The rubric is a versioned table, assets/rubric.yaml: weights, thresholds and what each gate asks.
// Two of its rules are worth telling:
//
//  - Proof is what the trainee's own readings say about the fault that they named, with all repair
//    classes equally likely beforehand (U), at the moment the first part was replaced for it:
//        E = clamp((U - U0) / (full - U0)),  U0 = that class's share after the complaint alone.
//    A swap that happens to cure the machine is overwhelming evidence; counted, it would give the
//    parts swapper full marks. That is one half; the other is the test that condemns the part
//    (engine/circuit/condemn.h), without which the points are halved and the gate stays shut.
//  - Sureness is held against the evidence, not against luck: C = clamp(1 - 4 (q - P)^2) with q as
//    stated and P what the readings justify with the shop's experience as prior. The quadratic is
//    Brier's (1950, from memory) without the term nobody can influence.
//
// Route: F = E clamp(1 - ln(max(T/Tref, free)/free) / ln(zero/free)); minutes, never counts of
// readings. Verifying, locking out and writing up cost nothing here: safety is not made expensive.

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/diagnostics.h"
#include "engine/base/message.h"

namespace legwork::score {

enum class Dim { stopped_by, part, how, root, proof, route, verified, hand_over, parts, sureness };
inline constexpr int kDims = 10;
Message name(Dim dim);  // "Stopped by"

// assets/rubric.yaml: what each is stands there. Without a file every number is 0.
struct Rubric {
  int version = 0;
  std::array<double, kDims> weight{};  // adds up to 100
  double symptom_share = 0;
  double proof_full = 0, proof_gate = 0, proof_uncondemned = 0;
  double route_free = 0, route_zero = 0;
  double partial_verify = 0, run_minutes = 0;
  double part_share = 0;      // lost per part not needed
  double serious_points = 0;  // each serious slip
  double hint_points = 0;     // each ring to the shop, off Route
  double rings = 0;           // more make the call practice
  double cap_ended = 0, cap_unproven = 0;
  double pass_total = 0;
};

// The table that was built into the program.
const Rubric& shipped_rubric();
// Reads assets/rubric.yaml. On errors the shipped values stand in for what could not be read.
Rubric load_rubric(const std::string& path, Diagnostics& found);

// One judgement with its reason: `share` of the points, 0 to 1.
struct Judged {
  double share = 0;
  Message why;  // a whole sentence
};

struct Facts {
  Judged stopped_by, part, how, root;
  Judged
      verified;  // share 1: the complaint was re-created and read healthy; partial_verify: in part
  Judged hand_over;
  bool right = false;       // the repair class named is the true one, or cannot be told from it
  Message named;            // what was condemned, in words: "the condenser (plugged inside)"
  double proof_u = 0;       // U of the named class, frozen
  double proof_u0 = 0;      // after the complaint alone
  bool condemned = false;   // the test that condemns what was named was done by then
  bool condemnable = true;  // some step here could have done it
  Message condemning;       // that test, in words: "ohms across CC.A1–CC.A2"
  int still_fitting = 0;    // other repairs that still fitted when proof was frozen
  Message other;            // the one, if there was one: "tighten CC.A1>HPC.2"
  Message would_settle;     // the test that condemns that one
  std::string frozen_by;    // step that froze it: "replace HPC"; "" = the write-up
  double minutes = 0;       // searching: without verifying, locking out, repairs, writing
  double reference_minutes = 1;
  int hints = 0;
  int parts_replaced = 0;
  std::vector<std::string> parts_not_needed;  // repairs that spent a part and cured nothing
  int sureness = 0;                           // 50–99; 0 = not said
  double evidence_p = 0;                      // P of the named class at the same moment, with those
                                              // that no step could have told from it
  double evidence_alone = -1;                 // without them: to say no more is honest; -1 = none
  int serious_slips = 0;
  std::vector<Message> serious_why;
  bool ended_by_hazard = false;
  Message ended_why;
  bool list_opened = false;    // of suspects, or the debrief, before the write-up
  bool salvaged = false;       // the log was damaged: what stood behind its last good line is lost
  bool unknown_leads = false;  // no suspect fits what was read: nothing is to be scored
};

struct Dimension {
  Dim dim = Dim::stopped_by;
  double points = 0;
  double of = 0;
  Message sentence;
};

enum class GateKind { right, proven, safe, verified, unaided, points };
struct Gate {
  GateKind kind = GateKind::right;
  Message name;  // "Right", "Proven", "Safe", "Verified", "Unaided", "70 points"
  bool met = false;
  Message sentence;
};

struct Account {
  int rubric_version = 0;
  std::vector<Dimension> dimensions;  // kDims, in order
  std::vector<Gate> gates;            // of each kind
  double slip_points = 0;             // taken off for serious slips, as a positive number
  std::vector<Message> remarks;       // slips, hints, caps: a sentence each
  double total = 0;                   // 0 to 100, whole tenths
  bool passed = false;
  bool practice = false;  // scored, and never passed: who fits was looked up
  bool scored = true;     // false: no suspect fits; see remarks
};

Account grade(const Facts& facts, const Rubric& rubric);

// The pieces, for tests and for those who want to check a number by hand.
double proof_share(double u, double u0, double full);
double route_share(double minutes, double reference_minutes, double free, double zero);
double sureness_share(double stated, double justified);

}  // namespace legwork::score
