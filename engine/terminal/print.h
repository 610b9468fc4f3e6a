#pragma once
// How a call is written in the terminal: the ticket, one step with all that it showed, the tags.

#include <string>

#include "engine/base/diagnostics.h"
#include "engine/session/door.h"
#include "engine/unit/unit.h"

namespace legwork::terminal {

// Language and units of this run of the program.
const Speech& speech();
void speak(Speech speech);
std::string spoken(const Message& message);
// A line of its own on standard output.
void tell(const Message& line);
// "error: …" on standard error; returns the exit code that it was given.
int complain(const Message& what, int code);
int complain(const Diagnostics& found);  // as they are; returns kFindings
// Writes a file and prints its name; returns the exit code.
int write_out(const std::string& path, std::string_view bytes);
// A unit by its id or path, with the folder of the program's files. Null: it was said why.
unit::UnitPtr unit_named(const std::string& name, std::string& home);

std::string minutes_text(double minutes);  // "0.5 min"; "" = none
// Words in lines of at most `width` characters, each after the margin.
std::string wrapped(std::string_view text, std::string_view margin, std::size_t width = 92);
std::string clock(int minute_of_day);  // "05:10"
std::string ticket_text(const session::View& view);
// The lines of one step: what was done, seen, heard, said, and what was wrong with it.
std::string step_text(const session::View& after, const std::string& line,
                      const session::Outcome& outcome);
std::string tags_text(const session::View& view);
// What can be done where the trainee stands, steps that begin alike in one paragraph; with one part
// or thing alone, if `about` names one.
std::string here_text(const session::View& view, const std::string& about = {});
// Every verb with its use; or those that `about` begins or is: "volts", "replace LPC".
std::string help_text(const std::string& about);

}  // namespace legwork::terminal
