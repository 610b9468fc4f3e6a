#pragma once
// Plays what State::sounds and State::hums ask for; silent, without complaint, where no audio
// device is. Nothing of the audio library is touched before a device has been found: it would say
// so on stderr at every turn.

#include <memory>

#include "gui/app.h"

namespace legwork::gui {

class Player {
 public:
  Player();
  ~Player();
  Player(const Player&) = delete;
  Player& operator=(const Player&) = delete;

  void play(const State& state);

 private:
  struct Device;
  std::unique_ptr<Device> device_;  // none: no audio here, or nothing played yet
  bool looked_ = false;
};

}  // namespace legwork::gui
