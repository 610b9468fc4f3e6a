#include "engine/config/document.h"

#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/parser.h>

#include <array>
#include <map>
#include <sstream>

#include "engine/base/plain_text.h"
#include "engine/base/text_file.h"

namespace legwork {

struct Node::Item {
  struct Child {
    std::string key;  // of a map
    Mark key_mark;
    int item = -1;
  };
  Kind kind = Kind::none;
  Mark mark;
  std::string text;
  bool quoted = false;
  std::vector<Child> children;
};

struct Node::Data {
  Source source;
  std::vector<Item> items;
};

namespace {
constexpr Phrase kNoAliases = phrase("aliases (*name) are not taken: write it out");

// Thrown through the parser to stop it; never leaves parse_document.
struct Stop {
  Mark mark;
  Message message;
  Message hint;
};
}  // namespace

// Builds the tree from the parser's events. Events, and not the library's own tree, because the
// limits must hold before memory is spent, and because keys, their places and duplicates are lost
// in that tree.
class DocumentBuilder : public YAML::EventHandler {
 public:
  DocumentBuilder(Source source, Diagnostics& diagnostics)
      : data_(std::make_shared<Node::Data>()), diagnostics_(diagnostics) {
    data_->source = std::move(source);
  }

  Node root() const { return root_ < 0 ? Node() : Node(data_, root_); }
  bool empty() const { return root_ < 0; }
  Mark root_mark() const { return data_->items[static_cast<std::size_t>(root_)].mark; }

  void OnDocumentStart(const YAML::Mark& mark) override {
    if (root_ >= 0) throw Stop{place(mark), say("unexpected second document in one file"), {}};
  }
  void OnDocumentEnd() override {}

  void OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) override {
    add(Node::Kind::null, mark, "", anchor, "");
  }
  void OnAlias(const YAML::Mark& mark, YAML::anchor_t) override {
    throw Stop{place(mark), phrase("unexpected alias"), kNoAliases};
  }
  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                const std::string& value) override {
    if (tag == "!" && !is_closed(mark)) throw Stop{place(mark), say("missing closing quote"), {}};
    const bool null = tag == "?" && (value == "~" || value == "null" || value.empty());
    add(null ? Node::Kind::null : Node::Kind::scalar, mark, tag, anchor, value);
  }
  void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                       YAML::EmitterStyle::value) override {
    open(add(Node::Kind::list, mark, tag, anchor, ""), mark);
  }
  void OnSequenceEnd() override { open_.pop_back(); }
  void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                  YAML::EmitterStyle::value) override {
    open(add(Node::Kind::map, mark, tag, anchor, ""), mark);
  }
  void OnMapEnd() override {
    report_duplicates(item(open_.back().item));
    open_.pop_back();
  }

  // Line in which a list or map was opened that does not end; 0: none is open.
  int opened_in() const {
    return open_.empty() ? 0 : data_->items[static_cast<std::size_t>(open_.back().item)].mark.line;
  }

  Mark place(const YAML::Mark& mark) const {
    if (mark.is_null()) return {};
    return data_->source.mark_of(mark.line, mark.column);
  }

 private:
  struct Level {
    int item;
    bool has_key = false;
    std::string key;
    Mark key_mark;
  };

  Node::Item& item(int index) { return data_->items[static_cast<std::size_t>(index)]; }

  // The parser takes the end of the file for a closing quote.
  bool is_closed(const YAML::Mark& mark) const {
    const std::string_view text = data_->source.text();
    std::size_t at = mark.pos < 0 ? text.size() : static_cast<std::size_t>(mark.pos);
    if (at >= text.size() || (text[at] != '"' && text[at] != '\'')) return true;  // | or >
    const char quote = text[at];
    for (++at; at < text.size(); ++at) {
      if (quote == '"' && text[at] == '\\') {
        ++at;
      } else if (text[at] == quote) {
        if (quote == '"' || at + 1 >= text.size() || text[at + 1] != quote) return true;
        ++at;
      }
    }
    return false;
  }

  void open(int index, const YAML::Mark& mark) {
    if (static_cast<int>(open_.size()) >= kDocumentDepth) {
      throw Stop{place(mark),
                 say("out of range: deeper than {n} levels", {{"n", Number{kDocumentDepth}}}),
                 {}};
    }
    open_.push_back({index, false, {}, {}});
  }

  int add(Node::Kind kind, const YAML::Mark& yaml_mark, const std::string& tag,
          YAML::anchor_t anchor, const std::string& text) {
    const Mark mark = place(yaml_mark);
    if (anchor != 0) {
      throw Stop{mark, say("unexpected anchor"), say("anchors (&name) are not taken")};
    }
    if (!tag.empty() && tag != "?" && tag != "!") {
      throw Stop{mark, say("unexpected tag '{tag}'", {{"tag", Name{tag}}}),
                 say("tags (!name) are not taken")};
    }
    const bool key =
        !open_.empty() && item(open_.back().item).kind == Node::Kind::map && !open_.back().has_key;
    check_scalar(key, mark, text);
    if (key) return take_key(kind, mark, text);
    if (data_->items.size() >= static_cast<std::size_t>(kDocumentValues)) {
      throw Stop{
          mark, say("out of range: more than {n} values", {{"n", Number{kDocumentValues}}}), {}};
    }
    const int index = static_cast<int>(data_->items.size());
    data_->items.push_back({kind, mark, text, tag == "!", {}});
    if (open_.empty()) {
      root_ = index;
    } else {
      Level& level = open_.back();
      item(level.item).children.push_back({std::move(level.key), level.key_mark, index});
      level.has_key = false;
      level.key.clear();
    }
    return index;
  }

  // What is unescaped here was not seen when the file was read.
  void check_scalar(bool key, Mark mark, const std::string& text) {
    if (first_invalid_utf8(text) != std::string::npos) {
      diagnostics_.error(data_->source, mark, say("unexpected escape: it stands for no character"));
      return;
    }
    const std::size_t control = first_control(text);
    if (control != std::string::npos) {
      diagnostics_.error(data_->source, mark, unexpected_control(text, control));
    }
    const std::size_t most = key ? kDocumentKey : kDocumentText;
    if (text.size() > most && character_count(text) > most) {
      diagnostics_.error(data_->source, mark,
                         say(key ? phrase("out of range: a key of more than {n} characters")
                                 : phrase("out of range: a text of more than {n} characters"),
                             {{"n", Number{most}}}));
    }
  }

  int take_key(Node::Kind kind, Mark mark, const std::string& text) {
    if (kind != Node::Kind::scalar) {
      const Phrase what = kind == Node::Kind::map    ? phrase("a map")
                          : kind == Node::Kind::list ? phrase("a list")
                                                     : phrase("nothing");
      throw Stop{mark, say("expected a word as key, found {found}", {{"found", what}}),
                 kind == Node::Kind::null ? Message() : phrase("is a closing bracket missing?")};
    }
    Level& level = open_.back();
    level.has_key = true;
    level.key = text;
    level.key_mark = mark;
    return -1;
  }

  void report_duplicates(const Node::Item& map) {
    std::map<std::string_view, Mark> seen;
    for (const Node::Item::Child& child : map.children) {
      const auto [first, is_new] = seen.emplace(child.key, child.key_mark);
      if (is_new) continue;
      diagnostics_.error(
          data_->source, child.key_mark, say("duplicate key '{key}'", {{"key", Name{child.key}}}),
          say("first written in line {line}", {{"line", Number{first->second.line}}}));
    }
  }

  std::shared_ptr<Node::Data> data_;
  Diagnostics& diagnostics_;
  std::vector<Level> open_;
  int root_ = -1;
};

namespace {

// The parser's complaints in our words. What is not listed is passed on as it is.
struct Complaint {
  std::string_view theirs;
  Phrase ours;
  Phrase hint;
  bool says_where_opened = false;
};
constexpr std::array kComplaints = {
    Complaint{"end of sequence not found", phrase("missing end of the list"),
              phrase("items of a list stand in one column, each after '- '")},
    Complaint{"end of sequence flow not found", phrase("missing ']' of the list"), {}, true},
    Complaint{"end of map not found", phrase("missing end of the map"),
              phrase("keys of one map stand in one column, each as 'key: value'")},
    Complaint{"end of map flow not found", phrase("missing '}' of the map"),
              phrase("between two keys stands a comma"), true},
    Complaint{"illegal map value", phrase("unexpected ':' in a value"),
              phrase("put text that has ': ' in it between double quotes")},
    Complaint{"illegal map key", phrase("unexpected key here"),
              phrase("is the indentation right?")},
    Complaint{"illegal block entry", phrase("unexpected '-' here"),
              phrase("is the indentation right?")},
    Complaint{"illegal flow end", phrase("unexpected closing bracket"), {}},
    Complaint{"illegal EOF in scalar", phrase("missing closing quote"), {}},
    Complaint{"unknown token", phrase("unexpected character"),
              phrase("put the text between double quotes")},
    Complaint{"the referenced anchor is not defined", phrase("unexpected alias"), kNoAliases},
};

Message unexpected_yaml(std::string_view theirs) {
  return say("unexpected YAML: {words}", {{"words", Name{theirs}}});
}

// Tabs look like indentation and are none.
bool begins_with_tab(std::string_view line) {
  return line.substr(0, line.find_first_not_of(" \t")).find('\t') != std::string_view::npos;
}

// A key whose colon is missing runs into the next line, where the library stumbles: the line
// before, indented alike, without a colon and no item of a list. Line 0: it is not that.
int line_without_colon(const Source& source, int line) {
  const auto indent = [](std::string_view text) { return text.find_first_not_of(' '); };
  const std::size_t here = indent(source.line(line));
  for (int before = line - 1; before > 0; --before) {
    const std::string_view text = source.line(before);
    const std::size_t at = indent(text);
    if (at == text.npos || text[at] == '#') continue;
    const bool key = at == here && text[at] != '-' && text[at] != '"' && text[at] != '\'';
    return key && text.find(':') == text.npos ? before : 0;
  }
  return 0;
}

Stop in_our_words(const YAML::Exception& error, const DocumentBuilder& builder,
                  const Source& source) {
  const std::string_view theirs = error.msg;
  const Mark mark = builder.place(error.mark);
  if (mark.known() && begins_with_tab(source.line(mark.line))) {
    return {mark, say("unexpected tab at the beginning of the line"), say("indent with spaces")};
  }
  if (theirs.starts_with("illegal map value") && mark.known()) {
    if (const int line = line_without_colon(source, mark.line); line > 0) {
      const std::string_view text = source.line(line);
      const std::size_t from = text.find_first_not_of(' ');
      const std::string_view key = text.substr(from, text.find_first_of(" =", from) - from);
      return {{line, static_cast<int>(from + 1)},
              say("missing ':' after '{key}'", {{"key", Name{key}}}),
              say("write '{key}: …'", {{"key", Name{key}}})};
    }
  }
  for (const Complaint& row : kComplaints) {
    if (theirs.starts_with(row.theirs)) {
      const int line = row.says_where_opened ? builder.opened_in() : 0;
      const Message what = line == 0 ? Message(row.ours)
                                     : say("{complaint} opened in line {line}",
                                           {{"complaint", row.ours}, {"line", Number{line}}});
      return {mark, what, row.hint};
    }
  }
  return {mark, unexpected_yaml(theirs), {}};
}

}  // namespace

Document parse_document(std::string file, std::string_view text, Diagnostics& diagnostics) {
  Document document;
  Result<std::string> checked = check_text(std::string(text));
  if (!checked) {
    diagnostics.file_error(std::move(file), checked.failure());
    return document;
  }
  document.source_ = Source(std::move(file), std::move(*checked));
  DocumentBuilder builder(document.source_, diagnostics);
  try {
    std::istringstream stream(document.source_.text());
    YAML::Parser parser(stream);
    while (parser.HandleNextDocument(builder)) {
    }
    if (builder.empty()) {
      diagnostics.file_error(document.source_.file(), say("missing content: the file is empty"));
    }
    document.root_ = builder.root();
  } catch (const Stop& stop) {
    diagnostics.error(document.source_, stop.mark, stop.message, stop.hint);
  } catch (const YAML::Exception& error) {
    const Stop stop = in_our_words(error, builder, document.source_);
    diagnostics.error(document.source_, stop.mark, stop.message, stop.hint);
  } catch (const std::exception& error) {  // what the library lets through from the std one
    diagnostics.file_error(document.source_.file(), unexpected_yaml(error.what()));
  }
  return document;
}

Document read_document(const std::string& path, Diagnostics& diagnostics) {
  const Result<std::string> text = read_text_file(path);
  if (text) return parse_document(path, *text, diagnostics);
  diagnostics.file_error(path, text.failure());
  return {};
}

const Node::Item* Node::get() const {
  return data_ == nullptr || item_ < 0 ? nullptr : &data_->items[static_cast<std::size_t>(item_)];
}

Node::Kind Node::kind() const {
  const Item* item = get();
  return item == nullptr ? Kind::none : item->kind;
}

Mark Node::mark() const {
  const Item* item = get();
  return item == nullptr ? Mark{} : item->mark;
}

const Source& Node::source() const {
  static const Source kNone;
  return data_ == nullptr ? kNone : data_->source;
}

const std::string& Node::text() const {
  static const std::string kNone;
  const Item* item = get();
  return item == nullptr ? kNone : item->text;
}

bool Node::quoted() const {
  const Item* item = get();
  return item != nullptr && item->quoted;
}

std::size_t Node::size() const {
  const Item* item = get();
  return item == nullptr ? 0 : item->children.size();
}

Node Node::at(std::size_t index) const {
  return index < size() ? Node(data_, get()->children[index].item) : Node();
}

std::vector<Node> Node::items() const {
  std::vector<Node> nodes;
  for (std::size_t i = 0; i < size(); ++i) nodes.push_back(at(i));
  return nodes;
}

std::vector<Entry> Node::entries() const {
  std::vector<Entry> entries;
  if (!is_map()) return entries;
  for (const Item::Child& child : get()->children) {
    entries.push_back({child.key, child.key_mark, Node(data_, child.item)});
  }
  return entries;
}

Node Node::find(std::string_view key) const {
  if (!is_map()) return {};
  for (const Item::Child& child : get()->children) {
    if (child.key == key) return Node(data_, child.item);
  }
  return {};
}

Mark Node::key_mark(std::string_view key) const {
  if (!is_map()) return {};
  for (const Item::Child& child : get()->children) {
    if (child.key == key) return child.key_mark;
  }
  return {};
}

Message Node::description() const {
  switch (kind()) {
    case Kind::scalar:
      return say("'{text}'", {{"text", Name{cut(text(), 60)}}});
    case Kind::list:
      return say("a list");
    case Kind::map:
      return say("a map");
    default:
      return say("nothing");
  }
}

}  // namespace legwork
