#pragma once
// What a person does to the window, as plain data. The mouse, the tests and a replay all push into
// the same queue. A frame takes the largest piece of it in which nothing is pressed and let go
// again: Dear ImGui 1.86 does not see a click that begins and ends within one frame.
//
//   EventQueue queue;
//   queue.push(Event::move(100, 40));
//   queue.push(Event::press(0));
//   queue.push(Event::release(0));
//   queue.next();  // move and press; the release comes with the next frame

#include <deque>
#include <vector>

namespace legwork::gui {

enum class Key : int {
  none,
  tab,
  left,
  right,
  up,
  down,
  page_up,
  page_down,
  home,
  end,
  insert,
  del,
  backspace,
  space,
  enter,
  escape,
  a,
  b,
  c,
  d,
  e,
  f,
  g,
  h,
  i,
  j,
  k,
  l,
  m,
  n,
  o,
  p,
  q,
  r,
  s,
  t,
  u,
  v,
  w,
  x,
  y,
  z,
  n0,
  n1,
  n2,
  n3,
  n4,
  n5,
  n6,
  n7,
  n8,
  n9,
  f1,
  f2,
  f3,
  f4,
  f5,
  f6,
  f7,
  f8,
  f9,
  f10,
  f11,
  f12,
  plus,
  minus,
  comma,
  period,
  slash,
  count
};

struct Event {
  enum class Kind { move, press, release, wheel, key_down, key_up, text, leave };
  Kind kind = Kind::move;
  float x = 0,
        y = 0;     // move: pixels from the top left of the window; wheel: y notches, up positive
  int button = 0;  // press, release: 0 left, 1 right, 2 middle
  Key key = Key::none;                            // key_down, key_up
  bool ctrl = false, shift = false, alt = false;  // with key_down, key_up, press
  char32_t letter = 0;                            // text

  static Event move(float x, float y) { return {.kind = Kind::move, .x = x, .y = y}; }
  static Event press(int button) { return {.kind = Kind::press, .button = button}; }
  static Event release(int button) { return {.kind = Kind::release, .button = button}; }
  static Event wheel(float notches) { return {.kind = Kind::wheel, .y = notches}; }
  static Event key_down(Key key, bool ctrl = false, bool shift = false, bool alt = false) {
    return {.kind = Kind::key_down, .key = key, .ctrl = ctrl, .shift = shift, .alt = alt};
  }
  static Event key_up(Key key) { return {.kind = Kind::key_up, .key = key}; }
  static Event text(char32_t letter) { return {.kind = Kind::text, .letter = letter}; }
  static Event leave() { return {.kind = Kind::leave}; }
};

class EventQueue {
 public:
  void push(const Event& event) { waiting_.push_back(event); }
  bool empty() const { return waiting_.empty(); }
  // What the next frame is to see, in order. `pen_on_its_way`: a line is about to be written on;
  // letters wait until it takes them.
  std::vector<Event> next(bool pen_on_its_way = false);

 private:
  std::deque<Event> waiting_;
};

}  // namespace legwork::gui
