#pragma once
// Sentences that are put into a language last. Whoever has something to say builds a Message: an
// English template with named blanks, and what fills them. Whoever shows it renders it, in the
// language and the units of the reader.
//
//   Message m = say("{part} pulls in.", {{"part", Name{"CC"}}});
//   Message n = say_many("One repair still fits.", "{n} repairs still fit.", left);
//   Message o = say("The head stood at {head}.", {{"head", amount(head_pa, Dimension::pressure)}});
//   render(m, speech_of("es"));          // "CC se cierra."
//   english(o);                          // "The head stood at 386 psig."
//
// The template is the key of the catalogue too (catalogue.h; assets/languages/es.po), so it must
// be written as a literal inside say(), say_many(), say_in() or phrase(): that is where the tests
// look for all sentences. Tables keep literals as phrase("Look at {target}") and say() them later.
// Words that English spells alike and others do not carry a context: say_in("a switch", "off").
//
// Blanks: {part} is filled by the argument of that name, {Part} by the same with its first letter
// made large; "{{" and "}}" are braces. A blank that nothing fills stays as it is written.
// Whether something happened is never asked of words: that is an enum beside the Message.

#include <concepts>
#include <cstdint>
#include <initializer_list>
#include <iosfwd>
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "engine/base/local_text.h"
#include "engine/base/quantity.h"

namespace legwork {

class Catalogue;
class Diagnostics;
class Message;
struct Argument;
struct List;

// Language and units of whoever reads. Empty: English, trade units.
struct Speech {
  std::shared_ptr<const Catalogue> catalogue;
  bool celsius = false;
  bool bar = false;  // gauge pressure
};

// A part, a terminal, a wire, a file, a command, a key of a file: the same in every language.
struct Name {
  Name() = default;
  explicit Name(std::string name) : text(std::move(name)) {}
  explicit Name(std::string_view name) : text(name) {}
  explicit Name(const char* name) : text(name) {}
  std::string text;
  friend bool operator==(const Name&, const Name&) = default;
};

// A word of one of our tables, known by its English alone: "condenser", "plugged inside". It is
// looked up in the catalogue, where the table's phrase() has put it; any other stays as it is.
struct Term {
  std::string text;
  friend bool operator==(const Term&, const Term&) = default;
};

// No more decimals than the value needs, as one would write it in a file.
inline constexpr int kShortest = -2;

// A quantity with its unit: "386 psig", "26.6 bar". In bar one decimal more is shown than asked.
struct Amount {
  double si = 0;
  Dimension dimension = Dimension::number;
  int decimals = -1;  // in trade units; -1: the usual number for the unit; kShortest
  bool bare = false;  // without its unit: "{low}–{high}"
  friend bool operator==(const Amount&, const Amount&) = default;
};

struct Number {
  constexpr Number() = default;
  constexpr explicit Number(double number, int shown_decimals = 0)
      : value(number), decimals(shown_decimals) {}
  template <std::integral I>
  constexpr explicit Number(I whole) : value(static_cast<double>(whole)) {}
  double value = 0;
  int decimals = 0;
  friend bool operator==(const Number&, const Number&) = default;
};

// Time of day: "05:19".
struct Clock {
  int minute = 0;  // of the day
  friend bool operator==(const Clock&, const Clock&) = default;
};

// What was found wrong with files (diagnostics.h), with their places and hints.
struct Findings {
  std::shared_ptr<const Diagnostics> list;
  friend bool operator==(const Findings&, const Findings&) = default;
};

// A literal, proven to be one by the compiler.
struct Literal {
  consteval Literal(const char* literal) : text(literal) {}
  std::string_view text;
};

// A literal of the catalogue, for tables.
struct Phrase {
  std::string_view text;
  std::string_view context;  // "" = none
  constexpr bool empty() const { return text.empty(); }
};
constexpr Phrase phrase(Literal text) { return {text.text, {}}; }
constexpr Phrase phrase_in(Literal context, Literal text) { return {text.text, context.text}; }

class Message {
 public:
  Message();
  Message(const Phrase& word);
  // Copied, moved and destroyed where Argument is whole (below).
  Message(const Message&);
  Message(Message&&) noexcept;
  Message& operator=(const Message&);
  Message& operator=(Message&&) noexcept;
  ~Message();
  Message(LocalText authors_own);
  Message(Name name);
  Message(Term term);
  Message(const Amount& amount);
  Message(const Number& number);
  Message(List list);
  Message(Findings findings);
  explicit operator std::string() const;

  bool empty() const;
  // The template ("" if the Message is only its one argument) and what fills its blanks.
  std::string_view what() const { return what_; }
  const std::vector<Argument>& arguments() const { return arguments_; }

  // By content. Order is that of the English.
  friend bool operator==(const Message& a, const Message& b);
  friend bool operator<(const Message& a, const Message& b);

 private:
  friend Message say(const Phrase&, std::initializer_list<Argument>);
  friend Message say_many(Literal, Literal, std::int64_t, std::initializer_list<Argument>);
  friend std::string render(const Message&, const Speech&);

  std::string_view what_, context_, many_;
  std::int64_t count_ = 0;
  std::vector<Argument> arguments_;
};

// "FU1, FU2", "FU1, FU2 and FU3", "FU1 or FU2", "FU1; FU2", "FU1 FU2".
enum class Joined { by_commas, by_and, by_or, by_semicolons, by_spaces };
struct List {
  std::vector<Message> items;
  Joined joined = Joined::by_commas;
  friend bool operator==(const List&, const List&) = default;
};

struct Argument {
  std::string_view name;  // a literal
  std::variant<Message, Name, Term, LocalText, Amount, Number, Clock, List, Findings> value;
  friend bool operator==(const Argument&, const Argument&) = default;
};

inline Message::Message() = default;
inline Message::Message(const Phrase& word) : what_(word.text), context_(word.context) {}
inline Message::Message(const Message&) = default;
inline Message::Message(Message&&) noexcept = default;
inline Message& Message::operator=(const Message&) = default;
inline Message& Message::operator=(Message&&) noexcept = default;
inline Message::~Message() = default;
inline bool Message::empty() const { return what_.empty() && arguments_.empty(); }

Message say(const Phrase& what, std::initializer_list<Argument> arguments = {});
inline Message say(Literal what, std::initializer_list<Argument> arguments = {}) {
  return say(Phrase{what.text, {}}, arguments);
}
inline Message say_in(Literal context, Literal what,
                      std::initializer_list<Argument> arguments = {}) {
  return say(Phrase{what.text, context.text}, arguments);
}
// `one` where `n` is 1, `many` otherwise; other languages have forms of their own. {n} is `n`.
Message say_many(Literal one, Literal many, std::int64_t n,
                 std::initializer_list<Argument> arguments = {});

// The units in which a reader is shown a quantity.
UnitSystem unit_system(Dimension dimension, const Speech& speech);
inline Amount amount(double si, Dimension dimension, int decimals = -1) {
  return {si, dimension, decimals, false};
}
// Words that come from outside and that no catalogue knows: what the system or a library says.
Message verbatim(std::string words);
Message listed(const std::vector<std::string>& names, Joined joined = Joined::by_commas);

std::string render(const Message& message, const Speech& speech);
std::string english(const Message& message);
std::ostream& operator<<(std::ostream& out, const Message& message);  // in English
// Control characters of a text from outside shown as U+FFFD; line ends and tabs stay.
std::string without_controls(std::string_view text);

// With the catalogue of a language; English if there is none.
Speech speech_of(std::string_view language, bool celsius = false, bool bar = false);

}  // namespace legwork
