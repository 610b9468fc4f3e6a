#include "engine/base/diagnostics.h"

#include <algorithm>

#include "engine/base/text_file.h"

namespace legwork {

struct Source::Data {
  std::string file;
  std::string text;
  std::vector<std::size_t> line_starts;
};

Source::Source(std::string file, std::string text) {
  auto data = std::make_shared<Data>();
  data->file = std::move(file);
  data->text = std::move(text);
  data->line_starts.push_back(0);
  for (std::size_t i = 0; i < data->text.size(); ++i) {
    if (data->text[i] == '\n') data->line_starts.push_back(i + 1);
  }
  data_ = std::move(data);
}

const std::string& Source::file() const {
  static const std::string kNone;
  return data_ ? data_->file : kNone;
}

const std::string& Source::text() const {
  static const std::string kNone;
  return data_ ? data_->text : kNone;
}

std::string_view Source::line(int number) const {
  if (!data_ || number < 1 || static_cast<std::size_t>(number) > data_->line_starts.size()) {
    return {};
  }
  const std::size_t start = data_->line_starts[static_cast<std::size_t>(number) - 1];
  std::string_view rest = std::string_view(data_->text).substr(start);
  return rest.substr(0, rest.find('\n'));
}

Mark Source::mark_of_byte(std::size_t byte) const {
  if (!data_) return {};
  byte = std::min(byte, data_->text.size());
  const auto& starts = data_->line_starts;
  const auto after = std::upper_bound(starts.begin(), starts.end(), byte);
  const std::size_t line0 = static_cast<std::size_t>(after - starts.begin()) - 1;
  return mark_of(static_cast<int>(line0), static_cast<int>(byte - starts[line0]));
}

Mark Source::mark_of(int line0, int byte_column0) const {
  const std::string_view text = line(line0 + 1);
  const std::size_t bytes = byte_column0 < 0 ? 0 : static_cast<std::size_t>(byte_column0);
  const std::string_view before = text.substr(0, std::min(bytes, text.size()));
  return {line0 + 1, static_cast<int>(character_count(before)) + 1};
}

std::string Diagnostic::text() const {
  static constexpr std::string_view kNames[] = {"note", "warning", "error"};
  std::string out = file;
  if (mark.known()) out += ":" + std::to_string(mark.line) + ":" + std::to_string(mark.column);
  out += ": ";
  out += kNames[static_cast<std::size_t>(severity)];
  out += ": " + message + "\n";
  const std::string indent = "    ";
  if (mark.known() && !source_line.empty()) {
    out += indent + source_line + "\n" + indent;
    int column = 1;
    for (std::size_t i = 0; i < source_line.size() && column < mark.column; ++i) {
      const auto byte = static_cast<unsigned char>(source_line[i]);
      if ((byte & 0xC0u) == 0x80u) continue;  // inside a character
      out += source_line[i] == '\t' ? '\t' : ' ';
      ++column;
    }
    out += "^\n";
  }
  std::string_view rest = hint;
  while (!rest.empty()) {
    const std::size_t end = rest.find('\n');
    out += indent + std::string(rest.substr(0, end)) + "\n";
    rest = end == std::string_view::npos ? std::string_view() : rest.substr(end + 1);
  }
  return out;
}

void Diagnostics::add(Diagnostic diagnostic) {
  if (static_cast<int>(list_.size()) >= kLimit) {
    ++dropped_;
    return;
  }
  // Kept sorted within each file; files stay in the order in which they were first met.
  auto first = std::find_if(list_.begin(), list_.end(),
                            [&](const Diagnostic& d) { return d.file == diagnostic.file; });
  auto place = first;
  while (place != list_.end() && place->file == diagnostic.file && place->mark <= diagnostic.mark) {
    ++place;
  }
  list_.insert(place, std::move(diagnostic));
}

namespace {
Diagnostic located(Severity severity, const Source& source, Mark mark, std::string message,
                   std::string hint) {
  return {severity,           source.file(),   mark,
          std::move(message), std::move(hint), std::string(source.line(mark.line))};
}
}  // namespace

void Diagnostics::error(const Source& source, Mark mark, std::string message, std::string hint) {
  add(located(Severity::error, source, mark, std::move(message), std::move(hint)));
}
void Diagnostics::warning(const Source& source, Mark mark, std::string message, std::string hint) {
  add(located(Severity::warning, source, mark, std::move(message), std::move(hint)));
}
void Diagnostics::note(const Source& source, Mark mark, std::string message, std::string hint) {
  add(located(Severity::note, source, mark, std::move(message), std::move(hint)));
}
void Diagnostics::file_error(std::string file, std::string message, std::string hint) {
  add({Severity::error, std::move(file), {}, std::move(message), std::move(hint), {}});
}
void Diagnostics::append(const Diagnostics& others) {
  for (const Diagnostic& diagnostic : others.list_) add(diagnostic);
  dropped_ += others.dropped_;
}

int Diagnostics::error_count() const {
  return static_cast<int>(std::count_if(list_.begin(), list_.end(), [](const Diagnostic& d) {
    return d.severity == Severity::error;
  }));
}

std::string Diagnostics::text() const {
  std::string out;
  for (const Diagnostic& diagnostic : list_) out += diagnostic.text();
  if (dropped_ > 0) out += "and " + std::to_string(dropped_) + " more\n";
  return out;
}

}  // namespace legwork
