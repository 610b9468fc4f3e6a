#pragma once
// The parts of the page "on site", each in a place of its own. Pixels.

#include <string>

#include "gui/app.h"
#include "gui/screens/on_site.h"
#include "gui/sheet/draw.h"

struct ImDrawList;

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
// "Volts", by the verb of what is in hand.
Message name_of_instrument(const std::string& verb);

// --- of the door alone ---------------------------------------------------------------------

// How an instrument is put to the machine.
enum class Touch { two_leads, around_a_wire, at_a_point, none };
Touch touch_of(const std::string& verb);

// A sheet where it lies on the page.
struct Sheet {
  const Scene* scene;
  const Camera* camera;
  Place area;
};

// The terminal's home on that sheet; a reference to it where the home is not there; or nullptr.
const Terminal* terminal_on(const Scene& scene, const std::string& id);

// Lays the sheets out for the areas they have, and opens each where one stands and near enough to
// read. Again when the unit, the place, the language or the area changes.
void lay_sheets(State& state, Place sheet_area, Place panel_area);
// The whole sheet, or back to the readable part.
void show_whole(State& state, bool whole);
// Brings the terminals that the leads are on into sight, when they have just been put there.
void show_leads(State& state);
// Brings what was typed into "find" to the middle and lights it.
void find_on(State& state);

// What hangs on the sheet: paper tags where readings were taken, the meter with its cords, the
// two dials, the P-T card.
void draw_tags(State& state, const Sheet& sheet, ImDrawList& list);
void draw_meter(State& state, const Sheet& sheet, ImDrawList& list);
void draw_gauges(State& state, Place area, ImDrawList& list);
void draw_card(State& state, Place area, ImDrawList& list);
// Where the card lies; nowhere while it is folded.
Place card_place(const State& state, const Place& area);

}  // namespace legwork::gui::on_site
