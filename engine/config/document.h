// A YAML file as a tree of located values; nothing of the YAML library shows.
//
//   Diagnostics diagnostics;
//   Document document = read_document("circuits/wf-208.yaml", diagnostics);
//   if (!document.ok()) ...                              // diagnostics say why and where
//   for (const Entry& device : document.root().find("devices").entries()) {
//     device.key; device.key_mark; device.value.mark();  // in the order of the file
//   }
//
// Most callers want a Reader (reader.h), which checks types, units, ranges and unknown keys.
//
// What a file may be: one document, at most 1 MiB, 32 levels deep, 20,000 values; a text of at most
// 4,000 characters, a key of 100, and none with control characters, escaped or not (plain_text.h);
// no anchors, no aliases, no tags; keys are text, and no map has one key twice. Everything else is
// an error with its place. Any bytes whatever give diagnostics or a document, never a crash.
#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/diagnostics.h"

namespace legwork {

inline constexpr int kDocumentDepth = 32;
inline constexpr int kDocumentValues = 20000;
inline constexpr std::size_t kDocumentText = 4000;  // characters
inline constexpr std::size_t kDocumentKey = 100;

struct Entry;

// A handle to one value; cheap to copy, and keeps its document alive.
class Node {
 public:
  // none: there is no such value (a key that is not there). null: written as empty, "~" or "null".
  enum class Kind { none, null, scalar, list, map };

  Node() = default;

  Kind kind() const;
  bool exists() const { return kind() != Kind::none; }
  bool is_scalar() const { return kind() == Kind::scalar; }
  bool is_list() const { return kind() == Kind::list; }
  bool is_map() const { return kind() == Kind::map; }

  // Where the value begins.
  Mark mark() const;
  const Source& source() const;

  // Scalars: the text with quotes and escapes undone. Empty for every other kind.
  const std::string& text() const;
  bool quoted() const;

  // Lists and maps: how many; list items by position.
  std::size_t size() const;
  Node at(std::size_t index) const;
  std::vector<Node> items() const;        // of a list
  std::vector<Entry> entries() const;     // of a map, in the order of the file
  Node find(std::string_view key) const;  // of a map; none if it is not there
  Mark key_mark(std::string_view key) const;

  // "'425'", "a list", "a map", "nothing": for "expected ..., found ...".
  Message description() const;

 private:
  friend class Document;
  friend class DocumentBuilder;
  struct Item;
  struct Data;
  Node(std::shared_ptr<const Data> data, int item) : data_(std::move(data)), item_(item) {}
  const Item* get() const;

  std::shared_ptr<const Data> data_;
  int item_ = -1;
};

struct Entry {
  std::string key;
  Mark key_mark;
  Node value;
};

class Document {
 public:
  // False if the text was no acceptable YAML; then root() is none. Duplicate keys are reported, but
  // leave a document (with the first of them), so that the rest can be checked in the same go.
  bool ok() const { return root_.exists(); }
  Node root() const { return root_; }
  const Source& source() const { return source_; }

 private:
  friend Document parse_document(std::string file, std::string_view text, Diagnostics& diagnostics);
  Node root_;
  Source source_;
};

// `file` is the name that diagnostics show.
Document parse_document(std::string file, std::string_view text, Diagnostics& diagnostics);
Document read_document(const std::string& path, Diagnostics& diagnostics);

}  // namespace legwork
