#include "engine/terminal/commands.h"

namespace legwork::terminal {

std::span<const Command* const> commands() {
  static constexpr const Command* kAll[] = {&kTickets, &kWork,     &kReplay,   &kScore,
                                            &kDebrief, &kSuspects, &kProgress, &kCheck,
                                            &kRoute,   &kReading,  &kFaults};
  return kAll;
}

}  // namespace legwork::terminal
