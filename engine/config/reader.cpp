#include "engine/config/reader.h"

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

// A limit as one would write it in a file.
Amount limit(double si, Dimension dimension) { return {si, dimension, kShortest, false}; }

Message out_of_range(const Wanted& wanted, Dimension dimension, const std::string& found) {
  const bool low = std::isfinite(wanted.min), high = std::isfinite(wanted.max);
  const Phrase what =
      low && high ? phrase(
                        "out of range: expected {dimension} between {low} and {high}, found "
                        "'{found}'")
      : low ? phrase("out of range: expected {dimension} at least {low}, found '{found}'")
            : phrase("out of range: expected {dimension} at most {high}, found '{found}'");
  return say(what, {{"dimension", dimension_name(dimension)},
                    {"low", limit(wanted.min, dimension)},
                    {"high", limit(wanted.max, dimension)},
                    {"found", Name{found}}});
}

}  // namespace

std::optional<double> read_quantity(const Node& node, Dimension dimension, Diagnostics& diagnostics,
                                    const Wanted& wanted) {
  if (!node.is_scalar()) {
    complain(node, diagnostics,
             say("expected {dimension} such as {example}, found {found}",
                 {{"dimension", dimension_name(dimension)},
                  {"example", Name{dimension_example(dimension)}},
                  {"found", node.description()}}));
    return std::nullopt;
  }
  const Result<double> parsed = parse_quantity(node.text(), dimension);
  if (!parsed) {
    diagnostics.error(node.source(), node.mark(), parsed.failure());
    return std::nullopt;
  }
  // The ends are included: a limit converted from trade units may miss by a last bit.
  const double slack = 1e-12;
  if (*parsed < wanted.min - slack * std::abs(wanted.min) ||
      *parsed > wanted.max + slack * std::abs(wanted.max)) {
    complain(node, diagnostics, out_of_range(wanted, dimension, node.text()));
    return std::nullopt;
  }
  return *parsed;
}

std::optional<int> read_integer(const Node& node, Diagnostics& diagnostics, int min, int max) {
  const std::string& text = node.text();
  int value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  const bool whole = error == std::errc() && end == text.data() + text.size();
  if (!node.is_scalar() || (!whole && error != std::errc::result_out_of_range)) {
    complain(node, diagnostics,
             say("expected a whole number, found {found}", {{"found", node.description()}}));
    return std::nullopt;
  }
  if (!whole || value < min || value > max) {
    complain(node, diagnostics,
             say("out of range: expected a whole number between {low} and {high}, found '{found}'",
                 {{"low", Number{min}}, {"high", Number{max}}, {"found", Name{text}}}));
    return std::nullopt;
  }
  return value;
}

std::optional<std::string> read_text(const Node& node, Diagnostics& diagnostics) {
  if (node.is_scalar()) return node.text();
  complain(node, diagnostics, say("expected text, found {found}", {{"found", node.description()}}));
  return std::nullopt;
}

namespace {
Message too_many(std::size_t most, const Message& what) {
  return say("out of range: more than {most} {what}", {{"most", Number{most}}, {"what", what}});
}
}  // namespace

std::vector<Node> read_items(const Node& list, const Message& what, std::size_t most,
                             Diagnostics& diagnostics) {
  if (!list.is_list()) return {};
  if (list.size() > most) complain(list.at(most), diagnostics, too_many(most, what));
  std::vector<Node> items;
  for (std::size_t i = 0; i < std::min(most, list.size()); ++i) items.push_back(list.at(i));
  return items;
}

std::vector<Entry> read_entries(const Node& map, const Message& what, std::size_t most,
                                Diagnostics& diagnostics) {
  std::vector<Entry> entries = map.entries();
  if (entries.size() > most) {
    diagnostics.error(map.source(), entries[most].key_mark, too_many(most, what));
    entries.resize(most);
  }
  return entries;
}

std::string read_name(const Node& node, const Message& what, Diagnostics& diagnostics) {
  const std::optional<std::string> text = read_text(node, diagnostics);
  if (!text) return {};
  if (is_plain_name(*text)) return *text;
  complain(
      node, diagnostics,
      say("unexpected name '{name}' for {what}", {{"name", Name{cut(*text, 40)}}, {"what", what}}),
      kNameRule);
  return {};
}

std::optional<bool> read_flag(const Node& node, Diagnostics& diagnostics) {
  if (node.text() == "yes" || node.text() == "true") return true;
  if (node.text() == "no" || node.text() == "false") return false;
  complain(node, diagnostics,
           say("expected yes or no, found {found}", {{"found", node.description()}}));
  return std::nullopt;
}

std::optional<std::size_t> read_word(const Node& node, const Message& what,
                                     const std::vector<std::string_view>& words,
                                     Diagnostics& diagnostics) {
  if (!node.is_scalar()) {
    complain(node, diagnostics,
             say("expected {words}, found {found}",
                 {{"words", one_of(words)}, {"found", node.description()}}));
    return std::nullopt;
  }
  const auto found = std::find(words.begin(), words.end(), node.text());
  if (found != words.end()) return static_cast<std::size_t>(found - words.begin());
  complain(node, diagnostics,
           say("unknown {what} '{word}'", {{"what", what}, {"word", Name{node.text()}}}),
           suggestion_or_all(node.text(), words, phrase("expected {words}")));
  return std::nullopt;
}

Reader::Reader(Node node, Diagnostics& diagnostics, Message what)
    : node_(std::move(node)), diagnostics_(&diagnostics), what_(std::move(what)) {
  if (!node_.exists() || node_.is_map()) return;
  complain(node_, diagnostics,
           say("expected a map for {what}, found {found}",
               {{"what", what_}, {"found", node_.description()}}));
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
    diagnostics_->error(
        node_.source(), node_.mark(),
        say("missing key '{key}' in {what}", {{"key", Name{key}}, {"what", what_}}));
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
  if (value.is_list())
    return read_items(value, say("in '{key}'", {{"key", Name{key}}}), most, diagnostics);
  if (value.is_scalar()) return {value};
  if (value.exists()) {
    complain(value, diagnostics,
             say("expected a list for '{key}', found {found}",
                 {{"key", Name{key}}, {"found", value.description()}}));
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
    error(key, say("expected a list of {n} values, found {found}",
                   {{"n", Number{count}},
                    {"found", value.is_list() ? say("{n} of them", {{"n", Number{value.size()}}})
                                              : value.description()}}));
    return values;
  }
  for (std::size_t i = 0; i < count; ++i) {
    const std::optional<double> read = read_quantity(value.at(i), dimension, *diagnostics_, wanted);
    if (read) values[i] = *read;
  }
  return values;
}

Reader Reader::map(std::string_view key, Message what) {
  return Reader(required(key), *diagnostics_, what.empty() ? Message(Name{key}) : what);
}

std::optional<Reader> Reader::maybe_map(std::string_view key, Message what) {
  const Node value = maybe(key);
  if (!value.exists()) return std::nullopt;
  return std::optional<Reader>(std::in_place, value, *diagnostics_,
                               what.empty() ? Message(Name{key}) : what);
}

void Reader::error(std::string_view key, Message message, Message hint) {
  diagnostics_->error(node_.source(), mark_of(key), std::move(message), std::move(hint));
}

void Reader::finish() {
  if (std::exchange(finished_, true) || !ok()) return;
  std::vector<std::string_view> known(asked_.begin(), asked_.end());
  for (const Entry& entry : node_.entries()) {
    if (std::find(known.begin(), known.end(), entry.key) != known.end()) continue;
    diagnostics_->error(
        node_.source(), entry.key_mark,
        say("unknown key '{key}' in {what}", {{"key", Name{entry.key}}, {"what", what_}}),
        suggestion_or_all(entry.key, known, phrase("known keys: {words}")));
  }
}

}  // namespace legwork
