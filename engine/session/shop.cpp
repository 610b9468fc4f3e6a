#include "engine/session/shop.h"

#include <algorithm>

#include "engine/session/names.h"

namespace legwork::session {
namespace {

struct CautionRow {
  std::string_view id;
  Phrase words;
};
constexpr CautionRow kCautions[] = {
    {"ladder", phrase("Ladder: tied off, three points of contact, tools hauled up after you.")},
    {"roof edge", phrase("Roof edge: keep six feet away from it, more when the roof is wet.")},
    {"live panel", phrase("What is behind this cover may be live. Gloves, glasses, and a meter "
                          "that you have proven.")},
    {"moving fan", phrase("A fan may start without a warning.")},
    {"cold", phrase("Cold: mind the time, and that the door opens from within.")},
    {"slippery floor", phrase("The floor may be icy.")},
    {"flammable refrigerant",
     phrase("Flammable refrigerant: no flame, fresh air, a leak check first.")},
    {"two supplies",
     phrase("Two panels feed what is in here: open and lock both, and prove each dead.")},
    {"high voltage",
     phrase("More than 300 V in here: an arc at this voltage burns from an arm's length away.")},
};

bool measured(const Attempt& a, std::string_view function, std::string_view part = {}) {
  return std::any_of(a.book.tags.begin(), a.book.tags.end(), [&](const Tag& tag) {
    if (tag.function != function) return false;
    return part.empty() || std::any_of(tag.at.begin(), tag.at.end(), [&](const std::string& at) {
             return at.find(part) != std::string::npos;
           });
  });
}

bool looked(const Attempt& a) {
  return std::any_of(a.book.tags.begin(), a.book.tags.end(),
                     [](const Tag& tag) { return tag.function == "look"; });
}

}  // namespace

std::vector<std::string_view> known_cautions() {
  std::vector<std::string_view> ids;
  for (const CautionRow& row : kCautions) ids.push_back(row.id);
  return ids;
}

Message caution_words(std::string_view id) {
  for (const CautionRow& row : kCautions) {
    if (row.id == id) return row.words;
  }
  return Name{id};
}

Message shop_question(const Attempt& a) {
  if (a.book.asked.empty())
    return say("What did they tell you when you asked since when, and what changed?");
  if (!looked(a))
    return say(
        "What do you see and hear before you touch anything: which fans turn, what is iced, "
        "what smells?");
  if (!measured(a, "volts") && !measured(a, "lowz"))
    return say("Is it being asked to run? Which two points would tell you that?");
  if (!measured(a, "volts", "TB."))
    return say("Have you proven every leg, each to each other one and not to earth?");
  if (!measured(a, "volts", ".A1") && !measured(a, "volts", ".A2")) {
    return say(
        "Is there voltage on the coil of what should pull in? And if not, where does it stop on "
        "the way?");
  }
  if (!a.unit->gauge_place.empty() && !measured(a, "gauges")) {
    return say(
        "What would the head be at this outdoor temperature if all were well? And what is it?");
  }
  if (!measured(a, "clamp")) return say("What does each motor draw, and what does its plate say?");
  return say(
      "You have an open device, or a load that is fed and does nothing. Why is it so? What "
      "would make a good one do that?");
}

}  // namespace legwork::session
