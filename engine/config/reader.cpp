#include "engine/config/reader.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

#include "engine/base/plain_text.h"
#include "engine/base/suggest.h"

namespace legwork {
namespace {

void complain(const Node& node, Diagnostics& diagnostics, Message message, Message hint = {}) {
  diagnostics.error(node.source(), node.mark(), std::move(message), std::move(hint));
}

// A limit as one would write it in a file: in trade units, no more digits than it needs.
std::string limit_text(double si, Dimension dimension) {
  const double value = display_value(si, dimension);
  const std::string_view unit = display_unit(dimension);
  std::string number = fmt::format("{:.6g}", value);
  return unit.empty() ? number : fmt::format("{} {}", number, unit);
}

std::string range_text(const Wanted& wanted, Dimension dimension) {
  const bool low = std::isfinite(wanted.min);
  const bool high = std::isfinite(wanted.max);
  if (low && high) {
    return fmt::format("between {} and {}", limit_text(wanted.min, dimension),
                       limit_text(wanted.max, dimension));
  }
  return low ? fmt::format("at least {}", limit_text(wanted.min, dimension))
             : fmt::format("at most {}", limit_text(wanted.max, dimension));
}

}  // namespace

std::optional<double> read_quantity(const Node& node, Dimension dimension, Diagnostics& diagnostics,
                                    const Wanted& wanted) {
  if (!node.is_scalar()) {
    complain(node, diagnostics,
             fmt::format("expected {} such as {}, found {}", dimension_name(dimension),
                         dimension_example(dimension), node.description()));
    return std::nullopt;
  }
  const ParsedQuantity parsed = parse_quantity(node.text(), dimension);
  if (!parsed.ok) {
    complain(node, diagnostics, parsed.error, parsed.hint);
    return std::nullopt;
  }
  // The ends are included: a limit converted from trade units may miss by a last bit.
  const double slack = 1e-12;
  if (parsed.si < wanted.min - slack * std::abs(wanted.min) ||
      parsed.si > wanted.max + slack * std::abs(wanted.max)) {
    complain(node, diagnostics,
             fmt::format("out of range: expected {} {}, found '{}'", dimension_name(dimension),
                         range_text(wanted, dimension), node.text()));
    return std::nullopt;
  }
  return parsed.si;
}

std::optional<int> read_integer(const Node& node, Diagnostics& diagnostics, int min, int max) {
  const std::string& text = node.text();
  int value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  const bool whole = error == std::errc() && end == text.data() + text.size();
  if (!node.is_scalar() || (!whole && error != std::errc::result_out_of_range)) {
    complain(node, diagnostics,
             fmt::format("expected a whole number, found {}", node.description()));
    return std::nullopt;
  }
  if (!whole || value < min || value > max) {
    complain(node, diagnostics,
             fmt::format("out of range: expected a whole number between {} and {}, found '{}'", min,
                         max, text));
    return std::nullopt;
  }
  return value;
}

std::optional<std::string> read_text(const Node& node, Diagnostics& diagnostics) {
  if (node.is_scalar()) return node.text();
  complain(node, diagnostics, fmt::format("expected text, found {}", node.description()));
  return std::nullopt;
}

namespace {
void too_many(const Node& first, std::string_view what, std::size_t most,
              Diagnostics& diagnostics) {
  complain(first, diagnostics, fmt::format("out of range: more than {} {}", most, what));
}
}  // namespace

std::vector<Node> read_items(const Node& list, std::string_view what, std::size_t most,
                             Diagnostics& diagnostics) {
  if (!list.is_list()) return {};
  if (list.size() > most) too_many(list.at(most), what, most, diagnostics);
  std::vector<Node> items;
  for (std::size_t i = 0; i < std::min(most, list.size()); ++i) items.push_back(list.at(i));
  return items;
}

std::vector<Entry> read_entries(const Node& map, std::string_view what, std::size_t most,
                                Diagnostics& diagnostics) {
  std::vector<Entry> entries = map.entries();
  if (entries.size() > most) {
    diagnostics.error(map.source(), entries[most].key_mark,
                      fmt::format("out of range: more than {} {}", most, what));
    entries.resize(most);
  }
  return entries;
}

std::string read_name(const Node& node, std::string_view what, Diagnostics& diagnostics) {
  const std::optional<std::string> text = read_text(node, diagnostics);
  if (!text) return {};
  if (is_plain_name(*text)) return *text;
  complain(node, diagnostics, fmt::format("unexpected name '{}' for {}", cut(*text, 40), what),
           std::string(kNameRule));
  return {};
}

std::optional<bool> read_flag(const Node& node, Diagnostics& diagnostics) {
  if (node.text() == "yes" || node.text() == "true") return true;
  if (node.text() == "no" || node.text() == "false") return false;
  complain(node, diagnostics, fmt::format("expected yes or no, found {}", node.description()));
  return std::nullopt;
}

std::optional<std::size_t> read_word(const Node& node, std::string_view what,
                                     const std::vector<std::string_view>& words,
                                     Diagnostics& diagnostics) {
  if (!node.is_scalar()) {
    complain(node, diagnostics,
             fmt::format("expected {}, found {}", one_of(words), node.description()));
    return std::nullopt;
  }
  const auto found = std::find(words.begin(), words.end(), node.text());
  if (found != words.end()) return static_cast<std::size_t>(found - words.begin());
  Message hint = suggestion(node.text(), words);
  if (hint.empty()) hint = "expected " + one_of(words);
  complain(node, diagnostics, fmt::format("unknown {} '{}'", what, node.text()), std::move(hint));
  return std::nullopt;
}

Reader::Reader(Node node, Diagnostics& diagnostics, std::string what)
    : node_(std::move(node)), diagnostics_(&diagnostics), what_(std::move(what)) {
  if (!node_.exists() || node_.is_map()) return;
  complain(node_, diagnostics,
           fmt::format("expected a map for {}, found {}", what_, node_.description()));
}

Reader::Reader(Reader&& other) noexcept
    : node_(std::move(other.node_)),
      diagnostics_(other.diagnostics_),
      what_(std::move(other.what_)),
      asked_(std::move(other.asked_)),
      finished_(std::exchange(other.finished_, true)) {}

Reader::~Reader() { finish(); }

Mark Reader::mark_of(std::string_view key) const {
  const Node value = node_.find(key);
  return value.exists() ? value.mark() : node_.mark();
}

bool Reader::has(std::string_view key) { return maybe(key).exists(); }

Node Reader::maybe(std::string_view key) {
  if (std::find(asked_.begin(), asked_.end(), key) == asked_.end()) asked_.emplace_back(key);
  return node_.find(key);
}

Node Reader::required(std::string_view key) {
  Node value = maybe(key);
  if (!value.exists() && ok()) {
    diagnostics_->error(node_.source(), node_.mark(),
                        fmt::format("missing key '{}' in {}", key, what_));
  }
  return value;
}

double Reader::quantity(std::string_view key, Dimension dimension, const Wanted& wanted) {
  const double harmless = wanted.fallback             ? *wanted.fallback
                          : std::isfinite(wanted.min) ? wanted.min
                                                      : 0.0;
  const Node value = wanted.fallback ? maybe(key) : required(key);
  if (!value.exists()) return harmless;
  return read_quantity(value, dimension, *diagnostics_, wanted).value_or(harmless);
}

std::optional<double> Reader::maybe_quantity(std::string_view key, Dimension dimension,
                                             const Wanted& wanted) {
  const Node value = maybe(key);
  if (!value.exists()) return std::nullopt;
  return read_quantity(value, dimension, *diagnostics_, wanted);
}

int Reader::integer(std::string_view key, int min, int max, std::optional<int> fallback) {
  const Node value = fallback ? maybe(key) : required(key);
  const int harmless = fallback.value_or(min);
  if (!value.exists()) return harmless;
  return read_integer(value, *diagnostics_, min, max).value_or(harmless);
}

std::string Reader::text(std::string_view key, std::optional<std::string> fallback) {
  const Node value = fallback ? maybe(key) : required(key);
  std::string harmless = fallback.value_or("");
  if (!value.exists()) return harmless;
  return read_text(value, *diagnostics_).value_or(std::move(harmless));
}

std::string Reader::name(std::string_view key) {
  const Node value = required(key);
  return value.exists() ? read_name(value, what_, *diagnostics_) : std::string();
}

bool Reader::flag(std::string_view key, std::optional<bool> fallback) {
  const Node value = fallback ? maybe(key) : required(key);
  const bool harmless = fallback.value_or(false);
  if (!value.exists()) return harmless;
  return read_flag(value, *diagnostics_).value_or(harmless);
}

namespace {
std::vector<Node> items_of(const Node& value, std::string_view key, std::size_t most,
                           Diagnostics& diagnostics) {
  if (value.is_list()) return read_items(value, fmt::format("in '{}'", key), most, diagnostics);
  if (value.is_scalar()) return {value};
  if (value.exists()) {
    complain(value, diagnostics,
             fmt::format("expected a list for '{}', found {}", key, value.description()));
  }
  return {};
}
}  // namespace

std::vector<Node> Reader::list(std::string_view key, std::size_t most) {
  return items_of(required(key), key, most, *diagnostics_);
}

std::vector<Node> Reader::maybe_list(std::string_view key, std::size_t most) {
  return items_of(maybe(key), key, most, *diagnostics_);
}

std::vector<double> Reader::quantities(std::string_view key, Dimension dimension, std::size_t count,
                                       const Wanted& wanted) {
  std::vector<double> values(count, wanted.fallback.value_or(0.0));
  const Node value = wanted.fallback ? maybe(key) : required(key);
  if (!value.exists()) return values;
  if (!value.is_list() || value.size() != count) {
    const std::string found =
        value.is_list() ? fmt::format("{} of them", value.size()) : value.description();
    error(key, fmt::format("expected a list of {} values, found {}", count, found));
    return values;
  }
  for (std::size_t i = 0; i < count; ++i) {
    const std::optional<double> read = read_quantity(value.at(i), dimension, *diagnostics_, wanted);
    if (read) values[i] = *read;
  }
  return values;
}

Reader Reader::map(std::string_view key, std::string what) {
  return Reader(required(key), *diagnostics_, std::move(what));
}

std::optional<Reader> Reader::maybe_map(std::string_view key, std::string what) {
  const Node value = maybe(key);
  if (!value.exists()) return std::nullopt;
  return std::optional<Reader>(std::in_place, value, *diagnostics_, std::move(what));
}

void Reader::error(std::string_view key, Message message, Message hint) {
  diagnostics_->error(node_.source(), mark_of(key), std::move(message), std::move(hint));
}

void Reader::finish() {
  if (std::exchange(finished_, true) || !ok()) return;
  std::vector<std::string_view> known(asked_.begin(), asked_.end());
  for (const Entry& entry : node_.entries()) {
    if (std::find(known.begin(), known.end(), entry.key) != known.end()) continue;
    Message hint = suggestion(entry.key, known);
    if (hint.empty() && !known.empty()) hint = "known keys: " + one_of(known);
    diagnostics_->error(node_.source(), entry.key_mark,
                        fmt::format("unknown key '{}' in {}", entry.key, what_), std::move(hint));
  }
}

}  // namespace legwork
