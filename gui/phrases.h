#pragma once
// The engine's sentences in the window's other language. The engine writes English only: its shift
// log is sealed and played again word for word. So what it wrote is put into Spanish here, last,
// where it is drawn.
//
//   PhraseBook book = PhraseBook::read(home + "/assets/phrases.yaml", found);
//   book.add(ticket_text);                            // what units and tickets say in Spanish
//   book.in("CC pulls in.", "es");                    // "CC se cierra."
//   book.in("Look at: condenser with lamp", "es");    // "Mirar: condensador con lámpara"
//
// The file is sections, each a list of sentences; the sections are for the reader, save one:
//
//   happenings:
//     - {en: "{0} pulls in", es: "{0} se cierra"}
//     - {en: "unknown step '{=0}'", es: "paso desconocido '{=0}'"}
//     - {en: "{#0} points", es: "{#0} puntos"}
//   inside:
//     - {en: "no", es: "ninguna"}
//
// A blank {0} takes any words, which are looked up themselves; {#0} takes a number only, in digits
// or as a word; what {=0} takes stays as it was written, and so do words in quotes “ ” that are not
// known as a whole. Blanks may come in another order, and more than once. What stands under
// `inside` is looked up within a sentence only: it would be mistaken for a Spanish word if it stood
// alone.
//
// How a text is looked up: line by line, and in a line column by column (two spaces or more); as a
// whole first, then by sentences and what semicolons and dots part, then by the patterns, those
// with most words of their own first. Of all ways to read it the one that leaves fewest letters in
// English is taken, unless more than three quarters of them are left: then nothing is changed.
// Names of parts, terminals and numbers with their units stay. A sentence that
// begins with a capital may be one that is written without.

#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "engine/base/diagnostics.h"
#include "engine/base/local_text.h"

namespace legwork::gui {

class PhraseBook {
 public:
  // All mistakes at once in `found`: a missing language, blanks that differ or touch, two entries
  // that are the same. What could be read is there.
  static PhraseBook read(const std::string& path, Diagnostics& found);
  static PhraseBook parse(std::string file, std::string_view text, Diagnostics& found);

  // A text that carries its own languages. The file's own sentences go before it.
  void add(const LocalText& text);
  // What another book has learned so.
  void add(const PhraseBook& other);

  // `english` in `language`, as far as the book goes; as it is in any language but Spanish.
  std::string in(std::string_view english, std::string_view language) const;
  // The pieces of it that have no Spanish here. Empty: all of it has.
  std::vector<std::string> left(std::string_view english) const;

 private:
  struct Blank {
    char number = '0';
    char kind = ' ';  // '=' stays as written, '#' a number
  };
  struct Template {
    std::vector<std::string> words;  // before, between and after the blanks: one more than those
    std::vector<Blank> blanks;
  };
  struct Pattern {
    Template english, spanish;
    std::size_t own = 0;  // bytes of the English that are no blanks
  };
  struct Exact {
    std::string spanish;
    bool inside = false;
  };
  struct Said {
    std::string text;
    std::size_t unknown = 0;  // letters left in English
    bool raised = false;      // its first letter was made a capital
    std::vector<std::string> left;
  };
  // One look-up: what it may still cost, and whether it was cut short.
  struct Search {
    int tries = 0;
    bool cut = false;
  };
  class Reading;  // one pattern held against one text

  static Template template_of(std::string_view text, std::string& wrong);
  Said line(std::string_view english) const;
  bool is_number(const std::string& text) const;
  void try_parted(const std::string& text, std::size_t at, int depth, Search& search,
                  Said& best) const;
  Said look_up(const std::string& text, int depth, Search& search) const;

  std::unordered_map<std::string, Exact> exact_;
  std::vector<Pattern> patterns_;  // most words of their own first
  // The same few hundred texts are asked for every frame. Not for two threads at once.
  mutable std::unordered_map<std::string, Said> pieces_;
  mutable std::unordered_map<std::string, std::string> said_;
};

}  // namespace legwork::gui
