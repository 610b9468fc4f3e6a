#pragma once
// The back of the sheet: the refrigerant circuit, drawn from what the unit's plant has (receiver,
// solenoid valve, capillary), with the service ports and the points where a thermometer can be put.
//
// A thermometer point is a Terminal whose id is "@" and the point's id: "@suction line". The
// service ports are "@low" and "@high"; a sealed system has none.
//
//   Scene back = piping(unit, speech_of("es"));

#include <string>

#include "engine/base/message.h"
#include "engine/unit/unit.h"
#include "gui/sheet/scene.h"

namespace legwork::gui {

Scene piping(const unit::Unit& unit, const Speech& speech = {});

}  // namespace legwork::gui
