#pragma once
// The power side: legs that run down side by side from the supply through what switches and
// protects them to a strip or a load of three leads, and the chains that branch off.
//
//   std::vector<PowerChain> chains = take_power(unit, sections);   // those rows leave the sections
//   Box room = draw_power(chains, ink, {0, 0});

#include <vector>

#include "gui/sheet/ladder_ink.h"
#include "gui/sheet/ladder_rows.h"

namespace legwork::gui {

struct PowerChain {
  std::vector<Row> legs;       // one a leg, from the supply outwards; parts and points only
  int parent = -1;             // chain that it branches from; -1: the supply
  int level = -1;              // of the parent, after which it does; -1: at its end
  circuit::DeviceId load;      // of three leads, at its end
  std::size_t levels() const;  // of the longest leg
  // The item of a leg at a level; nullptr above the head of a shorter leg.
  const RowItem* item(std::size_t leg, std::size_t level) const;
};

// Parents before children.
std::vector<PowerChain> take_power(const unit::Unit& unit, std::vector<RowSection>& sections);

// Returns what it covers, and moves `line` on by the lines it numbers.
Box draw_power(const std::vector<PowerChain>& chains, LadderInk& ink, int& line);

}  // namespace legwork::gui
