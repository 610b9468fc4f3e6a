#pragma once
// What stands on paper: headings, writing, rules, choices, fields, hatched edges. Screens are made
// of these and of sheets (sheet/draw.h) and use Dear ImGui directly only for layout. Everything
// that can be chosen has a name, kept in State::places, by which tests find it.
//
//   kit::heading(state, phrase("Today's calls"));
//   if (kit::choice(state, "open mb-002", "Marrow Bay bakery")) open(...);

#include <string>
#include <string_view>

#include "gui/app.h"

struct ImVec2;
struct ImFont;
struct ImDrawList;

namespace legwork::gui::kit {

enum class Tone { ink, dim, faint, pen };

void heading(State& state, const Message& text);
// One line, or as many as needed up to `width` pixels (0: to the right edge).
void words(State& state, const Message& text, Tone tone = Tone::ink, float width = 0);
void small_words(State& state, const Message& text, Tone tone = Tone::dim);
void mono(State& state, const Message& text, Tone tone = Tone::ink);
void strong(State& state, const Message& text);  // the heading of a list
// A ruled line, `width` pixels (0: to the right edge).
void rule(State& state, float width = 0);
// Room below, in units of the text's size.
void gap(State& state, float units);
// Where the next thing stands, in pixels of the page; and how far down the last one reached.
void at(float x, float y);
float down();

// Words that can be chosen: underlined in ink, in pen colour under the pointer. Mouse, or Enter and
// Space when it has the focus. A choice that is not possible is faint and says why under the
// pointer.
bool choice(State& state, std::string_view name, const Message& text, const Message& why_not = {});
// On the line of what was drawn last, `gap` pixels beside it, if the choice that follows has room
// there; else on the next line.
void beside(const State& state, const Message& text, float gap);
// Words at the pointer, as long as they are asked for.
void tip(State& state, const Message& text);
// One of a row of choices, the chosen one marked by the highlighter.
bool pick(State& state, std::string_view name, const Message& text, bool chosen);
// “…”, as the language quotes.
Message quoted(Message text);
// A line to write on. True when Enter is pressed in it.
bool field(State& state, std::string_view name, std::string& text, float width,
           const Message& hint = {});
// Lines to write on, so many rows.
void lines(State& state, std::string_view name, std::string& text, float width, int rows);
// Words within a hatched edge: harm, cautions.
void caution(State& state, const Message& text, float width = 0);

// Remembers where the last item stood, under a name.
void remember(State& state, std::string_view name);

// Was the key pressed in this frame (with repeats)?
bool pressed(Key key);
// Leaves the line that is written on.
void put_pen_down();
// No text field has the keyboard.
bool keys_free();
// As much of a line as has room, at a word's end if it can be, with an ellipsis.
std::string shortened(const ImFont* font, const std::string& text, float room);
// Broken into lines at blanks alone. The library's own wrapping breaks after punctuation too, and
// leaves a closing quotation mark alone on the next line.
std::string wrapped(const ImFont* font, std::string_view text, float width);

// A mark of what is done, drawn: `size` pixels each way.
void tick(State& state, ImVec2 at, float size);
// Diagonal hatching of a rectangle, `step` pixels apart.
void hatch(ImDrawList& list, ImVec2 from, ImVec2 to, float step, unsigned colour);

}  // namespace legwork::gui::kit
