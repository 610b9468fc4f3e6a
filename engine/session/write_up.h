#pragma once
// The trainee's finding: what stopped the machine, the part that failed and how, the root of it,
// how sure they are, and what the site was told. Every field is written by a step of its own
// (`write up root condenser: plugged inside`), so a draft survives in the shift log; `sign off`
// ends the call. Whether it is right is judged in engine/score, from the log.

#include <string>
#include <vector>

#include "engine/base/message.h"

namespace legwork::session {

struct Finding {
  std::string what;  // device, wire or condition by the name in the vocabulary: "HPC", "condenser"
  std::string
      how;  // mode: "stuck open", "plugged inside", or "doing its work" for a part not at fault
  bool empty() const { return what.empty(); }
  bool operator==(const Finding&) const = default;
};

struct WriteUp {
  std::string stopped_by;  // the open device, or the load that is fed and does nothing: "HPC"
  Finding part;            // the failed part and how
  Finding root;            // why: may be the same
  int sureness = 0;        // 50–99 in a hundred; 0 = not said
  std::string product;     // a row of write_up_words().products: "hold"
  std::string watch;  // of write_up_words().watches: who watches it, and when somebody comes back
  std::string told;   // what the site was told, own words
  std::string done;   // what was done, own words
  std::string verified;  // what was seen to prove it, own words
  bool operator==(const WriteUp&) const = default;
};

// A part or condition and every way it can fail, of the whole catalogue: no hint at what is true.
struct PartWords {
  std::string what;
  Message name;                   // "High-pressure control"
  std::vector<std::string> hows;  // "doing its work" first
};
struct Choice {
  std::string id;
  Message words;
};
struct WriteUpWords {
  std::vector<PartWords> parts;  // devices in file order, then wires, then conditions
  std::vector<Choice> products;
  std::vector<Choice> watches;
};

}  // namespace legwork::session
