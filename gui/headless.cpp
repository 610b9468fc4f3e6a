#include "gui/headless.h"

#include <imgui.h>

namespace legwork::gui {

Headless::Headless(State& state, int width, int height)
    : state_(&state), width_(width), height_(height) {
  state.settings.calm = true;  // no time passes here in which a needle could rise
  problem_ = open_ui(state);
  if (problem_.empty()) settle();
}

void Headless::settle(int most) {
  const Input idle{.events = {}, .width = width_, .height = height_};
  while (most-- > 0 && frame(ui_, *state_, idle)) {
  }
}

void Headless::push(const Event& event) {
  state_->queue.push(event);
  settle();
}

void Headless::move(float x, float y) { push(Event::move(x, y)); }

void Headless::click_at(float x, float y, int button) {
  move(x, y);
  state_->queue.push(Event::press(button));
  state_->queue.push(Event::release(button));
  settle();
}

void Headless::drag(float from_x, float from_y, float to_x, float to_y, int button) {
  constexpr int kSteps = 8;
  move(from_x, from_y);
  push(Event::press(button));
  for (int i = 1; i <= kSteps; ++i) {
    const float part = static_cast<float>(i) / kSteps;
    move(from_x + (to_x - from_x) * part, from_y + (to_y - from_y) * part);
  }
  push(Event::release(button));
}

bool Headless::has(std::string_view name) const {
  return state_->places.find(std::string(name)) != state_->places.end();
}

bool Headless::click(std::string_view name) {
  const std::string key(name);
  // What is scrolled away is brought into sight first, by the wheel over its paper.
  constexpr int kMostTurns = 100;
  for (int turn = 0; turn < kMostTurns && state_->out_of_sight.contains(key); ++turn) {
    const Place at = state_->places[key];
    const float middle = static_cast<float>(height_) / 2;
    move(at.middle_x(), middle);
    push(Event::wheel(at.middle_y() > middle ? -1.0F : 1.0F));
  }
  const auto found = state_->places.find(key);
  if (found == state_->places.end()) return false;
  const Place place = found->second;
  click_at(place.middle_x(), place.middle_y());
  return true;
}

void Headless::key(Key key, bool ctrl, bool shift) {
  state_->queue.push(Event::key_down(key, ctrl, shift));
  state_->queue.push(Event::key_up(key));
  settle();
}

void Headless::type(std::string_view utf8) {
  const char* at = utf8.data();
  const char* const end = at + utf8.size();
  while (at < end) {
    // Decodes one letter; text here comes from tests and is well formed.
    char32_t letter = static_cast<unsigned char>(*at++);
    const int more = letter >= 0xF0 ? 3 : letter >= 0xE0 ? 2 : letter >= 0xC0 ? 1 : 0;
    if (more > 0) letter &= 0x3FU >> more;
    for (int i = 0; i < more && at < end; ++i)
      letter = letter << 6 | (static_cast<unsigned char>(*at++) & 0x3FU);
    state_->queue.push(Event::text(letter));
  }
  settle();
}

}  // namespace legwork::gui
