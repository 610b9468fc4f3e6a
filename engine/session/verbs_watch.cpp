// Watching an instrument; taking it off again.

#include "engine/session/hooked.h"
#include "engine/session/names.h"
#include "engine/session/verbs.h"
#include "engine/session/watching.h"

namespace legwork::session {
namespace {

const Verb& inner(const Watch& watch) { return *find_verb(watch.reading.verb); }

Watch watched(const Line& line) { return watch_of(line[0]).value_or(Watch{}); }

Message watch_resolve(const Attempt& a, Line& line) {
  Result<Watch> watch = watch_of(line[0]);
  if (!watch) return watch.failure().what;
  if (inner(*watch).resolve != nullptr) {
    if (Message why = inner(*watch).resolve(a, watch->reading.arguments); !why.empty()) return why;
  }
  line[0] = text(*watch);
  return {};
}

Message watch_refuse(const Attempt& a, const Line& line) {
  const Watch watch = watched(line);
  return inner(watch).refuse == nullptr ? Message()
                                        : inner(watch).refuse(a, watch.reading.arguments);
}

double watch_cost(const Attempt&, const Line& line) {
  const Watch watch = watched(line);
  return watch.minutes + static_cast<double>(landing_ticks(watch.reading)) /
                             static_cast<double>(sim::kTicksPerMinute);
}

void watch_touches(const Attempt& a, const Line& line, Touched& touched) {
  const Watch watch = watched(line);
  if (inner(watch).touches != nullptr) inner(watch).touches(a, watch.reading.arguments, touched);
}

void watch_read(Site& site, const Line& line, Seen& seen) {
  const Watch watch = watched(line);
  inner(watch).read(site, watch.reading.arguments, seen);
}

void watch_book(Attempt& a, const Line& line, Outcome& out) {
  const Watch watch = watched(line);
  if (inner(watch).book != nullptr) inner(watch).book(a, watch.reading.arguments, out);
  for (const Observation& o : out.seen.observations) {
    if (o.tick != 0) return;
  }
  out.seen.said.push_back(phrase("It did not move."));
}

// --- taking off what hangs: free, like looking away ---

template <Instrument Which>
Message off_refuse(const Attempt& a, const Line&) {
  if (is_hooked(a.site, Which)) return {};
  return Which == Instrument::meter   ? say("No lead is on.")
         : Which == Instrument::clamp ? say("The clamp is round no wire.")
                                      : say("The thermometer is nowhere.");
}
template <Instrument Which>
void off_offer(const Attempt& a, std::vector<Line>& lines) {
  if (is_hooked(a.site, Which)) lines.push_back({});
}

Message back_refuse(const Attempt& a, const Line&) {
  return !a.site.taken_off.empty() && a.site.taken_off_tick == a.site.world.tick()
             ? Message()
             : say("Nothing was taken off just now. Put it on again: that is a reading.");
}

template <Instrument Which, bool Offered>
constexpr Verb off_verb(std::string_view name, Phrase label, Phrase help) {
  Verb v;
  v.name = v.pattern = name;
  v.group = Group::instruments;
  v.label = label;
  v.help = help;
  v.refuse = off_refuse<Which>;
  v.offer = Offered ? off_offer<Which> : nullptr;
  return v;
}

constexpr Verb kVerbs[] = {
    {.name = "watch",
     .pattern = "watch {reading+}",
     .group = Group::measure,
     .label = phrase("watch"),
     .help = phrase(
         "Put an instrument on and watch it until it moves, or for a span: watch volts CM.C "
         "CM.R 5 min, watch gauges until change. Lowest, highest, and each move with its time."),
     .touch = Touch::leads,
     .resolve = watch_resolve,
     .refuse = watch_refuse,
     .cost = watch_cost,
     .touches = watch_touches,
     .read = watch_read,
     .book = watch_book,
     .open_ended = true},
    off_verb<Instrument::meter, true>(
        "leads off", phrase("Take the leads off"),
        phrase("Take both leads off; the meter holds what it showed. Costs nothing.")),
    off_verb<Instrument::meter, false>("red lead off", phrase("Take the red lead off"),
                                       phrase("Take the red lead off its screw. Costs nothing.")),
    off_verb<Instrument::meter, false>("black lead off", phrase("Take the black lead off"),
                                       phrase("Take the black lead off its screw. Costs nothing.")),
    off_verb<Instrument::clamp, true>("clamp off", phrase("Take the clamp off"),
                                      phrase("Take the clamp off its wire. Costs nothing.")),
    off_verb<Instrument::thermometer, true>(
        "thermometer off", phrase("Take the thermometer off"),
        phrase("Take the thermometer off its point. Costs nothing.")),
    {.name = "leads back",
     .pattern = "leads back",
     .group = Group::instruments,
     .label = phrase("Put back what was taken off last"),
     .help = phrase("Put back the leads, clamp or thermometer taken off last, as long as nothing "
                    "else was done. Costs nothing."),
     .refuse = back_refuse},
};

}  // namespace

std::span<const Verb> verbs_watch() { return kVerbs; }

}  // namespace legwork::session
