#pragma once
// The window as data and one function. State is everything that stands from one frame to the next;
// frame() takes what the person did and draws into Dear ImGui's lists. No display, no clock, no
// files: the bridge (bridge.h), the tests and the picture maker (headless.h) all drive this one
// function.
//
//   Ui ui;                                   // a Dear ImGui context and the fonts
//   State state;
//   open_ui(state);
//   frame(ui, state, {.events = {Event::key_down(Key::f1)}, .width = 1600, .height = 1000});
//   save_png(picture_of(state), "day-sheet.png");

#include <map>
#include <memory>
#include <set>
#include <string>
#include <vector>

#include "engine/base/message.h"
#include "gui/event.h"
#include "gui/fonts.h"
#include "gui/raster.h"
#include "gui/settings.h"
#include "gui/sound.h"
#include "gui/theme.h"

struct ImGuiContext;

namespace legwork::gui {

// Where a named thing stood in the last frame, in pixels: how tests find what to click.
struct Place {
  float left = 0, top = 0, right = 0, bottom = 0;
  float middle_x() const { return (left + right) / 2; }
  float middle_y() const { return (top + bottom) / 2; }
};

// What drawing needs: colours, type, and one sheet unit in pixels.
struct Ink {
  Theme theme;
  Fonts fonts;
  float scale = 1;
};

struct Scene;
struct ScreenStates;  // one member a screen: gui/screens/states.h

struct State {
  State();
  ~State();
  State(State&&) noexcept;
  State& operator=(State&&) noexcept;

  Settings settings;
  std::string screen = "day sheet";  // a row of the screen table
  std::string home;                  // folder with assets/, circuits/, scenarios/
  std::string first_ticket;          // opened at the start; empty: the day sheet
  bool first_round = false;          // with the guided first call
  bool help = false;                 // the page of keys is open
  bool moving = false;               // something changes by itself: draw on without events
  double passed_s = 0;               // since the last frame
  double look_in_s = 0;              // or only once so much time has passed; 0: not at all
  bool works_ahead = false;          // a call's debrief is worked out while it is worked
  bool quit = false;
  std::string focus;              // the thing of this name takes the keyboard with the next frame
  std::vector<std::string> been;  // screens that Back goes through, the nearest last
  Message notice;  // a sentence to show at the foot of the page, until the next key or click
  std::vector<Cue> sounds;        // begun in this frame
  std::set<Sound> hums;           // heard for as long as they stand here
  float most_scale = kMostScale;  // of text, in a window of this size

  std::unique_ptr<ScreenStates> screens;

  // Made by open_ui and frame; not the screens' to change.
  std::vector<Theme> themes;
  Ink ink;
  std::map<std::string, Place> places;
  std::set<std::string> out_of_sight;  // those of which the middle is scrolled away
  std::string focused;                 // what Enter would choose, by name; empty: nothing
  struct TabStop {
    std::string name;
    unsigned paper = 0;  // which window of the page it is on
  };
  std::vector<TabStop> stops;  // what Tab walks through, in reading order
  unsigned top_paper = 0;      // which of them Tab stays on: the paper on top, or the page
  bool tab_taken = false;      // the screen has used Tab itself
  EventQueue queue;
  float mouse_x = -1, mouse_y = -1;
  int frames_to_settle = 3;
  int pen_lands = 0;  // frames until the line that takes the keyboard takes letters too
};

struct Input {
  std::vector<Event> events;
  int width = 1600, height = 1000;
  double seconds = 1.0 / 60;  // since the last frame
};

// Language and units of the settings; and a text in them.
Speech speech(const State& state);
std::string spoken(const State& state, const Message& message);

// A Dear ImGui context and its fonts. One at a time.
class Ui {
 public:
  Ui();
  ~Ui();
  Ui(const Ui&) = delete;
  Ui& operator=(const Ui&) = delete;
  // Bumped whenever the font atlas was baked anew: the bridge then uploads it again.
  int atlas_version() const { return atlas_version_; }

 private:
  friend void bake(Ui& ui, State& state);
  friend bool frame(Ui& ui, State& state, const Input& input);
  ImGuiContext* context_;
  int atlas_version_ = 0;
  float baked_scale_ = 0;
};

// Reads themes, words and the first page's files; touches no type, so that fonts may be baked at
// the same time. Empty if all is well, otherwise what is missing, in words.
std::string open_ui(State& state);
// The fonts at the scale of the settings, if they are not baked so yet. frame() asks for it.
void bake(Ui& ui, State& state);

// One frame. True while another frame is wanted although nothing more happens: events are waiting,
// something moves, or a page has just opened and not settled.
bool frame(Ui& ui, State& state, const Input& input);

// The last frame as a picture, without display or graphics card.
Picture picture_of(const State& state);

}  // namespace legwork::gui
