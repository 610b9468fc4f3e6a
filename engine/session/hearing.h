#pragma once
// What can be heard or seen from a place while time passes: contactors and relays, overloads and
// breakers tripping, motors starting, stopping, or humming without starting, a clock changing over.
// Pressure controls and fuses are silent: they have to be found with a meter.
//
//   Hearing hearing(world, "roof");
//   for (…) { world.run(1); hearing.listen(world); }
//   hearing.take();   // {pulls_in, "CC"}, {starts, "CM"}

#include <optional>
#include <string>
#include <vector>

#include "engine/session/seen.h"
#include "engine/sim/world.h"

namespace legwork::session {

class Hearing {
 public:
  Hearing(const sim::World& world, std::string place);
  bool listen(const sim::World& world);  // once a tick; true: something was heard at it
  bool heard_any() const { return !heard_.empty(); }
  std::vector<Happening> take();

 private:
  enum class Motor { still, turning, humming };
  struct Part {
    circuit::ActuatorId actuator;
    std::string device;
    std::optional<Happens> to_one, to_zero;
    std::int8_t position;
  };
  struct Machine {
    circuit::MachineId machine;
    std::string device;
    Motor motor;
    int stalled_ticks;
  };
  void note(const sim::World& world, Happens what, const std::string& device);

  std::vector<Part> parts_;
  std::vector<Machine> machines_;
  std::vector<Happening> heard_;
};

}  // namespace legwork::session
