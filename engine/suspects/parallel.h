#pragma once
// The same work on many things, on a few threads. Each index is done by exactly one thread and may
// touch only what belongs to it, so the result does not depend on how many threads there are.

#include <atomic>
#include <cstddef>
#include <thread>
#include <vector>

namespace legwork::suspects {

template <class Function>
void for_each_index(std::size_t count, int threads, const Function& function) {
  std::atomic<std::size_t> next{0};
  const auto work = [&] {
    for (std::size_t i = next.fetch_add(1); i < count; i = next.fetch_add(1)) function(i);
  };
  std::vector<std::thread> others;
  for (int t = 1; t < threads && static_cast<std::size_t>(t) < count; ++t)
    others.emplace_back(work);
  work();
  for (std::thread& other : others) other.join();
}

}  // namespace legwork::suspects
