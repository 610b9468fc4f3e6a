#include "engine/session/call_book.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <optional>
#include <string_view>

#include "engine/base/text_file.h"
#include "engine/session/door.h"

namespace legwork::session {
namespace {

constexpr std::size_t kLargestBook = 8u << 20;  // bytes: some hundred thousand calls
constexpr std::string_view kSignedOff = "signed off";

std::string book_path() { return data_folder() + "/calls.book"; }

// One line an event; the last field is free text without tabs.
std::string line_of(std::string_view event, const LogHeader& header, std::string_view why) {
  std::string line =
      fmt::format("{}\t{}\t{}\t{}", event, header.scenario, header.scenario_sha256, why);
  for (char& c : line) {
    if (c == '\n' || c == '\r') c = ' ';
  }
  return line + "\n";
}

}  // namespace

bool book_call(CallEvent event, const LogHeader& header, const std::string& why) {
  std::error_code error;
  std::filesystem::create_directories(data_folder(), error);
  const int book =
      ::open(book_path().c_str(), O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC | O_NONBLOCK, 0644);
  if (book < 0) return false;
  const std::string line = line_of(event == CallEvent::begun ? "begun" : "ended", header, why);
  // Two programs at once: whole lines, one after the other.
  ::flock(book, LOCK_EX);
  const bool good = ::write(book, line.data(), line.size()) == static_cast<ssize_t>(line.size()) &&
                    ::fdatasync(book) == 0;
  return ::close(book) == 0 && good;
}

Booked booked_calls(const LogHeader& header) {
  Booked out;
  const Result<std::string> text = read_regular_file(book_path(), kLargestBook);
  if (!text) return out;
  const std::string begun = fmt::format("begun\t{}\t{}\t", header.scenario, header.scenario_sha256);
  const std::string ended = fmt::format("ended\t{}\t{}\t", header.scenario, header.scenario_sha256);
  std::string_view rest = *text;
  while (!rest.empty()) {
    const std::string_view line = rest.substr(0, rest.find('\n'));
    rest.remove_prefix(std::min(rest.size(), line.size() + 1));
    out.begun += line.starts_with(begun);
    if (!line.starts_with(ended)) continue;
    ++out.ended;
    out.ended_by_hazard += line.substr(ended.size()) != kSignedOff;
  }
  return out;
}

std::vector<Message> remarks_on(const Booked& booked) {
  std::vector<Message> out;
  if (booked.begun > 1)
    out.push_back(say_many("this call was begun once on this machine",
                           "this call was begun {n} times on this machine", booked.begun));
  if (booked.ended_by_hazard > 0)
    out.push_back(say_many("it ended once on an unsafe act", "it ended {n} times on an unsafe act",
                           booked.ended_by_hazard));
  if (booked.begun > 0 && booked.ended > booked.begun)
    out.push_back(say("it was gone on with after its end: ended more often than begun"));
  return out;
}

}  // namespace legwork::session
