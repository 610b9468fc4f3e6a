#pragma once
// How a call is written in the terminal: the ticket, one step with all that it showed, the tags.

#include <string>

#include "engine/session/door.h"

namespace legwork::terminal {

// Language and units of this run of the program.
const Speech& speech();
void speak(Speech speech);
std::string spoken(const Message& message);

std::string clock(int minute_of_day);  // "05:10"
std::string ticket_text(const session::View& view);
// The lines of one step: what was done, seen, heard, said, and what was wrong with it.
std::string step_text(const session::View& after, const std::string& line,
                      const session::Outcome& outcome);
std::string tags_text(const session::View& view);
// What can be done where the trainee stands.
std::string here_text(const session::View& view);
// Every verb with its use; or one verb and its sentence.
std::string help_text(const std::string& about);

}  // namespace legwork::terminal
