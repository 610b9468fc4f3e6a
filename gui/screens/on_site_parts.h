#pragma once
// The parts of the page "on site", each in a place of its own. Pixels.

#include <string>
#include <vector>

#include "gui/app.h"
#include "gui/screens/on_site.h"
#include "gui/sheet/draw.h"

struct ImDrawList;

namespace legwork::gui::on_site {

// Places, clock, weather, the ticket, the trail. Returns its lower edge.
float draw_strip(State& state, Place area);
// What was seen and what was heard, with times. Returns its lower edge.
float draw_senses(State& state, Place area);
// Outside, panel and door, side by side, with the leads.
void draw_windows(State& state, Place area);
// Bag, meter, tags, the line to type on, what was answered.
void draw_tailgate(State& state, Place area);
// Over the windows: the slip of a part, the list of all steps, the pad, what went wrong.
void draw_slip(State& state, Place area);
// What was made safe, on the machine.
void draw_safe(State& state);
// The picture of the look that was taken last, with its sentence.
void draw_look(State& state, Place area);
void draw_steps(State& state, Place area);
void draw_pad(State& state, Place area);
void draw_harm(State& state, Place area);
// Before hands go where nothing was proven dead.
void draw_ask(State& state, Place area);

// "1.5 min"
std::string minutes_text(double minutes);
// "05:24", of minutes since the ticket began.
std::string clock_text(const OnSiteState& mine, double minute);
// A small window: what folds is folded.
bool is_small(const State& state);

// What happened in a step is heard; what runs goes on sounding while somebody is there.
inline constexpr double kGoesOn_s = 10;  // seconds without a hand: then nothing moves or sounds
void hear(State& state, const session::Outcome& outcome);
void keep_sounding(State& state);
// Once a frame: what turns, rises and sounds.
void move_on(State& state);

// A sheet where it lies on the page.
struct Sheet {
  const Scene* scene;
  const Camera* camera;
  Place area;
};

// --- instruments ---------------------------------------------------------------------------

// How an instrument is put to the machine.
enum class Touch { two_leads, around_a_wire, at_a_point, none };
Touch touch_of(const std::string& verb);
// Takes an instrument in hand; leads stay where they are if it has two as well.
void take(OnSiteState& mine, const std::string& verb);
// Puts a lead to a terminal; the second one takes the reading.
void place_lead(State& state, int which, const std::string& terminal);
// Takes a lead off its screw, 0 red, 1 black, or both (-1): free, and a step of the log if the
// meter was reading.
void take_off(State& state, int which);
// Takes back the last act that cost nothing.
void take_back(State& state);
// What a click on a sheet does; what lies under the pointer, in words; a typed reading puts the
// leads there too.
void click(State& state, const Sheet& sheet, const Hit& under);
std::string words_under(const State& state, const Hit& under);
void follow_reading(OnSiteState& mine);
bool holds(const Place& place, float x, float y);
bool is_point(const Hit& under);  // of a thermometer, or a gauge port
// Why a terminal cannot be touched from here; empty if it can.
Message why_not(const OnSiteState& mine, const std::string& terminal);
// The meter and its jacks; what was watched last as a line.
void draw_meter(State& state, Place area);
float meter_wide(const State& state);  // what its words need
void draw_watched(const State& state, Place area);
// Verbs of what can be taken in hand, in the order of the keys 1 to 9 and 0.
std::vector<std::string> instruments();
// "Volts", by the verb of what is in hand.
Message name_of_instrument(const std::string& verb);
// "pulled in", in the language of the settings.
std::string seen_word(const State& state, How how);

// --- the windows ---------------------------------------------------------------------------

// Those that are open now: outside, panel, sheet.
std::vector<Sheet> open_sheets(const OnSiteState& mine);

// The terminal's home on that sheet; a reference to it where the home is not there; or nullptr.
const Terminal* terminal_on(const Scene& scene, const std::string& id);
// Where a terminal can be touched: on the machine if it is drawn there, else on the sheet. False:
// nowhere on this page. `window`: the part of the page that its sheet is drawn in.
bool where_is(const OnSiteState& mine, const std::string& terminal, PointF& at, bool& in_sight,
              Place& window);
// What a target covers on the page.
Place place_on(const Sheet& sheet, const Box& box);
// Opens the slip of a part, a thing or a wire.
void open_slip(OnSiteState& mine, const std::string& id, Place beside,
               const std::string& screw = {});

// Draws the site anew if something was observed, or the language changed.
void make_site(State& state);
// So large a part of the drawn site is drawn at most, at text 1.
inline constexpr float kLargestSite = 1.35F;
// Lays the sheets out for the areas they have, and opens each where one stands and near enough to
// read. Again when the unit, the place, the language or the area changes.
void lay_sheets(State& state, Place outside, Place panel, Place sheet);
// The whole sheets, or back to the readable part.
void show_whole(State& state, bool whole);
// Brings what was typed into "find" to the middle and lights it.
void find_on(State& state);

// One lead, from the jack to where its probe stands.
void draw_lead(const State& state, PointF jack, PointF to, bool red, ImDrawList& list);
// Cords from the meter to where the leads are, over everything.
void draw_leads(State& state, ImDrawList& list);
// Paper tags on the sheet where readings were taken, the two dials, the P-T card.
void draw_tags(State& state, const Sheet& sheet, ImDrawList& list);
void draw_gauges(State& state, Place area, ImDrawList& list);
void draw_card(State& state, Place area, ImDrawList& list);

}  // namespace legwork::gui::on_site
