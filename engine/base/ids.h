// Strong ids: an index into one table cannot be taken for an index into another.
//
//   using NodeId = Id<struct NodeTag>;
//   using DeviceId = Id<struct DeviceTag>;
//   NodeId node{3};
//   if (node.valid()) voltages[node.index];
//   DeviceId device = node;   // does not compile
//
// A default id is invalid (index -1). Ids order by index, so that whatever is walked in the order
// of its ids is walked in the order of the file it came from.
#pragma once

#include <compare>
#include <cstddef>
#include <cstdint>

namespace legwork {

template <class Tag>
struct Id {
  std::int32_t index = -1;

  constexpr Id() = default;
  constexpr explicit Id(std::int32_t value) : index(value) {}
  // From the size of a table: the id that the next row will have.
  static constexpr Id of(std::size_t value) { return Id(static_cast<std::int32_t>(value)); }

  constexpr bool valid() const { return index >= 0; }
  // For use as a subscript; only of a valid id.
  constexpr std::size_t slot() const { return static_cast<std::size_t>(index); }

  friend constexpr bool operator==(Id, Id) = default;
  friend constexpr auto operator<=>(Id, Id) = default;
};

}  // namespace legwork
