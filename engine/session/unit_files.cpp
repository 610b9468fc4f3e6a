#include "engine/session/unit_files.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <memory>

#include "engine/base/suggest.h"
#include "engine/session/door.h"

namespace legwork::session {
namespace {

constexpr std::size_t kMostUnits = 1000;

void add_units_of(const std::string& folder, std::vector<UnitLine>& out) {
  if (folder.empty()) return;
  std::vector<std::string> here = files_in(folder, ".yaml");
  if (here.size() > kMostUnits) here.resize(kMostUnits);
  for (std::string& path : here) {
    std::string id = std::filesystem::path(path).stem().string();
    if (std::none_of(out.begin(), out.end(), [&](const UnitLine& o) { return o.id == id; }))
      out.push_back({std::move(id), std::move(path)});
  }
}

bool is_path(std::string_view name) { return name.find_first_of("/.\\") != std::string_view::npos; }

}  // namespace

std::vector<std::string> files_in(const std::string& folder, std::string_view ending) {
  namespace fs = std::filesystem;
  std::vector<std::string> out;
  std::error_code error;
  for (fs::directory_iterator it(folder, error), end; !error && it != end; it.increment(error)) {
    if (it->path().extension() == ending && it->is_regular_file(error))
      out.push_back(it->path().string());
  }
  std::sort(out.begin(), out.end());
  return out;
}

std::string own_circuits() { return data_folder() + "/circuits"; }

std::vector<UnitLine> unit_files(const std::string& home, const std::string& beside) {
  std::vector<UnitLine> out;
  add_units_of(home + "/circuits", out);
  add_units_of(own_circuits(), out);
  add_units_of(beside, out);
  return out;
}

std::string unit_path(std::string_view id, const std::string& home, const std::string& beside) {
  if (id.empty() || is_path(id)) return {};
  std::error_code error;
  for (const std::string& folder : {home + "/circuits", own_circuits(), beside}) {
    if (folder.empty()) continue;
    std::string path = fmt::format("{}/{}.yaml", folder, id);
    if (std::filesystem::exists(path, error)) return path;
  }
  return {};
}

Message unit_hint(std::string_view id, const std::string& home, const std::string& beside) {
  std::vector<std::string> ids;
  // A scenario beside which it lies is no unit, though it ends alike.
  for (const UnitLine& line : unit_files(home, {})) ids.push_back(line.id);
  const Message all =
      say(beside.empty() ? phrase("units: {units}; own ones are looked for in {folder}")
                         : phrase("units: {units}; own ones are looked for in {folder} and beside "
                                  "the scenario"),
          {{"units", one_of({ids.begin(), ids.end()})}, {"folder", Name{own_circuits()}}});
  const Message near = suggestion(id, ids);
  return near.empty() ? all : and_hint(near, all);
}

unit::UnitPtr load_unit(const std::string& name, const std::string& home, const std::string& beside,
                        Diagnostics& found) {
  std::string path = name;
  if (!is_path(name)) {
    path = unit_path(name, home, beside);
    if (path.empty()) {
      found.file_error("legwork", say("unknown unit '{unit}'", {{"unit", Name{name}}}),
                       unit_hint(name, home, beside));
      return nullptr;
    }
  }
  auto unit = unit::load_file(path, home + "/assets", found);
  return unit ? std::make_shared<const unit::Unit>(std::move(*unit)) : nullptr;
}

}  // namespace legwork::session
