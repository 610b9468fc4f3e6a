#include "engine/base/catalogue.h"

#include <algorithm>
#include <boost/locale/gnu_gettext.hpp>
#include <boost/locale/message.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <mutex>
#include <stdexcept>

#include "engine/base/home.h"
#include "engine/base/split.h"

namespace legwork {
namespace {

constexpr std::uintmax_t kLargest = 16u << 20;  // bytes; no catalogue comes near it
constexpr const char* kDomain = "legwork";

// "Name: value" of the catalogue's header, a field a line.
std::string field(std::string_view header, std::string_view name) {
  for (std::size_t from = 0; from < header.size();) {
    const std::size_t end = std::min(header.find('\n', from), header.size());
    const std::string_view line = header.substr(from, end - from);
    if (line.starts_with(name) && line.substr(name.size()).starts_with(":"))
      return std::string(trimmed(line.substr(name.size() + 1)));
    from = end + 1;
  }
  return {};
}

}  // namespace

struct Catalogue::Messages {
  std::locale locale;  // owns the facet
  const boost::locale::message_format<char>* format = nullptr;
};

Catalogue::Catalogue() : messages_(std::make_unique<Messages>()) {}
Catalogue::~Catalogue() = default;

std::shared_ptr<const Catalogue> Catalogue::parse(std::string_view tag, std::string_view bytes) {
  namespace gettext = boost::locale::gnu_gettext;
  gettext::messages_info info;
  info.language = std::string(tag);
  info.encoding = "UTF-8";
  info.domains.emplace_back(kDomain);
  info.paths.emplace_back("/");  // for the form: the callback has the bytes already
  info.callback = [bytes](const std::string&, const std::string&) {
    return std::vector<char>(bytes.begin(), bytes.end());
  };
  std::shared_ptr<Catalogue> out(new Catalogue());
  try {
    boost::locale::message_format<char>* format = gettext::create_messages_facet<char>(info);
    if (format == nullptr) return nullptr;
    out->messages_->locale = std::locale(std::locale::classic(), format);
    out->messages_->format = format;
  } catch (const std::exception&) {
    return nullptr;
  }
  out->tag_ = std::string(tag);
  const std::string header(out->find({}, {}));
  if (header.empty()) return nullptr;
  out->native_name_ = field(header, "X-Native-Name");
  if (out->native_name_.empty()) out->native_name_ = out->tag_;
  const std::string rows = field(header, "X-Contractions");
  for (std::size_t from = 0; from < rows.size();) {
    const std::size_t end = std::min(rows.find(',', from), rows.size());
    const std::string row(trimmed(std::string_view(rows).substr(from, end - from)));
    const std::size_t gap = row.find(' '), equals = row.find('=');
    if (gap != row.npos && equals != row.npos && gap < equals) {
      out->contractions_.push_back({row.substr(0, gap) + " ",
                                    row.substr(gap + 1, equals - gap - 1) + " ",
                                    row.substr(equals + 1) + " "});
    }
    from = end + 1;
  }
  return out;
}

std::shared_ptr<const Catalogue> Catalogue::of(std::string_view language) {
  static std::mutex mutex;
  static std::map<std::string, std::shared_ptr<const Catalogue>, std::less<>> kept;
  const std::string tag(language.substr(0, language.find_first_of("_.@-")));
  if (tag.empty() || tag.size() > 8 ||
      !std::all_of(tag.begin(), tag.end(), [](char c) { return c >= 'a' && c <= 'z'; }))
    return nullptr;
  const std::lock_guard<std::mutex> lock(mutex);
  if (const auto found = kept.find(tag); found != kept.end()) return found->second;
  std::shared_ptr<const Catalogue> read;
  for (const std::string& folder : language_folders()) {
    const std::string path = folder + "/" + tag + ".mo";
    std::error_code error;
    if (!std::filesystem::is_regular_file(path, error) ||
        std::filesystem::file_size(path, error) > kLargest)
      continue;
    std::ifstream file(path, std::ios::binary);
    read = parse(tag, std::string(std::istreambuf_iterator<char>(file), {}));
    if (read != nullptr) break;
  }
  return kept.emplace(tag, std::move(read)).first->second;
}

std::string_view Catalogue::find(std::string_view context, std::string_view what) const {
  const std::string c(context), w(what);
  const char* text = messages_->format->get(0, c.empty() ? nullptr : c.c_str(), w.c_str());
  return text == nullptr ? std::string_view() : std::string_view(text);
}

std::string_view Catalogue::find(std::string_view context, std::string_view what,
                                 std::int64_t n) const {
  const std::string c(context), w(what);
  const char* text = messages_->format->get(0, c.empty() ? nullptr : c.c_str(), w.c_str(),
                                            static_cast<int>(std::min<std::int64_t>(n, 1000000)));
  return text == nullptr ? std::string_view() : std::string_view(text);
}

const std::vector<Language>& languages() {
  static const std::vector<Language> found = [] {
    std::map<std::string, std::string> by_tag;
    for (const std::string& folder : language_folders()) {
      std::error_code error;
      for (const auto& entry : std::filesystem::directory_iterator(folder, error)) {
        if (entry.path().extension() != ".mo") continue;
        if (const auto catalogue = Catalogue::of(entry.path().stem().string()))
          by_tag.emplace(catalogue->tag(), catalogue->native_name());
      }
    }
    by_tag.erase("en");
    std::vector<Language> out = {{"en", "English"}};
    for (auto& [tag, name] : by_tag) out.push_back({tag, name});
    return out;
  }();
  return found;
}

}  // namespace legwork
