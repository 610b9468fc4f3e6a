#pragma once
// How well one suspect explains one reading.
//
// A suspect predicts `expected` with a `spread` (one standard deviation: the meter's own, half a
// digit, and what the plant may differ by without anybody knowing). Inside kBand spreads nothing is
// preferred: a supply that sags by 0.4 % can never "prove" anything. Outside, the likelihood falls
// with a soft edge to a floor, so that no contradiction is fatal and the truth can come back:
//
//   z = max(0, |reading - expected| / spread - kBand)      L = max(kFloor, (1 + z^2)^-2.5)
//
// It is the one form that can be told in a sentence: "205 V is inside what these nine predict and
// outside what those seven predict." Shape: Student t with 4 degrees of freedom, flattened.
//
//   flat_top(205, 205.3, 0.8)  -> 1        flat_top(205, 0.0, 0.5) -> 0.002

#include <cstddef>
#include <span>

namespace legwork::suspects {

inline constexpr double kBand = 2.5;  // spreads to each side that count as "fits"
// So many to each side, and the likelihood falls under kPossible: who stands further off is told
// apart. kBand + sqrt(kPossible^-0.4 - 1), a little less than the 5 between two means that share no
// band.
inline constexpr double kTold = 3.73;
// What a clear contradiction leaves, well below kRuledOut. With the whole catalogue hundreds of
// repairs are contradicted in a call: together they weigh as much as a few once did. One reading in
// five hundred is read off wrong; no source.
inline constexpr double kFloor = 0.002;
inline constexpr double kUnknown = 0.02;  // what "something not on the list" gives any reading
inline constexpr double kUnknownPrior = 0.01;
inline constexpr double kPossible = 0.1;  // ratio to the best suspect, priors left out
inline constexpr double kRuledOut = 0.01;

// One suspect's idea of one reading. `over` means the meter shows over range (an open circuit in
// ohms): over against a number is a contradiction, over against over is a fit.
struct Expectation {
  double value = 0;
  double spread = 1;
  bool over = false;
};

double flat_top(double reading, double expected, double spread);
double likelihood(const Expectation& reading, const Expectation& expected);

// A look with two states is never mistaken. One of more is seen as its
// neighbour with error_rate; further off is a contradiction, as a meter's would
// be.
double look_likelihood(int seen, int expected, int states, double error_rate);

// The same test in the same state, no further off than the meter's own wobble, is not new
// evidence: a systematic error repeats. 4 spreads of the meter and one digit.
bool repeats(double reading, double earlier, double meter_spread, double digit);

// The spread of the sum of independent parts: meter, rounding to `digit`, plant.
double joint_spread(double meter_spread, double digit, double plant_spread);

// Natural and base-2 logarithm from + - x / alone, so that advice is the same bits everywhere.
// Error below 1e-13 relative for arguments from 1e-300 to 1e300; log of 0 or less is not defined.
double natural_log(double x);
double log2_of(double x);
// p log p, of which entropies are sums; 0 at 0.
inline double plogp(double p) { return p > 0 ? p * log2_of(p) : 0; }

}  // namespace legwork::suspects
