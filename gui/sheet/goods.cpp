// Goods that belong to the site: two stacks on a shelf with a gap between them. See outside.h.

#include <fmt/format.h>

#include <array>
#include <string_view>
#include <utility>

#include "gui/sheet/outside.h"

namespace legwork::gui {
namespace {

using fmt::format;

enum class Goods { cartons, trays, fish, produce, pans, bottles };

// Sites of the town by name; another keeps cartons.
constexpr std::array<std::pair<std::string_view, Goods>, 32> kKept = {
    {{"bakery", Goods::trays},
     {"bakery shop", Goods::trays},
     {"fish market", Goods::fish},
     {"boatyard bait store", Goods::fish},
     {"smokehouse", Goods::fish},
     {"packing shed", Goods::produce},
     {"produce depot", Goods::produce},
     {"food pantry", Goods::produce},
     {"school kitchen", Goods::pans},
     {"school", Goods::pans},
     {"ferry canteen", Goods::pans},
     {"hotel kitchen", Goods::pans},
     {"hotel", Goods::pans},
     {"ferry terminal", Goods::bottles},
     {"hotel bar", Goods::bottles},
     {"dairy depot", Goods::bottles},
     {"dairy", Goods::bottles},
     {"clinic", Goods::bottles},
     {"mill bakery", Goods::trays},
     {"cake shop", Goods::trays},
     {"fish co-op", Goods::fish},
     {"quay market", Goods::fish},
     {"cannery", Goods::fish},
     {"hatchery", Goods::fish},
     {"hillside grocer", Goods::produce},
     {"corner grocery", Goods::produce},
     {"flower hall", Goods::produce},
     {"parish hall", Goods::pans},
     {"harbor canteen store", Goods::pans},
     {"hill dairy", Goods::bottles},
     {"boat club", Goods::bottles},
     {"night kiosk", Goods::bottles}}};

Goods kept_at(std::string_view site) {
  for (const auto& [name, goods] : kKept) {
    if (name == site) return goods;
  }
  return Goods::cartons;
}

// One stack, its lower left corner at (x, 0).
std::string stack(Goods goods, int x, int wide, int high) {
  std::string path;
  switch (goods) {
    case Goods::trays:  // with loaves
      for (int y = 0; y - 15 >= -high; y -= 15) {
        path += format("R {} {} {} {} ", x, y - 3, x + wide, y);
        for (int loaf = x + 8; loaf + 6 <= x + wide; loaf += 13)
          path += format("A {} {} 6 180 360 ", loaf, y - 3);
      }
      return path;
    case Goods::fish:  // in low crates
      for (int y = 0; y - 24 >= -high; y -= 24) {
        path += format("M {0} {1} L {2} {3} L {4} {3} L {5} {1} Z ", x, y - 13, x + 3, y,
                       x + wide - 3, x + wide);
        for (int fish = x + 4; fish + 18 <= x + wide; fish += 18)
          path += format(
              "M {0} {1} Q {2} {3} {4} {1} Q {2} {5} {0} {1} M {4} {1} L {6} {7} L {6} "
              "{8} L {4} {1} ",
              fish, y - 17, fish + 6, y - 23, fish + 12, y - 12, fish + 16, y - 20, y - 14);
      }
      return path;
    case Goods::produce:  // in slatted crates
      for (int y = 0; y - 24 >= -high; y -= 24) {
        path += format("R {} {} {} {} M {} {} L {} {} M {} {} L {} {} ", x, y - 15, x + wide, y, x,
                       y - 10, x + wide, y - 10, x, y - 5, x + wide, y - 5);
        for (int fruit = x + 6; fruit + 5 <= x + wide; fruit += 11)
          path += format("A {} {} 5 180 360 ", fruit, y - 15);
      }
      return path;
    case Goods::pans:  // with lids
      for (int y = 0; y - 20 >= -high; y -= 20)
        path += format(
            "M {0} {1} L {2} {3} L {4} {3} L {5} {1} Z M {0} {1} L {0} {6} L {5} {6} L {5} {1} M "
            "{7} {6} L {7} {8} L {9} {8} L {9} {6} ",
            x, y - 13, x + 4, y, x + wide - 4, x + wide, y - 16, x + wide / 2 - 5, y - 19,
            x + wide / 2 + 5);
      return path;
    case Goods::bottles:
      for (int bottle = x; bottle + 12 <= x + wide; bottle += 15)
        path += format(
            "M {0} 0 L {0} {1} Q {0} {2} {3} {4} L {3} {5} L {6} {5} L {6} {4} Q {7} {2} {7} {1} L "
            "{7} 0 Z R {0} -18 {7} -8 ",
            bottle, -26, -32, bottle + 4, -36, -42, bottle + 8, bottle + 12);
      return path;
    case Goods::cartons:
      break;
  }
  const int middle = x + wide / 2;
  return format("R {0} {1} {2} 0 M {3} {1} L {3} {4} M {5} {1} L {5} {4} M {3} {4} L {5} {4} ", x,
                -high, x + wide, middle - 7, -high + 14, middle + 7);
}

}  // namespace

std::string goods_of(std::string_view site) {
  const Goods goods = kept_at(site);
  return stack(goods, 36, 44, 44) + stack(goods, 92, 44, 52);
}

}  // namespace legwork::gui
