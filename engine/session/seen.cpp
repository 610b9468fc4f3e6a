#include "engine/session/seen.h"

namespace legwork::session {
namespace {

struct HappensRow {
  Happens what;
  std::string_view name;  // in the log
  Phrase sentence;
};
constexpr HappensRow kHappens[] = {
    {Happens::pulls_in, "pulls in", phrase("{part} pulls in")},
    {Happens::drops_out, "drops out", phrase("{part} drops out")},
    {Happens::trips, "trips", phrase("{part} trips")},
    {Happens::goes_to_defrost, "goes to defrost", phrase("{part} goes over to defrost")},
    {Happens::goes_to_cooling, "goes to cooling", phrase("{part} goes back to cooling")},
    {Happens::starts, "starts", phrase("{part} starts")},
    {Happens::stops, "stops", phrase("{part} stops")},
    {Happens::hums, "hums", phrase("{part} hums and does not start")},
    {Happens::stops_humming, "stops humming", phrase("{part} stops humming")},
};

}  // namespace

Message shown(const Observation& o) {
  if (o.state >= 0) return o.words;
  switch (o.not_read) {
    case NotRead::live:
      return phrase("LIVE");
    case NotRead::charged:
      return phrase("CHARGED");
    case NotRead::not_isolated:
      return phrase("NOT ISOLATED");
    case NotRead::read:
      break;
  }
  if (o.over_range) return phrase("OVER");
  if (o.unit == display_unit(Dimension::pressure))
    return amount(pascals_from_psig(o.number), Dimension::pressure, o.decimals);
  if (o.unit == display_unit(Dimension::temperature))
    return amount(kelvin_from_fahrenheit(o.number), Dimension::temperature, o.decimals);
  return Name{format_number(o.number, o.decimals) + " " + o.unit};
}

std::string_view name_of(Happens what) {
  for (const HappensRow& row : kHappens) {
    if (row.what == what) return row.name;
  }
  return {};
}

std::optional<Happens> happens_of(std::string_view name) {
  for (const HappensRow& row : kHappens) {
    if (row.name == name) return row.what;
  }
  return std::nullopt;
}

Message sentence(const Happening& happening) {
  for (const HappensRow& row : kHappens) {
    if (row.what == happening.what) return say(row.sentence, {{"part", Name{happening.device}}});
  }
  return {};
}

}  // namespace legwork::session
