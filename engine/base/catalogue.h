#pragma once
// A language: one gettext catalogue, assets/languages/TAG.po, made into TAG.mo by the build. Adding
// a language is adding that file.
//
//   auto spanish = Catalogue::of("es");            // nullptr if there is no such file
//   spanish->find("", "{part} pulls in.");         // "{part} se cierra."; "" if not there
//
// Besides the usual header fields a catalogue may have two of ours:
//   X-Native-Name: Español                         how the language calls itself
//   X-Contractions: de el=del, a el=al             where a blank begins with the second word

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace legwork {

class Catalogue {
 public:
  // Read once, kept. `language`: "es", "es_MX.UTF-8" (the part before "_" or "." counts).
  static std::shared_ptr<const Catalogue> of(std::string_view language);
  // From the bytes of a .mo file; nullptr if they are none.
  static std::shared_ptr<const Catalogue> parse(std::string_view tag, std::string_view bytes);
  ~Catalogue();

  const std::string& tag() const { return tag_; }
  const std::string& native_name() const { return native_name_; }

  std::string_view find(std::string_view context, std::string_view what) const;
  std::string_view find(std::string_view context, std::string_view what, std::int64_t n) const;

  struct Contraction {
    std::string before, after, joined;  // "de ", "el ", "del "
  };
  const std::vector<Contraction>& contractions() const { return contractions_; }

 private:
  struct Messages;
  Catalogue();
  std::string tag_, native_name_;
  std::vector<Contraction> contractions_;
  std::unique_ptr<Messages> messages_;
};

// Every language there is a catalogue for, and English: {"en", "English"} first, then by tag.
struct Language {
  std::string tag, native_name;
};
const std::vector<Language>& languages();

}  // namespace legwork
