// Reading a map of a document: typed, located, and nothing ignored.
//
//   Reader device(node, diagnostics, say("device '{device}'", {{"device", Name{name}}}));
//   double opens_pa = device.quantity("opens", Dimension::pressure);
//   double closes_pa = device.quantity("closes", Dimension::pressure, {.fallback = 2.3e6});
//   Reset reset = device.choice<Reset>("reset", {{"automatic", Reset::automatic},
//                                                {"manual", Reset::manual}}, Reset::automatic);
//   device.finish();                        // every key that was not asked for is an error
//   if (diagnostics.has_errors()) ...       // all of them, not just the first
//
// Every getter reports what is wrong and returns something harmless (the fallback, the lower end of
// the range, 0, ""), so that a loader reads on and finds the rest. A key is required unless a
// fallback is given or the getter says maybe. Values in SI; ranges in SI, both ends included.
#pragma once

#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "engine/base/diagnostics.h"
#include "engine/base/parse_quantity.h"
#include "engine/config/document.h"

namespace legwork {

struct Wanted {
  std::optional<double> fallback = std::nullopt;  // none: the key is required
  double min = -std::numeric_limits<double>::infinity();
  double max = std::numeric_limits<double>::infinity();
};

template <class E>
using Choices = std::vector<std::pair<std::string_view, E>>;

// Single values, for lists and for maps whose keys are names. Nothing: it was reported.
std::optional<double> read_quantity(const Node& node, Dimension dimension, Diagnostics& diagnostics,
                                    const Wanted& wanted = {});
std::optional<int> read_integer(const Node& node, Diagnostics& diagnostics, int min, int max);
std::optional<std::string> read_text(const Node& node, Diagnostics& diagnostics);
std::optional<bool> read_flag(const Node& node, Diagnostics& diagnostics);
// What a list or map holds, up to so many; that there are more is reported at the first of those.
// `what` names them in the message: phrase("devices").
inline constexpr std::size_t kUsualMost = 100;
std::vector<Node> read_items(const Node& list, const Message& what, std::size_t most,
                             Diagnostics& diagnostics);
std::vector<Entry> read_entries(const Node& map, const Message& what, std::size_t most,
                                Diagnostics& diagnostics);
// A text that becomes the name of a file: is_plain_name() of base/plain_text.h, or reported.
std::string read_name(const Node& node, const Message& what, Diagnostics& diagnostics);
// Position of the node's word among `words`; "unknown WHAT 'x'" otherwise, with did-you-mean. WHAT
// is the key as it is written, Name{"sense"}, or a phrase.
std::optional<std::size_t> read_word(const Node& node, const Message& what,
                                     const std::vector<std::string_view>& words,
                                     Diagnostics& diagnostics);

class Reader {
 public:
  // `what` names the map in messages: "device 'HPC'", phrase("the unit"). A node that is no map is
  // reported here, and then nothing is found in it and nothing is missed.
  Reader(Node node, Diagnostics& diagnostics, Message what);
  Reader(Reader&& other) noexcept;
  Reader(const Reader&) = delete;
  Reader& operator=(const Reader&) = delete;
  Reader& operator=(Reader&&) = delete;
  ~Reader();  // finishes

  bool ok() const { return node_.is_map(); }
  const Node& node() const { return node_; }
  Mark mark() const { return node_.mark(); }
  // Place of a key's value, or of the map if there is no such key.
  Mark mark_of(std::string_view key) const;
  Mark key_mark(std::string_view key) const { return node_.key_mark(key); }
  const Message& what() const { return what_; }

  // Asks without wanting: counts as known.
  bool has(std::string_view key);
  Node maybe(std::string_view key);
  Node required(std::string_view key);

  double quantity(std::string_view key, Dimension dimension, const Wanted& wanted = {});
  std::optional<double> maybe_quantity(std::string_view key, Dimension dimension,
                                       const Wanted& wanted = {});
  template <class Q>
  Q get(std::string_view key, const Wanted& wanted = {}) {
    return Q(quantity(key, Q::dimension, wanted));
  }
  double number(std::string_view key, const Wanted& wanted = {}) {
    return quantity(key, Dimension::number, wanted);
  }
  int integer(std::string_view key, int min, int max, std::optional<int> fallback = {});
  std::string text(std::string_view key, std::optional<std::string> fallback = {});
  std::string name(std::string_view key);
  bool flag(std::string_view key, std::optional<bool> fallback = {});
  // A list of words, a single word standing for a list of one. More than so many are reported, and
  // left out.
  std::vector<Node> list(std::string_view key, std::size_t most = kUsualMost);
  std::vector<Node> maybe_list(std::string_view key, std::size_t most = kUsualMost);
  // A list of so many quantities.
  std::vector<double> quantities(std::string_view key, Dimension dimension, std::size_t count,
                                 const Wanted& wanted = {});

  template <class E>
  E choice(std::string_view key, const Choices<E>& choices, std::optional<E> fallback = {}) {
    const Node value = fallback ? maybe(key) : required(key);
    const E harmless = fallback ? *fallback : choices.front().second;
    if (!value.exists()) return harmless;
    std::vector<std::string_view> words;
    for (const auto& [word, meaning] : choices) words.push_back(word);
    const std::optional<std::size_t> at = read_word(value, Name{key}, words, *diagnostics_);
    return at ? choices[*at].second : harmless;
  }

  // Without a name the map is called by its key.
  Reader map(std::string_view key, Message what = {});
  std::optional<Reader> maybe_map(std::string_view key, Message what = {});

  // Reports at the value of a key (at the map, if the key is not there).
  void error(std::string_view key, Message message, Message hint = {});

  // Reports every key not asked for; once. Not called, if the caller takes all keys as names.
  void finish();
  void take_all_keys() { finished_ = true; }

 private:
  Node node_;
  Diagnostics* diagnostics_;
  Message what_;
  std::vector<std::string> asked_;
  bool finished_ = false;
};

}  // namespace legwork
