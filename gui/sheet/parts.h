#pragma once
// How parts look where they sit: one row a front (circuit::Kind), one drawing a state. A part is a
// plate with its screws along the upper and the lower edge and its body between them; the body is
// drawn by its kind from what was seen of it, with the word beside the shape. A kind without a row
// is a labelled box with its screws and the state as a word.
//
//   PartSight part = part_of(unit, device, sights);
//   PartSize size = size_of(part, text);
//   draw_part(scene, part, {40, 60}, size, text);

#include <string>
#include <string_view>
#include <vector>

#include "engine/base/message.h"
#include "engine/unit/unit.h"
#include "gui/sheet/scene.h"
#include "gui/sheet/sights.h"

namespace legwork::gui {

// In which language and units a picture speaks.
struct SceneText {
  Speech speech;

  std::string word_of(
      std::string_view key) const;  // scene_words.cpp; the key itself if it has none
  static bool knows(std::string_view key);
};

struct PartSight {
  std::string id;                         // device: "CC"
  std::string kind;                       // "contactor"
  std::string front;                      // its drawing: circuit::Kind::front
  std::vector<std::string> above, below;  // terminals along its edges
  bool both = false;                      // one terminal a screw above and below: a strip
  std::vector<std::string> facts;         // what is written on it: "30 A", "425", "325"
  std::vector<double> dial;  // 0 to 1: where its pointers stand; a clock: its starts, hours
  bool button = false;       // it has one to press
  bool seen = false;
  How how = How::out;
  std::vector<How> marks;   // seen besides, as words
  std::vector<How> glyphs;  // seen besides, as small signs on its edge: joints, clips, sheath
  bool heard = false;
  How sound = How::quiet;
  bool locked = false;
  std::string display;         // what it says, if it has one that is lit
  std::set<std::string> dead;  // terminals proven dead
};

struct PartSize {
  int wide = 0, high = 0;
};

// The part as its file says, and as it was seen.
PartSight part_of(const unit::Unit& unit, circuit::DeviceId device, const Sights& sights,
                  const SceneText& text);

PartSize size_of(const PartSight& part, const SceneText& text);
// Where its screws stand, from the upper left of the plate, in the order above, below.
constexpr int kScrewPitch = 36;
std::vector<Point> screws_of(const PartSight& part, PartSize size);

void draw_part(Scene& scene, const PartSight& part, Point at, PartSize size, const SceneText& text);

// Fronts that have a drawing.
std::vector<std::string_view> drawn_fronts();

// --- for the drawings ----------------------------------------------------------------------

// Draws shapes and words of one part, from a point.
class Pencil {
 public:
  Pencil(Scene& scene, Point from, std::string id, const SceneText& text)
      : scene_(scene), from_(from), id_(std::move(id)), text_(text) {}
  Shape& draw(std::string path, Fill fill = Fill::none, Weight weight = Weight::plain,
              Hatch hatch = Hatch::none);
  Shape& draw_at(Point at, std::string path, Fill fill = Fill::none, Weight weight = Weight::plain,
                 Hatch hatch = Hatch::none);
  void name(Point at, Anchor anchor = Anchor::middle);
  void words(std::string text, Point at, Anchor anchor = Anchor::middle, int size = 12,
             bool dim = false);
  void figures(std::string text, Point at, Anchor anchor = Anchor::middle, int size = 12);
  // The word of a state, in the language of the picture.
  void state(How how, Point at, Anchor anchor = Anchor::middle);
  std::string word_of(std::string_view key) const { return text_.word_of(key); }
  // A word of our tables: "contactor".
  std::string word(std::string term) const { return render(Term{std::move(term)}, text_.speech); }

 private:
  Scene& scene_;
  Point from_;
  std::string id_;
  const SceneText& text_;
};

// A fan: guard and blades, standing or turning, around the pencil's point.
void draw_fan(Pencil& pencil, int radius, bool seen, How how);
// Joints, clips, sheath, pellet: a small sign each, one below the other from the pencil's point.
bool is_small_sign(How how);
void draw_small_signs(Pencil& pencil, const std::vector<How>& signs, Point at);
// A padlock around the pencil's point.
void draw_padlock(Pencil& pencil);

struct PartKind {
  std::string_view front;  // circuit::Kind::front
  int wide, high;          // of the body, at least
  void (*draw)(Pencil& pencil, const PartSight& part, int wide, int high);
  enum class Tail { none, capillary, bulb } tail = Tail::none;  // hangs out below its plate
  // Along both edges; each screw above and below (a strip); one and the same.
  enum class Screws { edges, through, one } screws = Screws::edges;
};
// parts_switching.cpp and parts_more.cpp.
const std::vector<PartKind>& switching_kinds();
const std::vector<PartKind>& other_kinds();

}  // namespace legwork::gui
