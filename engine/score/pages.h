#pragma once
// From a call lived through again to the pages and the page of account of its debrief. Inside of
// debrief.h; not for other folders.

#include <string>
#include <vector>

#include "engine/score/call.h"
#include "engine/score/debrief.h"

namespace legwork::score {

std::vector<Page> pages_of(const Call& call);
std::vector<SuspectLine> suspects_of(const Call& call, const std::vector<Page>& pages);
std::vector<Change> changes_of(const Call& call, const std::vector<Page>& pages);
Message goal_of(const Call& call, const Facts& facts, const Account& account);
Message truth_sentences(const Call& call);
Message ask_first_of(const session::WriteUp& wrote);
std::vector<Message> write_up_lines(const session::WriteUp& wrote);

// What each terminal follows in the site as it stands, by terminal index.
std::vector<Follows> follows(const session::Site& site);

}  // namespace legwork::score
