#pragma once
// What every part of the ladder is drawn with: symbols with their names, leads with their points,
// conductors with their numbers, and the references between what operates and what is operated.
// Keeps the promise that a terminal has one home. ladder_power.h and ladder_rungs.h draw with it.

#include <string>
#include <vector>

#include "engine/unit/unit.h"
#include "gui/sheet/ladder_rows.h"
#include "gui/sheet/scene.h"

namespace legwork::gui {

// Sheet units. Two leads stand at least kApart from each other, so that each can be hit when the
// whole sheet is shown small.
inline constexpr int kPitch = 88;  // from symbol to symbol
inline constexpr int kReach = 24;  // from a symbol's centre to its ports
inline constexpr int kRow = 70;    // from row to row
inline constexpr int kThin = 38;   // of a row that is a wire and no more
inline constexpr int kTypeTitle = 13;
inline constexpr int kTypeName = 15;
inline constexpr int kTypePoint = 12;

class LadderInk {
 public:
  LadderInk(const unit::Unit& unit, const std::vector<RowSection>& sections);

  const std::string& name(circuit::TerminalId id) const;
  const std::string& name(circuit::DeviceId id) const;

  // A lead of a symbol, its point written at `label`.
  void port(circuit::TerminalId id, Point at, Point label, Anchor anchor);
  // A point on the way or at the head of a rail. Home only if no symbol's lead it is.
  void point(circuit::TerminalId id, Point at);
  // The same with its name beside or over it.
  void named_point(circuit::TerminalId id, Point at, Point label, Anchor anchor);

  // Earth hangs from its point as the symbol says.
  void earth(circuit::TerminalId id, Point at);

  // "FU4.2>HPC.1"; the terminal's name where both are one.
  std::string conductor(circuit::TerminalId a, circuit::TerminalId b) const;
  // A conductor, with its number at its first stretch if there is room.
  void wire(circuit::TerminalId a, circuit::TerminalId b, std::vector<Point> points, bool numbered);
  void joint(circuit::TerminalId on, Point at);
  void tie(Point from, Point to);
  void symbol(const std::string& kind, circuit::DeviceId device, Point at, int turn);
  // Inside a drawing the longer names are written smaller.
  void device_name(circuit::DeviceId device, Point at, Anchor anchor, bool inside = false);
  void title(const std::string& text, Point at);
  void line_number(int line, Point at);

  // For the references: the part stands on that line; "(12)" or "4, 12" is written at `label`.
  // Symbols tell which operate and which are operated.
  void note(circuit::DeviceId device, const std::string& symbol, int line, Point label,
            Anchor anchor);
  // After everything has been drawn.
  void write_references();

  // Terminals without a home yet, hidden ones left out.
  std::vector<circuit::TerminalId> spares() const;

  const unit::Unit& unit;
  const circuit::Circuit& circuit;
  Scene scene;
  Pen pen = Pen::control;

 private:
  struct Noted {
    circuit::DeviceId device;
    bool operates = false;
    bool closed = false;  // drawn closed: its line is underlined in the list
    int line = 0;
    Point label;
    Anchor anchor = Anchor::middle;
  };
  void note_ports(const RowItems& items);

  std::vector<int> numbers_;
  std::vector<bool> home_;     // terminal has its home already
  std::vector<bool> at_port_;  // its home is a symbol's lead
  std::vector<Noted> noted_;
};

}  // namespace legwork::gui
