#pragma once
// When each suspect of a ticket shows what was found: kept between runs, so that a ticket opened
// again knows at once whom it rules out. Only ticks are kept; the worlds themselves are run again
// to that tick, and held against the ticket once more, so a stale file costs time and no truth.
//
//   ArrivalCache cache = ArrivalCache::open(folder, key);   // "" = keeps nothing
//   std::optional<std::int64_t> ticks = cache.ticks_of("HPC: stuck open");   // kNeverShows
//   cache.keep("HPC: stuck open", 42168);
//   cache.save();

#include <cstdint>
#include <map>
#include <optional>
#include <string>

namespace legwork::suspects {

inline constexpr std::int64_t kNeverShows = -1;

class ArrivalCache {
 public:
  // `key`: everything that the answer depends on, as text; its SHA-256 is the file's name.
  static ArrivalCache open(const std::string& folder, const std::string& key);

  std::optional<std::int64_t> ticks_of(const std::string& name) const;
  void keep(const std::string& name, std::int64_t ticks);
  void save() const;  // a folder that cannot be written is no error: the next time takes longer

 private:
  std::string path_;
  std::map<std::string, std::int64_t> ticks_;
  bool changed_ = false;
};

}  // namespace legwork::suspects
