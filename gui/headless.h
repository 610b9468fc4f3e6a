#pragma once
// The window without a window: for tests, for pictures of screens, and where no graphics is to be
// had.
//
//   Headless page(state, 1600, 1000);
//   page.click("open mb-002");
//   page.type("go roof");
//   page.key(Key::enter);
//   page.save("on-site.png");

#include <string>
#include <string_view>

#include "gui/app.h"

namespace legwork::gui {

class Headless {
 public:
  // `problem()` says what is missing; nothing else may be called then.
  Headless(State& state, int width, int height);
  const std::string& problem() const { return problem_; }

  // Frames until nothing more is wanted (at most `most`: something may move for ever).
  void settle(int most = 60);
  void push(const Event& event);
  void move(float x, float y);
  void click_at(float x, float y, int button = 0);
  void drag(float from_x, float from_y, float to_x, float to_y, int button = 0);
  // Brings it into sight first if it is scrolled away. False if there is nothing of that name.
  bool click(std::string_view name);
  bool has(std::string_view name) const;
  void key(Key key, bool ctrl = false, bool shift = false);
  void type(std::string_view utf8);

  Picture picture() const { return picture_of(*state_); }
  bool save(const std::string& path) const { return save_png(picture(), path); }

 private:
  State* state_;
  Ui ui_;
  std::string problem_;
  int width_, height_;
};

}  // namespace legwork::gui
