#pragma once
// When somebody would call about a fault, and what is found there then: the machine is run from
// healthy with the fault in it until a box is clearly warmer than the sound machine ever lets it
// get; where nobody knows how warm a defrost may leave it, that has to last for a quarter of an
// hour (common practice, no source).
//
//   const plant::BoxTemperatures high = sound_high_k(unit, ticket);
//   if (auto complaint = complaint_of(unit, ticket, fault, high)) found = complaint->found;

#include <atomic>
#include <optional>

#include "engine/fault/scenario.h"
#include "engine/unit/unit.h"

namespace legwork::session {

struct Complaint {
  fault::Found found;      // of one box: its air, its fans; and the compressor
  double since_hours = 0;  // for how long that box has been warmer than it should be
};

// The warmest that each box of the sound machine gets in two days of the ticket's weather, its
// first hour left out.
plant::BoxTemperatures sound_high_k(const unit::UnitPtr& unit, const fault::Ticket& ticket);

// Nothing for a fault that nobody would call about within a day and a half, or once `cancel` is
// set.
std::optional<Complaint> complaint_of(const unit::UnitPtr& unit, const fault::Ticket& ticket,
                                      const fault::Fault& fault,
                                      const plant::BoxTemperatures& sound_high_k,
                                      const std::atomic<bool>* cancel = nullptr);

}  // namespace legwork::session
