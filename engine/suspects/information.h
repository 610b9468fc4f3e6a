#pragma once
// What a test is worth whose outcomes are labels: suspects that share one cannot be parted by it.
// What readings leave standing among bands is outlook.h's.
//
// With labels o, repair classes y and belief p the gain is
//
//   I = H(o) + H(y) - H(o, y)    [bits: never shown to anybody; minutes and suspects are]
//
//   gain(labels, classes, beliefs)         -> information about the repair class
//
// Source of the criterion: J. de Kleer and B. C. Williams, Diagnosing Multiple Faults, Artificial
// Intelligence 32 (1987) (from memory). Half-split is the case of two labels, equal costs.

#include <cstdint>
#include <span>
#include <vector>

namespace legwork::suspects {

// Bits about the repair class. belief need not add up to 1; classes are 0 … class_count - 1.
double gain(std::span<const std::uint8_t> label, std::span<const int> repair_class,
            std::span<const double> belief, int class_count);

double entropy(std::span<const double> belief);  // bits; normalises

// Gains of many tests over the same suspects. Only repair classes that a test splits cost anything:
//   I = H(o) - sum over split classes of p_y H(o | y).
class GainMeter {
 public:
  GainMeter(std::span<const int> repair_class, std::span<const double> belief, int class_count);
  double operator()(std::span<const std::uint8_t> label, int label_count);
  double class_entropy() const { return class_entropy_; }

 private:
  struct Group {  // the live members of one repair class: order_[begin, end)
    std::size_t begin, end;
    double belief;
    double plogp;
  };
  std::vector<std::size_t> order_;
  std::vector<double> belief_;  // normalised
  std::vector<Group> groups_;
  double class_entropy_ = 0;
  std::vector<double> marginal_;
  std::vector<double> within_;
};

}  // namespace legwork::suspects
