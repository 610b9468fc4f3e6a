#pragma once
// Every rule of the score as a row: what it is called, its key in assets/rubric.yaml, how it is
// judged, and its sentence. Inside of grade.h; not for other folders.

#include <span>
#include <string_view>

#include "engine/score/grade.h"

namespace legwork::score {

struct DimensionRule {
  Dim dim;
  Phrase name;
  std::string_view key;  // of its weight
  Judged (*judge)(const Facts&, const Rubric&);
};
std::span<const DimensionRule> dimension_rules();  // kDims, in order

struct GateRule {
  GateKind kind;
  Message (*name)(const Rubric&);
  Judged (*judge)(const Facts&, const Rubric&, double total);  // met: share 1
};
std::span<const GateRule> gate_rules();

// The total goes no higher than `most` where `holds`.
struct CapRule {
  std::string_view key;
  double Rubric::*most;
  bool (*holds)(const Facts&, const Rubric&);
  Message (*sentence)(const Facts&, const Rubric&);
};
std::span<const CapRule> cap_rules();

// A number of the rubric, where its file has it and what it may be.
struct NumberRule {
  std::string_view map;  // "" = the file itself
  std::string_view key;
  double Rubric::*number;
  double least, most;
};
std::span<const NumberRule> number_rules();

bool proven(const Facts& facts, const Rubric& rubric);
bool practice(const Facts& facts, const Rubric& rubric);

}  // namespace legwork::score
