#pragma once
// The parts of the page "on site", each in a place of its own. Pixels.

#include "gui/app.h"

namespace legwork::gui::on_site {

// Places, clock, weather, the ticket, the trail. Returns its lower edge.
float draw_strip(State& state, Place area);
// What can be looked at, asked and done where one stands, in words, with minutes.
void draw_here(State& state, Place area);
// The door's sheet (or its back) and the panel behind it, with the leads.
void draw_door(State& state, Place area);
// Tags in order.
void draw_pad(State& state, Place area);
// Instruments, the line to type on, what was answered.
void draw_bag(State& state, Place area);

// "1.5 min"
std::string minutes_text(double minutes);

}  // namespace legwork::gui::on_site
