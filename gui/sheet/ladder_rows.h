#pragma once
// Rungs as a unit file lists them, made ready to be drawn: one row a rung, rungs that meet at the
// two ends of one load joined into a single row, what hangs between two leads of one motor as
// sub-rows under it, and the inside of a device that no rung names (the contacts of a clock) as
// rows of their own. Pure bookkeeping: no coordinates here; ladder.h places the rows.

#include <string>
#include <vector>

#include "engine/unit/unit.h"

namespace legwork::gui {

struct RowItem;
using RowItems = std::vector<RowItem>;

struct RowItem {
  enum class Kind {
    part,     // a two-ended part
    through,  // a device with more leads, entered at one and left at another
    passed,   // a bare terminal on the way
    group,    // parallel branches
  } kind = Kind::part;
  circuit::DeviceId device;
  std::string symbol;                 // a row of symbols.h
  circuit::TerminalId left, right;    // as drawn, not as the current runs
  std::vector<RowItems> branches;     // group
  std::vector<RowItems> under_right;  // through: sub-rows from its third lead to its right one
  std::vector<RowItems> under_left;   // through: sub-rows from its third lead to its left one
  circuit::TerminalId third;          // through: the lead that the sub-rows hang on
};

struct Row {
  circuit::TerminalId left, right;  // right invalid: the row ends in a three-phase motor
  RowItems items;
  circuit::DeviceId motor;  // three-phase motor that this row leads to
  circuit::TerminalId motor_lead;
};

struct RowSection {
  std::string title;
  circuit::DeviceId inside;  // its contacts, which no rung names; such a section has no title
  bool power = false;        // drawn with the heavy pen
  std::vector<Row> rows;
};

std::vector<RowSection> rows_of(const unit::Unit& unit);

// The drawing of a part, told by what it is made of and not by the kind's name: a contact that a
// pressure opens, a coil, a pole.
std::string part_symbol(const circuit::Circuit& circuit, const circuit::Device& device,
                        const circuit::Part& part);

// "A1" of "CC.A1"; the whole name where there is no dot.
std::string point_of(const std::string& terminal);

}  // namespace legwork::gui
