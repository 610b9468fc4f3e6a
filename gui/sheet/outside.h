#pragma once
// What stands at a place outside the panel, as it was seen: the condensing unit with its fans, the
// face of its coil, compressor, receiver, glass and ports; the box with evaporator, ice, pan, goods
// and door (box.cpp); the rest as parts on the wall. Made from the parts and looks of the unit's
// file: what it has not is not drawn, and a thing without a drawing is a labelled box.
//
//   Scene roof = outside(unit, "roof", sights, text);
//
// Things to look at are targets with "!" before the name of the look's target: "!condenser". Points
// for thermometers are terminals "@suction line", gauge ports "@low" and "@high", as on the piping.

#include <string>

#include <initializer_list>
#include <set>
#include <string>
#include <string_view>
#include <vector>
#include "engine/unit/unit.h"

#include "gui/sheet/parts.h"
#include "gui/sheet/scene.h"
#include "gui/sheet/sights.h"

namespace legwork::gui {

Scene outside(const unit::Unit& unit, const std::string& place, const Sights& sights,
              const SceneText& text);

// Light through the fins of the condenser, patches, or none: what the lamp showed. Empty: not yet.
Scene lamp_through_fins(const unit::Unit& unit, const Sights& sights);

// A rack has several of a thing: "coil.2.frost share" is "coil.frost share" of number 2, as
// "evaporator 2" is an "evaporator"; what has no number is number 1.
struct Numbered {
  std::string name;
  int number = 1;
};
Numbered numbered(std::string_view quantity);

// Two stacks of what the site keeps, on a shelf at y = 0, x from 36 to 136: goods.cpp.
std::string goods_of(std::string_view site);

// --- for the drawings ----------------------------------------------------------------------

// One piece of a place, drawn from its own upper left corner.
class Site {
 public:
  Site(const unit::Unit& unit, const std::string& place, const Sights& sights,
       const SceneText& text)
      : unit_(unit), place_(place), sights_(sights), text_(text) {}

  // Which of several things is drawn next: the second evaporator. Those that are here, of looks,
  // drives and points whose name begins so.
  void take(int number) { number_ = number; }
  std::set<int> numbers(std::initializer_list<std::string_view> of) const;

  // The looks of one target that can be taken here; the state of the one of that quantity: −2 if
  // the unit has none here, −1 if it was not taken.
  int state_of(std::string_view quantity) const;
  bool has_target(std::string_view target) const;
  // Devices here, outside the panel, that move such a part of the plant: "condenser.fan".
  std::vector<std::string> movers(std::string_view of) const;
  std::vector<std::string> all_movers(std::string_view of) const;  // in the panel too
  std::string mover(std::string_view of) const;  // the first, in the panel or not; "" if none
  bool in_panel(const std::string& device) const;
  // A reach-in: goods and door are looked at from one place outside it.
  bool is_cabinet() const;

  Scene condensing_unit();
  Scene further_compressor();  // of a rack, beside the others
  Scene air_side();            // box.cpp: evaporator, in its room, its cabinet or its section
  Scene door();                // box.cpp
  Scene people();              // where somebody can be asked
  Scene loose();               // the parts that no piece has drawn

  bool any() const { return !scene_.shapes.empty(); }

 private:
  // A fan with its screws under it.
  void fan(const std::string& device, Point middle, int radius);
  // Screws of a device in a row of which the middle of the first is given.
  void screws(const std::string& device, Point first, int pitch = 30);
  void thing(const std::string& target, Box box);
  void words(std::string text, Point at, Anchor anchor = Anchor::middle, const std::string& id = {},
             bool dim = true);
  void seen_word(std::string_view quantity, Point at, const std::string& id,
                 Anchor anchor = Anchor::middle);
  Shape& draw(std::string path, Point at, Fill fill = Fill::none, Weight weight = Weight::plain,
              Hatch hatch = Hatch::none, const std::string& id = {});
  void probe(std::string_view quantity, Point at, Anchor side = Anchor::left);
  void port(const char* id, Point at);
  void compressor(Point foot);
  void cabinet(int wide, int high);             // box.cpp: a reach-in, round its room
  void section(int left, int right, int foot);  // of a rooftop unit, round its pieces
  void captions(int x, int y, int high);        // after the loose parts, whose last row is so high
  Scene taken();                                // the scene drawn so far

  const unit::Unit& unit_;
  const std::string& place_;
  const Sights& sights_;
  const SceneText& text_;
  int number_ = 1;
  Scene scene_;
  std::set<std::string> drawn_;  // devices and targets
  std::set<std::string> bare_;   // devices drawn without a plate of their own
};

}  // namespace legwork::gui
