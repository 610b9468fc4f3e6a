#pragma once
// What a test would leave standing, if each suspect in turn were the true one.
//
// A suspect shows `value`, and would not be struck by anything from `low` to `high`: its band, by
// which a reading is judged once it is taken (kTold of likelihood.h), widened half way to the same
// fault a step weaker and a step stronger. If suspect i is the true one, the reading is i's
// value, and those stay whose band holds it. With p as belief and y as repair class (criterion:
// information.h)
//
//   I = H(y) - sum over i of p_i H(y | those whose band holds the value of i)      [bits]
//
// Nothing chains: A like B and B like C does not make A like C, as it would if alike suspects
// shared a label. A machine that cycles is met at any moment of its cycle: such a suspect has a
// band a moment, shows any of them equally often, and stays if one of them holds the reading.
//
//   Outlook outlook(repair_class, belief, column_of_band);
//   outlook.bits(bands)              // fast: one number a reading
//   outlook.left({bands, others})    // slower: who stays for each, of one test that shows several

#include <bitset>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "engine/suspects/likelihood.h"

namespace legwork::suspects {

struct Band {
  double value = 0;
  double low = 0;
  double high = 0;
  bool holds(double reading) const { return low <= reading && reading <= high; }
};
// kTold spreads to each side. Over range is a place of its own, above all numbers.
Band band_of(const Expectation& expected);
Band band_of_state(int state);  // a look, a word on the display: only itself

// Columns are the suspects still in the running; more than a catalogue and an author's pairs hold.
inline constexpr std::size_t kMostColumns = 1024;
using ColumnSet = std::bitset<kMostColumns>;

// What one test would leave.
struct Left {
  double bits = 0;
  double repairs = 0;               // expected number of repair classes left
  std::vector<ColumnSet> columns;   // per column, met at its first moment: who stays
  std::vector<std::uint8_t> label;  // per column: alike directly or through others; at most 255
  int outcomes = 0;                 // how many labels
};

class Outlook {
 public:
  // Per column its repair class (0 … n-1) and belief (any sum); per band whose it is, columns in
  // order. Throws std::length_error beyond kMostColumns.
  Outlook(std::span<const int> repair_class, std::span<const double> belief,
          std::span<const std::size_t> column_of_band);

  double open_bits() const { return open_bits_; }
  std::size_t columns() const { return belief_.size(); }
  // Of a band: its column's belief over its number of moments.
  double share(std::size_t band) const { return share_[band]; }

  double bits(std::span<const Band> bands) const;
  Left left(std::span<const std::vector<Band>> observations) const;

 private:
  double entropy_of(const ColumnSet& set) const;
  template <class Begins, class Ends, class At>
  void sweep(std::span<const Band> bands, const Begins& begins, const Ends& ends,
             const At& at) const;
  Left left_of_one(std::span<const Band> bands) const;
  Left left_of_all(std::span<const std::vector<Band>> observations) const;
  static void name_labels(std::vector<std::size_t>& leader, Left& out);

  std::vector<int> repair_class_;
  std::vector<double> belief_;  // adds up to 1
  std::vector<std::size_t> column_;
  std::vector<double> share_;
  std::size_t class_count_ = 0;
  double open_bits_ = 0;
};

}  // namespace legwork::suspects
