#include "engine/suspects/arrival_cache.h"

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "engine/base/fingerprint.h"
#include "engine/base/text_file.h"

namespace legwork::suspects {

ArrivalCache ArrivalCache::open(const std::string& folder, const std::string& key) {
  ArrivalCache cache;
  if (folder.empty()) return cache;
  cache.path_ = folder + "/" + sha256_hex(key) + ".txt";
  const TextFile file = read_text_file(cache.path_);
  if (!file.ok) return cache;
  std::istringstream lines(file.text);
  std::string line;
  while (std::getline(lines, line)) {
    const std::size_t space = line.find(' ');
    if (space == std::string::npos || space == 0) continue;
    char* end = nullptr;
    const long long ticks = std::strtoll(line.c_str(), &end, 10);
    if (end != line.c_str() + space || ticks < kNeverShows) continue;
    cache.ticks_[line.substr(space + 1)] = ticks;
  }
  return cache;
}

std::optional<std::int64_t> ArrivalCache::ticks_of(const std::string& name) const {
  const auto it = ticks_.find(name);
  if (it == ticks_.end()) return std::nullopt;
  return it->second;
}

void ArrivalCache::keep(const std::string& name, std::int64_t ticks) {
  const auto [it, fresh] = ticks_.try_emplace(name, ticks);
  if (!fresh && it->second == ticks) return;
  it->second = ticks;
  changed_ = true;
}

void ArrivalCache::save() const {
  if (path_.empty() || !changed_) return;
  std::error_code error;
  std::filesystem::create_directories(std::filesystem::path(path_).parent_path(), error);
  const std::string fresh = path_ + ".new";
  {
    std::ofstream out(fresh, std::ios::binary);
    for (const auto& [name, ticks] : ticks_) out << ticks << ' ' << name << '\n';
    if (!out) return;
  }
  std::filesystem::rename(fresh, path_, error);
}

}  // namespace legwork::suspects
