// What is wrong with a file, and where: all of it at once, in the form editors jump to.
//
//   circuits/wf-208.yaml:42:17: error: unknown unit 'psgi' for a pressure
//       HPC: {opens: 425 psgi}
//                    ^
//       did you mean 'psig'?
//
//   Diagnostics diagnostics;
//   diagnostics.error(source, mark, say("unknown device '{device}' in a rung", ...),
//                     suggestion(name, devices));
//   if (diagnostics.has_errors()) fmt::print(stderr, "{}", diagnostics.text(speech));
//
// Messages open with one of: expected, unexpected, unknown, duplicate, missing, out of range - or,
// for a finding about the unit rather than about its spelling, with the thing it is about. They
// have no full stop. Lines and columns count from 1; a column counts characters, not bytes.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/message.h"
#include "engine/base/result.h"

namespace legwork {

// A file's name and text, shared: cheap to copy, never changes. A unit or scenario keeps its own.
class Source {
 public:
  Source() = default;
  Source(std::string file, std::string text);

  const std::string& file() const;
  const std::string& text() const;
  // The text of one line, without its end; empty outside the file.
  std::string_view line(int number) const;
  // Line and column of a byte; the end of the text is a place too.
  Mark mark_of_byte(std::size_t byte) const;
  // Line and column (in characters) of a byte column in a line, both counted from 0. Takes as long
  // at the end of a long line as at its beginning.
  Mark mark_of(int line0, int byte_column0) const;

 private:
  std::size_t characters_before(std::size_t byte) const;
  struct Data;
  std::shared_ptr<const Data> data_;
};

enum class Severity { note, warning, error };

struct Diagnostic {
  Severity severity = Severity::error;
  std::string file;
  Mark mark;  // unknown: the finding is about the file as a whole
  Message message;
  Message hint;             // may be empty; may have several lines
  std::string source_line;  // the line of the file, or what of it is near; empty: none to show
  int caret = 0;            // column in source_line

  // Four lines at most, each ended by a newline (see above). The caret stands under the column:
  // tabs of the source line are repeated, characters of several bytes count as one. Nothing in it
  // steers a terminal, whatever the file holds.
  std::string text(const Speech& speech = {}) const;
};

class Diagnostics {
 public:
  // A hostile file can hold a mistake a byte: past this many no more are kept, only counted.
  static constexpr int kLimit = 200;
  // Nor is anything quoted at length, in characters: a line of the file, a message or hint.
  static constexpr std::size_t kQuotedLine = 100;
  static constexpr std::size_t kLongestMessage = 600;

  void add(Diagnostic diagnostic);
  void error(const Source& source, Mark mark, Message message, Message hint = {});
  void error(const Source& source, Mark mark, const Failure& failure) {
    error(source, mark, failure.what, failure.hint);
  }
  void warning(const Source& source, Mark mark, Message message, Message hint = {});
  void note(const Source& source, Mark mark, Message message, Message hint = {});
  // About a file that could not be read at all; at a place in it, if that is known.
  void file_error(std::string file, Message message, Message hint = {}, Mark mark = {});
  void file_error(std::string file, const Failure& failure) {
    file_error(std::move(file), failure.what, failure.hint, failure.mark);
  }
  void append(const Diagnostics& others);

  bool empty() const { return list_.empty(); }
  bool has_errors() const { return error_count() > 0; }
  int error_count() const;
  // Not kept for being past the limit; text() says how many.
  int dropped() const { return dropped_; }
  // In the order of the file: by file as first met, then line, column, order of finding.
  const std::vector<Diagnostic>& list() const { return list_; }
  std::string text(const Speech& speech = {}) const;
  Message message() const;  // the same, to be rendered later

 private:
  bool full(Severity severity);
  std::vector<Diagnostic> list_;
  int dropped_ = 0;
  int dropped_errors_ = 0;
};

}  // namespace legwork
