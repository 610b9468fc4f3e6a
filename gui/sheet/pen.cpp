#include "gui/sheet/pen.h"

#include <array>

namespace legwork::gui {
namespace {

struct PenRow {
  const char* words;
  float width;
};
constexpr std::array<PenRow, 5> kPens = {
    {{"control", 1.5F}, {"power", 3.0F}, {"pipe", 3.0F}, {"tie", 1.0F}, {"frame", 1.0F}}};

constexpr std::array<float, 2> kTieDashes = {4, 4};
constexpr std::array<float, 2> kDots = {2, 4};
constexpr std::array<float, 2> kDashes = {10, 5};
constexpr std::array<float, 4> kDashDots = {10, 4, 2, 4};

struct TraceRow {
  const char* words;
  std::span<const float> dashes;
  Stroking stroking;
};
constexpr std::array<TraceRow, 9> kTraces = {{{"", {}, Stroking::plain},
                                              {"leg 1", kDots, Stroking::plain},
                                              {"leg 2", kDashes, Stroking::plain},
                                              {"leg 3", kDashDots, Stroking::plain},
                                              {"neutral", {}, Stroking::plain},
                                              {"earth", kTieDashes, Stroking::thin},
                                              {"floating", {}, Stroking::hollow},
                                              {"back-fed", {}, Stroking::hatched},
                                              {"dead", {}, Stroking::thin}}};

const PenRow& row(Pen pen) { return kPens[static_cast<std::size_t>(pen)]; }
const TraceRow& row(Trace trace) { return kTraces[static_cast<std::size_t>(trace)]; }

}  // namespace

float width_of(Pen pen) { return row(pen).width; }

std::span<const float> dashes_of(Pen pen, Trace trace) {
  if (pen == Pen::tie) return kTieDashes;
  return row(trace).dashes;
}

Stroking stroking_of(Trace trace) { return row(trace).stroking; }
const char* words_of(Trace trace) { return row(trace).words; }
const char* words_of(Pen pen) { return row(pen).words; }

}  // namespace legwork::gui
