#include "engine/base/diagnostics.h"

#include <algorithm>

#include "engine/base/plain_text.h"
#include "engine/base/text_file.h"

namespace legwork {
namespace {
constexpr std::size_t kStride = 256;  // bytes
}

struct Source::Data {
  std::string file;
  std::string text;
  std::vector<std::size_t> line_starts;
  std::vector<std::size_t> characters;  // before each kStride bytes of the text
};

Source::Source(std::string file, std::string text) {
  auto data = std::make_shared<Data>();
  data->file = std::move(file);
  data->text = std::move(text);
  data->line_starts.push_back(0);
  std::size_t characters = 0;
  for (std::size_t i = 0; i < data->text.size(); ++i) {
    if (i % kStride == 0) data->characters.push_back(characters);
    characters += (static_cast<unsigned char>(data->text[i]) & 0xC0u) != 0x80u;
    if (data->text[i] == '\n') data->line_starts.push_back(i + 1);
  }
  data->characters.push_back(characters);
  data_ = std::move(data);
}

std::size_t Source::characters_before(std::size_t byte) const {
  const std::size_t whole = std::min(byte / kStride, data_->characters.size() - 1);
  const std::string_view rest = std::string_view(data_->text).substr(whole * kStride);
  if (byte >= data_->text.size()) return data_->characters.back();
  return data_->characters[whole] + character_count(rest.substr(0, byte - whole * kStride));
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
  const std::size_t at = static_cast<std::size_t>(number);
  const std::size_t start = data_->line_starts[at - 1];
  const std::size_t end =
      at < data_->line_starts.size() ? data_->line_starts[at] - 1 : data_->text.size();
  return std::string_view(data_->text).substr(start, end - start);
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
  if (text.data() == nullptr) return {line0 + 1, 1};
  const std::size_t start = static_cast<std::size_t>(text.data() - data_->text.data());
  const std::size_t before = characters_before(start + std::min(bytes, text.size()));
  return {line0 + 1, static_cast<int>(before - characters_before(start)) + 1};
}

std::string Diagnostic::text(const Speech& speech) const {
  static constexpr Phrase kNames[] = {phrase("note"), phrase("warning"), phrase("error")};
  std::string out = printable(file);
  if (mark.known()) out += ":" + std::to_string(mark.line) + ":" + std::to_string(mark.column);
  out += ": ";
  out += render(kNames[static_cast<std::size_t>(severity)], speech);
  std::string sentence = printable(cut(render(message, speech), Diagnostics::kLongestMessage));
  std::replace(sentence.begin(), sentence.end(), '\n', ' ');
  out += ": " + sentence + "\n";
  const std::string indent = "    ";
  if (mark.known() && !source_line.empty()) {
    out += indent + printable(source_line) + "\n" + indent;
    int column = 1;
    for (std::size_t i = 0; i < source_line.size() && column < caret; ++i) {
      const auto byte = static_cast<unsigned char>(source_line[i]);
      if ((byte & 0xC0u) == 0x80u) continue;  // inside a character
      out += source_line[i] == '\t' ? '\t' : ' ';
      ++column;
    }
    out += "^\n";
  }
  const std::string lines = printable(cut(render(hint, speech), Diagnostics::kLongestMessage));
  std::string_view rest = lines;
  while (!rest.empty()) {
    const std::size_t end = rest.find('\n');
    out += indent + std::string(rest.substr(0, end)) + "\n";
    rest = end == std::string_view::npos ? std::string_view() : rest.substr(end + 1);
  }
  return out;
}

bool Diagnostics::full(Severity severity) {
  if (static_cast<int>(list_.size()) < kLimit) return false;
  ++dropped_;
  dropped_errors_ += severity == Severity::error ? 1 : 0;
  return true;
}

void Diagnostics::add(Diagnostic diagnostic) {
  if (full(diagnostic.severity)) return;
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

// The line, or of a long one as much as fits a width, with the column in its middle.
std::string quoted_line(std::string_view line, int column, int& caret) {
  constexpr std::size_t kWide = Diagnostics::kQuotedLine;
  caret = column;
  const std::size_t at = column < 1 ? 0 : static_cast<std::size_t>(column) - 1;
  if (at < kWide * 2 / 3) return cut(line, kWide);
  if (line.size() <= kWide || character_count(line) <= kWide) return std::string(line);
  const std::size_t skipped = at - kWide / 2;
  std::size_t byte = 0;
  for (std::size_t count = 0; byte < line.size(); ++byte) {
    const bool begins = (static_cast<unsigned char>(line[byte]) & 0xC0u) != 0x80u;
    if (begins && count++ == skipped) break;
  }
  caret = static_cast<int>(at - skipped) + 2;  // after the ellipsis
  return "…" + cut(line.substr(byte), kWide - 1);
}

Diagnostic located(Severity severity, const Source& source, Mark mark, Message message,
                   Message hint) {
  Diagnostic out{severity, source.file(), mark, std::move(message), std::move(hint), {}, 0};
  out.source_line = quoted_line(source.line(mark.line), mark.column, out.caret);
  return out;
}

}  // namespace

void Diagnostics::error(const Source& source, Mark mark, Message message, Message hint) {
  if (full(Severity::error)) return;
  add(located(Severity::error, source, mark, std::move(message), std::move(hint)));
}
void Diagnostics::warning(const Source& source, Mark mark, Message message, Message hint) {
  if (full(Severity::warning)) return;
  add(located(Severity::warning, source, mark, std::move(message), std::move(hint)));
}
void Diagnostics::note(const Source& source, Mark mark, Message message, Message hint) {
  if (full(Severity::note)) return;
  add(located(Severity::note, source, mark, std::move(message), std::move(hint)));
}
void Diagnostics::file_error(std::string file, Message message, Message hint, Mark mark) {
  add({Severity::error, std::move(file), mark, std::move(message), std::move(hint), {}, 0});
}
void Diagnostics::append(const Diagnostics& others) {
  for (const Diagnostic& diagnostic : others.list_) add(diagnostic);
  dropped_ += others.dropped_;
  dropped_errors_ += others.dropped_errors_;
}

int Diagnostics::error_count() const {
  const auto kept = std::count_if(list_.begin(), list_.end(), [](const Diagnostic& d) {
    return d.severity == Severity::error;
  });
  return static_cast<int>(kept) + dropped_errors_;
}

Message Diagnostics::message() const {
  return Findings{std::make_shared<const Diagnostics>(*this)};
}

std::string Diagnostics::text(const Speech& speech) const {
  std::string out;
  for (const Diagnostic& diagnostic : list_) out += diagnostic.text(speech);
  if (dropped_ > 0) {
    out += render(say("and {n} more", {{"n", Number{dropped_}}}), speech);
    out += "\n";
  }
  return out;
}

}  // namespace legwork
