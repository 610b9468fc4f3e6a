#include "engine/suspects/arrivals.h"

#include <algorithm>
#include <map>
#include <utility>

#include "engine/base/fingerprint.h"
#include "engine/base/text_file.h"
#include "engine/fault/lives.h"
#include "engine/sim/glide.h"
#include "engine/sim/lookout.h"
#include "engine/sim/world.h"
#include "engine/suspects/history.h"
#include "engine/suspects/parallel.h"

namespace legwork::suspects {

namespace {

constexpr std::size_t kMoments = 3;  // of a cycle, besides the arrival itself
constexpr int kCycleMinutes = 20;    // a machine that moves within this time is cycling
constexpr std::string_view kMagic = "legwork arrivals 4\n";

constexpr std::size_t kLargestArrivals = 64u << 20;  // bytes

class Search {
 public:
  Search(const unit::UnitPtr& unit, const fault::Ticket& ticket,
         std::span<const fault::Found* const> found,
         const std::vector<std::vector<fault::Fault>>& suspects, const ArrivalOptions& options)
      : unit_(unit), ticket_(ticket), found_(found), suspects_(suspects), options_(options) {}

  std::vector<std::vector<Arrived>> run(ArrivalWork& work) {
    const std::size_t n = suspects_.size();
    arrived_.assign(found_.size(), std::vector<Arrived>(n));
    const History sound = live(world({}), found_, options_.longest);
    std::vector<History> histories(n);
    for_each_index(n, options_.threads, [&](std::size_t i) {
      if (cancelled()) return;
      histories[i] = live(world(suspects_[i]), found_, options_.longest, &sound);
      settle(i, histories[i]);
    });
    std::int64_t ticks = sound.ticks;
    for (const History& h : histories) {
      ticks += h.ticks;
      work.as_sound += h.as_sound;
    }
    work.hours += static_cast<double>(ticks) / static_cast<double>(sim::kTicksPerHour);
    if (cancelled()) arrived_.clear();
    return std::move(arrived_);
  }

 private:
  bool cancelled() const { return options_.cancel != nullptr && options_.cancel->load(); }
  sim::World world(const std::vector<fault::Fault>& faults) const {
    return sim::World(unit_, faults, sim::surroundings_of(ticket_));
  }
  void settle(std::size_t i, const History& history) {
    if (options_.done != nullptr) options_.done->fetch_add(1);
    for (std::size_t k = 0; k < found_.size(); ++k) {
      if (!history.shows[k]) continue;
      sim::World site = world(suspects_[i]);
      site.keep_events(false);
      site.resume(*history.shows[k]);
      site.set_time_of_day(ticket_.clock_s);
      add_moments(std::move(site), arrived_[k][i].moments);
    }
  }

  // The arrival, and other moments of a cycle if what stands as it does on arrival moves soon.
  static void add_moments(sim::World site, std::vector<sim::Moment>& moments) {
    const auto stands = [&site] { return site.circuit().position; };
    const auto keep = [&] { site.save(moments.emplace_back()); };
    std::vector<std::vector<std::int8_t>> met{stands()};
    keep();
    site.approximate(kFarAheadLoadShare);
    sim::Glide glide(site);
    const auto run_a_minute = [&] { glide.to(site.tick() + sim::kTicksPerMinute); };
    for (int minute = 0; minute < kCycleMinutes && moments.size() <= kMoments; ++minute) {
      run_a_minute();
      if (std::find(met.begin(), met.end(), stands()) != met.end()) continue;
      met.push_back(stands());
      keep();
    }
    // A machine that only moved on, and never came back, is not cycling.
    if (moments.size() < 2 || stands() == met.front()) return;
    for (int minute = 0; minute < kCycleMinutes; ++minute) {
      run_a_minute();
      if (stands() == met.front()) return;
    }
    moments.resize(1);
  }

  const unit::UnitPtr& unit_;
  const fault::Ticket& ticket_;
  std::span<const fault::Found* const> found_;
  const std::vector<std::vector<fault::Fault>>& suspects_;
  const ArrivalOptions& options_;
  std::vector<std::vector<Arrived>> arrived_;  // per ticket, per suspect
};

std::string path_of(const std::string& folder, const std::string& key) {
  return folder + "/" + sha256_hex(key) + ".arrivals";
}

// Of what it was worked out from, and of what came out: a file of another call, put in the place of
// this one's, fits as little as one that was altered.
std::string seal(const std::string& key, std::string_view body) {
  return sha256_hex(sha256_hex(key).append(body));
}

void append_count(std::size_t count, std::string& out) {
  for (int shift = 0; shift < 32; shift += 8) out += static_cast<char>(count >> shift & 255);
}

bool read_count(std::string_view& rest, std::size_t& count) {
  if (rest.size() < 4) return false;
  count = 0;
  for (int k = 0; k < 4; ++k) {
    count |= static_cast<std::size_t>(static_cast<unsigned char>(rest[static_cast<std::size_t>(k)]))
             << 8 * k;
  }
  rest.remove_prefix(4);
  return true;
}

}  // namespace

std::vector<std::vector<Arrived>> arrivals(const unit::UnitPtr& unit, const fault::Ticket& ticket,
                                           std::span<const fault::Found* const> found,
                                           const std::vector<std::vector<fault::Fault>>& suspects,
                                           const ArrivalOptions& options, ArrivalWork* work) {
  // Who leads the same life is run once.
  const std::vector<int> lives = fault::lives_of(*unit, suspects);
  std::vector<std::vector<fault::Fault>> once;
  std::vector<std::size_t> first;  // of each suspect, in `once`
  std::map<int, std::size_t> known;
  for (std::size_t i = 0; i < suspects.size(); ++i) {
    const auto [it, fresh] = known.try_emplace(lives[i], once.size());
    if (fresh) once.push_back(suspects[i]);
    first.push_back(it->second);
  }
  ArrivalWork own;
  ArrivalWork& counted = work != nullptr ? *work : own;
  counted.lives = static_cast<int>(once.size());
  const std::vector<std::vector<Arrived>> lived =
      Search(unit, ticket, found, once, options).run(counted);
  std::vector<std::vector<Arrived>> out;
  for (const std::vector<Arrived>& of_ticket : lived) {
    out.emplace_back();
    for (const std::size_t k : first) out.back().push_back(of_ticket[k]);
  }
  if (options.done != nullptr && !out.empty())
    *options.done += static_cast<int>(suspects.size() - once.size());
  return out;
}

std::optional<std::vector<Arrived>> kept_arrivals(const std::string& folder, const std::string& key,
                                                  std::size_t suspects) {
  const Result<std::string> read = read_regular_file(path_of(folder, key), kLargestArrivals);
  if (!read || read->size() > kLargestArrivals) return std::nullopt;
  const std::string& text = *read;
  // The last 64 characters seal the rest: a torn file is no file.
  if (text.size() < kMagic.size() + 64 || text.compare(0, kMagic.size(), kMagic) != 0)
    return std::nullopt;
  std::string_view rest(text);
  if (seal(key, rest.substr(0, rest.size() - 64)) != rest.substr(rest.size() - 64))
    return std::nullopt;
  rest = rest.substr(kMagic.size(), rest.size() - 64 - kMagic.size());
  std::size_t count = 0;
  if (!read_count(rest, count) || count != suspects) return std::nullopt;
  std::vector<Arrived> arrived(count);
  for (Arrived& a : arrived) {
    std::size_t moments = 0;
    if (!read_count(rest, moments) || moments > kMoments + 1) return std::nullopt;
    a.moments.resize(moments);
    for (sim::Moment& m : a.moments) {
      if (!sim::read_bytes(rest, m)) return std::nullopt;
    }
  }
  if (!rest.empty()) return std::nullopt;
  return arrived;
}

void keep_arrivals(const std::string& folder, const std::string& key,
                   const std::vector<Arrived>& arrived) {
  std::string text(kMagic);
  append_count(arrived.size(), text);
  for (const Arrived& a : arrived) {
    append_count(a.moments.size(), text);
    for (const sim::Moment& m : a.moments) sim::append_bytes(m, text);
  }
  text += seal(key, text);
  // A folder that cannot be written is no error: the next time takes longer, no more.
  write_whole_file(path_of(folder, key), text);
}

}  // namespace legwork::suspects
