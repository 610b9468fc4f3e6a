#include "engine/score/debrief.h"
#include "engine/session/call_book.h"
#include "engine/session/provenance.h"

namespace legwork::score {

std::vector<Message> beside_the_points(const std::string& log_path, const std::string& home) {
  const session::ReadLog read = session::read_log_file(log_path);
  if (!read.log) return {};
  std::vector<Message> out = session::remarks_on(session::provenance_of(read.log->header, home));
  for (Message& remark : session::remarks_on(session::booked_calls(read.log->header)))
    out.push_back(std::move(remark));
  return out;
}

}  // namespace legwork::score
