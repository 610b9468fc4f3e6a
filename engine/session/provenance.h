#pragma once
// Is what a call was worked on what is shipped? A scenario of one's own can bear a shipped one's
// name, and be easier.
//
//   const Provenance from = provenance_of(log.header, home);
//   for (const Message& remark : remarks_on(from)) show(remark);   // "not the shipped mb-011: …"
//
// Compared are the fingerprints in the log's header, which replay() has held against the texts that
// the log embeds. Those of former versions are in assets/shipped.txt (.ci/shipped.sh), so that an
// honest old log is told as old.

#include <string>
#include <vector>

#include "engine/base/message.h"
#include "engine/session/log.h"

namespace legwork::session {

enum class Origin {
  shipped,  // as it is installed
  earlier,  // as an earlier version of this program had it
  own,      // no shipped one has this name
  changed,  // a shipped one has this name and is another
};

struct Provenance {
  std::string unit_id, scenario_id;
  Origin unit = Origin::own;
  Origin scenario = Origin::own;
  bool from_hat = false;  // made by its number: `scenario` says whether from what is installed

  // Worth as much as the shipped call of that name.
  bool as_shipped() const { return unit == Origin::shipped && scenario == Origin::shipped; }
};

// `home`: "" = home_folder(). A call out of the hat is made again for it, which takes seconds.
Provenance provenance_of(const LogHeader& header, const std::string& home);
// Nothing where all is as shipped.
std::vector<Message> remarks_on(const Provenance& provenance);

}  // namespace legwork::session
