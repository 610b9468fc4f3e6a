#include "gui/event.h"

#include <array>
#include <cstddef>

namespace legwork::gui {

std::vector<Event> EventQueue::next(bool pen_on_its_way) {
  std::vector<Event> batch;
  std::array<bool, 8> buttons{};
  std::array<bool, static_cast<std::size_t>(Key::count)> keys{};
  bool clicked = false, written = false;
  while (!waiting_.empty()) {
    const Event& event = waiting_.front();
    switch (event.kind) {
      case Event::Kind::move:
      case Event::Kind::leave:
        if (clicked) return batch;  // a press belongs to where it was made
        break;
      case Event::Kind::press:
      case Event::Kind::release: {
        bool& changed = buttons[static_cast<std::size_t>(event.button) % buttons.size()];
        if (changed) return batch;
        changed = clicked = true;
        break;
      }
      case Event::Kind::key_down:
      case Event::Kind::key_up: {
        bool& changed = keys[static_cast<std::size_t>(event.key)];
        if (changed) return batch;
        // A key may open a line to write on: the letter of the next one belongs there.
        if (written && event.kind == Event::Kind::key_down) return batch;
        changed = true;
        break;
      }
      case Event::Kind::text:
        if (pen_on_its_way) return batch;
        written = true;
        break;
      case Event::Kind::wheel:
        break;
    }
    batch.push_back(event);
    waiting_.pop_front();
  }
  return batch;
}

}  // namespace legwork::gui
