#pragma once
// Names in a step against the unit: put right in case, or refused with the nearest name; and what
// can be reached from where the trainee stands. Every function returns a sentence, "" when all is
// well.

#include <string>
#include <string_view>
#include <vector>

#include "engine/circuit/operate.h"
#include "engine/session/attempt.h"

namespace legwork::session::names {

// --- put right ---
Message terminal(const Attempt& attempt, std::string& name);
Message wire(const Attempt& attempt, std::string& name);
Message wires(const Attempt& attempt, std::string& names);  // "A>B C>D", at most twelve
Message device(const Attempt& attempt, std::string& name);
Message place(const Attempt& attempt, std::string& name);  // id, or its name in words
Message probe(const Attempt& attempt, std::string& name);
// A device to which the hand operation can apply; `what` says what such a device is: "a
// disconnect".
Message device_for(const Attempt& attempt, std::string& name, circuit::HandVerb verb,
                   const Phrase& what);

// --- reached from here? ---
Message reach_place(const Attempt& attempt, std::string_view place_id, Message thing);
Message reach_terminal(const Attempt& attempt, circuit::TerminalId terminal);
Message reach_wire(const Attempt& attempt, std::string_view wire);      // either end will do
Message reach_device(const Attempt& attempt, std::string_view device);  // its place
Message reach_inside(const Attempt& attempt, std::string_view device);  // and its panel open

// --- facts about the unit ---
circuit::DeviceId id(const Attempt& attempt, std::string_view device);
const unit::Place* find_place(const Attempt& attempt, std::string_view id);
std::string place_of_device(const Attempt& attempt,
                            circuit::DeviceId device);  // "" if it has no spot
Message place_name(const Attempt& attempt, std::string_view id);
bool has_panel(const Attempt& attempt, std::string_view place_id);  // anything behind a door there?
// Devices here (whose spot is where the trainee stands) that the operation can apply to.
std::vector<std::string> devices_here(const Attempt& attempt, circuit::HandVerb verb);
bool holds(const std::vector<std::string>& list, std::string_view item);
void drop(std::vector<std::string>& list, std::string_view item);
void keep(std::vector<std::string>& list, std::string_view item);  // once

}  // namespace legwork::session::names
