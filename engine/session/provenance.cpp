#include "engine/session/provenance.h"

#include <fmt/format.h>

#include <optional>
#include <string_view>

#include "engine/base/fingerprint.h"
#include "engine/base/plain_text.h"
#include "engine/base/text_file.h"
#include "engine/session/hat.h"
#include "engine/session/ticket_files.h"

namespace legwork::session {
namespace {

bool was_shipped(const std::string& home, std::string_view kind, const std::string& id,
                 const std::string& sha256) {
  const Result<std::string> list = read_text_file(home + "/assets/shipped.txt");
  return list &&
         ("\n" + *list).find(fmt::format("\n{} {} {}\n", kind, id, sha256)) != std::string::npos;
}

Origin origin_of(const std::string& home, std::string_view kind, std::string_view folder,
                 const std::string& id, const std::string& sha256) {
  if (!is_plain_name(id)) return Origin::own;
  const Result<std::string> installed =
      read_text_file(fmt::format("{}/{}/{}.yaml", home, folder, id));
  if (installed && sha256_hex(*installed) == sha256) return Origin::shipped;
  if (was_shipped(home, kind, id, sha256)) return Origin::earlier;
  return installed ? Origin::changed : Origin::own;
}

}  // namespace

Provenance provenance_of(const LogHeader& header, const std::string& home_given) {
  const std::string home = home_or(home_given);
  Provenance out;
  out.unit_id = header.unit;
  out.scenario_id = header.scenario;
  out.unit = origin_of(home, "unit", "circuits", header.unit, header.unit_sha256);
  if (const std::optional<HatName> name = hat_name(header.scenario)) {
    out.from_hat = true;
    // From another version of the unit the number makes another call; that is no lie.
    out.scenario = Origin::earlier;
    if (out.unit != Origin::shipped) return out;
    const TicketFiles files = hat_ticket(*name, home, {});
    const bool same = files.ok() && files.scenario->content_hash == header.scenario_sha256;
    out.scenario = same ? Origin::shipped : Origin::changed;
    return out;
  }
  out.scenario = origin_of(home, "scenario", "scenarios", header.scenario, header.scenario_sha256);
  return out;
}

std::vector<Message> remarks_on(const Provenance& from) {
  std::vector<Message> out;
  const auto of_unit = Name{from.unit_id}, of_scenario = Name{from.scenario_id};
  if (from.scenario == Origin::changed) {
    out.push_back(say("not the shipped {scenario}: the log holds another call under its name",
                      {{"scenario", of_scenario}}));
  } else if (from.scenario == Origin::earlier) {
    out.push_back(say("an earlier version of {scenario}, not the one that is installed",
                      {{"scenario", of_scenario}}));
  } else if (from.scenario == Origin::own) {
    out.push_back(say("{scenario} is no shipped call", {{"scenario", of_scenario}}));
  }
  if (from.unit == Origin::changed) {
    out.push_back(say("not the shipped {unit}: the log holds another machine under its name",
                      {{"unit", of_unit}}));
  } else if (from.unit == Origin::earlier) {
    out.push_back(
        say("an earlier version of {unit}, not the one that is installed", {{"unit", of_unit}}));
  } else if (from.unit == Origin::own) {
    out.push_back(say("{unit} is no shipped machine", {{"unit", of_unit}}));
  }
  return out;
}

}  // namespace legwork::session
