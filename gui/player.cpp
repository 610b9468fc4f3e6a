#include "gui/player.h"

#include <dlfcn.h>
#include <fcntl.h>
#include <unistd.h>

#include <SFML/Audio.hpp>
#include <algorithm>
#include <list>
#include <map>

#include "gui/sound.h"

namespace legwork::gui {
namespace {

// The audio library writes to stderr when it looks for devices: it looks with stderr put aside.
class Muted {
 public:
  Muted() : kept_(dup(STDERR_FILENO)) {
    const int nothing = open("/dev/null", O_WRONLY);
    if (nothing >= 0) {
      dup2(nothing, STDERR_FILENO);
      close(nothing);
    }
  }
  ~Muted() {
    if (kept_ >= 0) {
      dup2(kept_, STDERR_FILENO);
      close(kept_);
    }
  }
  Muted(const Muted&) = delete;
  Muted& operator=(const Muted&) = delete;

 private:
  int kept_;
};

bool has_device() {
  const Muted muted;
  void* library = dlopen("libopenal.so.1", RTLD_NOW | RTLD_LOCAL);
  if (library == nullptr) return false;
  using Open = void* (*)(const char*);
  using Close = char (*)(void*);
  const auto open_device = reinterpret_cast<Open>(dlsym(library, "alcOpenDevice"));
  const auto close_device = reinterpret_cast<Close>(dlsym(library, "alcCloseDevice"));
  void* device = open_device != nullptr ? open_device(nullptr) : nullptr;
  if (device != nullptr && close_device != nullptr) close_device(device);
  dlclose(library);
  return device != nullptr;
}

}  // namespace

struct Player::Device {
  std::map<Cue, sf::SoundBuffer> buffers;
  std::list<sf::Sound> once;
  std::map<Sound, sf::Sound> hums;

  // A cue that begins later has its silence in front.
  const sf::SoundBuffer& buffer(const Cue& cue) {
    constexpr std::size_t kMost = 64;  // kept: some 3 MB
    if (buffers.size() >= kMost && once.empty() && hums.empty()) buffers.clear();
    const auto [at, fresh] = buffers.try_emplace(cue);
    if (fresh) {
      std::vector<std::int16_t> samples = samples_of(cue.sound);
      samples.insert(samples.begin(), static_cast<std::size_t>(cue.after_ms) * kSampleRate / 1000,
                     0);
      at->second.loadFromSamples(samples.data(), samples.size(), 1, kSampleRate);
    }
    return at->second;
  }
};

Player::Player() = default;
Player::~Player() = default;

void Player::play(const State& state) {
  if (!looked_ && !(state.sounds.empty() && state.hums.empty())) {
    looked_ = true;
    if (has_device()) device_ = std::make_unique<Device>();
  }
  if (device_ == nullptr) return;
  Device& device = *device_;
  device.once.remove_if(
      [](const sf::Sound& sound) { return sound.getStatus() == sf::Sound::Stopped; });
  if (state.settings.sound) {
    for (const Cue& cue : state.sounds) device.once.emplace_back(device.buffer(cue)).play();
  }
  std::erase_if(device.hums, [&](const auto& hum) {
    return !state.settings.sound || !state.hums.contains(hum.first);
  });
  if (!state.settings.sound) return;
  for (const Sound& sound : state.hums) {
    if (device.hums.contains(sound)) continue;
    sf::Sound& hum = device.hums[sound];
    hum.setBuffer(device.buffer({sound, 0}));
    hum.setLoop(true);
    hum.setVolume(35);
    hum.play();
  }
}

}  // namespace legwork::gui
