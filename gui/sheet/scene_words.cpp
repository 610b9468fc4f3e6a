// The words beside drawn things: how a part was seen, how a thing was, what stands where.
#include <algorithm>
#include <iterator>

#include "gui/sheet/parts.h"

namespace legwork::gui {
namespace {

struct SceneWord {
  std::string_view key;  // "seen." and name_of(How); "looked." and a look's quantity and state
  Phrase words;
};
constexpr SceneWord kSceneWords[] = {
    {"seen.out", phrase_in("seen on a part", "out")},
    {"seen.pulled in", phrase_in("seen on a part", "pulled in")},
    {"seen.held in", phrase_in("seen on a part", "held in")},
    {"seen.down", phrase_in("seen on a part", "down: off")},
    {"seen.up", phrase_in("seen on a part", "up: on")},
    {"seen.tripped", phrase_in("seen on a part", "tripped, or off")},
    {"seen.button in", phrase_in("seen on a part", "in")},
    {"seen.button out", phrase_in("seen on a part", "out")},
    {"seen.stands", phrase_in("seen on a part", "stands")},
    {"seen.creeps", phrase_in("seen on a part", "creeps")},
    {"seen.turns", phrase_in("seen on a part", "turns")},
    {"seen.backwards", phrase_in("seen on a part", "backwards")},
    {"seen.hums", phrase_in("seen on a part", "hums")},
    {"seen.cooling", phrase_in("seen on a part", "cooling")},
    {"seen.defrost", phrase_in("seen on a part", "defrost")},
    {"seen.dark", phrase_in("seen on a part", "dark")},
    {"seen.lit", phrase_in("seen on a part", "lit")},
    {"seen.faulty", phrase_in("seen on a part", "probe fault")},
    {"seen.unplugged", phrase_in("seen on a part", "unplugged")},
    {"seen.plugged", phrase_in("seen on a part", "plugged in")},
    {"seen.lamp red", phrase_in("seen on a part", "red, or out")},
    {"seen.lamp green", phrase_in("seen on a part", "green")},
    {"seen.pulled", phrase_in("seen on a part", "pulled")},
    {"seen.cold", phrase_in("seen on a part", "cold")},
    {"seen.warm", phrase_in("seen on a part", "warm")},
    {"seen.quiet", phrase_in("seen on a part", "quiet")},
    {"seen.runs", phrase_in("seen on a part", "runs")},
    {"seen.clatters", phrase_in("seen on a part", "clatters")},
    {"seen.right time", phrase_in("seen on a part", "right time")},
    {"seen.wrong time", phrase_in("seen on a part", "wrong time")},
    {"seen.pointer short", phrase_in("seen on a part", "pointer short")},
    {"seen.pointer right", phrase_in("seen on a part", "pointer right")},
    {"seen.pointer long", phrase_in("seen on a part", "pointer long")},
    {"seen.lugs tight", phrase_in("seen on a part", "lugs tight")},
    {"seen.lug loose", phrase_in("seen on a part", "a lug loose")},
    {"seen.lug burnt", phrase_in("seen on a part", "a lug burnt")},
    {"seen.clips tight", phrase_in("seen on a part", "clips tight")},
    {"seen.clips slack", phrase_in("seen on a part", "clips slack")},
    {"seen.clip open", phrase_in("seen on a part", "a clip open")},
    {"seen.pellet cold", phrase_in("seen on a part", "pellet cold")},
    {"seen.pellet hot", phrase_in("seen on a part", "pellet hot")},
    {"seen.sheath whole", phrase_in("seen on a part", "sheath whole")},
    {"seen.sheath burnt", phrase_in("seen on a part", "sheath burnt")},
    {"seen.lifted", phrase_in("seen on a part", "lifted")},
    {"looked.condenser.dirt 0", phrase_in("seen on a thing", "face clean")},
    {"looked.condenser.dirt 1", phrase_in("seen on a thing", "felt below")},
    {"looked.condenser.dirt 2", phrase_in("seen on a thing", "lint and grease")},
    {"looked.condenser.plugged 0", phrase_in("seen on a thing", "lamp: light")},
    {"looked.condenser.plugged 1", phrase_in("seen on a thing", "lamp: patches")},
    {"looked.condenser.plugged 2", phrase_in("seen on a thing", "lamp: no light")},
    {"looked.condenser.water 0", phrase_in("seen on a thing", "fins dry")},
    {"looked.condenser.water 1", phrase_in("seen on a thing", "fins wet")},
    {"looked.condenser.guard blocked 0", phrase_in("seen on a thing", "free")},
    {"looked.condenser.guard blocked 1", phrase_in("seen on a thing", "leaves")},
    {"looked.condenser.air 0", phrase_in("seen on a thing", "no air")},
    {"looked.condenser.air 1", phrase_in("seen on a thing", "air goes away")},
    {"looked.condenser.air 2", phrase_in("seen on a thing", "air comes back")},
    {"looked.suction line.cover 0", phrase_in("seen on a thing", "line dry")},
    {"looked.suction line.cover 1", phrase_in("seen on a thing", "sweats")},
    {"looked.suction line.cover 2", phrase_in("seen on a thing", "sweats onto shell")},
    {"looked.suction line.cover 3", phrase_in("seen on a thing", "frosted")},
    {"looked.suction line.cover 4", phrase_in("seen on a thing", "frost onto shell")},
    {"looked.drier.drop 0", phrase_in("seen on a thing", "even")},
    {"looked.drier.drop 1", phrase_in("seen on a thing", "colder after")},
    {"looked.sight glass 0", phrase_in("seen on a thing", "clear")},
    {"looked.sight glass 1", phrase_in("seen on a thing", "bubbles")},
    {"looked.sight glass 2", phrase_in("seen on a thing", "foam")},
    {"looked.charge.fraction 0", phrase_in("seen on a thing", "oil stain")},
    {"looked.charge.fraction 1", phrase_in("seen on a thing", "dry")},
    {"looked.shell 0", phrase_in("seen on a thing", "felt: cool")},
    {"looked.shell 1", phrase_in("seen on a thing", "felt: warm")},
    {"looked.shell 2", phrase_in("seen on a thing", "felt: too hot")},
    {"looked.compressor.slug 0", phrase_in("seen on a thing", "no knocking")},
    {"looked.compressor.slug 1", phrase_in("seen on a thing", "knocks")},
    {"looked.coil.frost share 0", phrase_in("seen on a thing", "little frost")},
    {"looked.coil.frost share 1", phrase_in("seen on a thing", "thick frost")},
    {"looked.coil.frost share 2", phrase_in("seen on a thing", "a block of ice")},
    {"looked.coil.dirt 0", phrase_in("seen on a thing", "clean")},
    {"looked.coil.dirt 1", phrase_in("seen on a thing", "grey matting")},
    {"looked.coil.air blocked 0", phrase_in("seen on a thing", "free")},
    {"looked.coil.air blocked 1", phrase_in("seen on a thing", "cases stacked")},
    {"looked.filter 0", phrase_in("seen on a thing", "lets light through")},
    {"looked.filter 1", phrase_in("seen on a thing", "grey, sags")},
    {"looked.filter 2", phrase_in("seen on a thing", "a solid mat")},
    {"looked.coil.belt slip 0", phrase_in("seen on a thing", "tight")},
    {"looked.coil.belt slip 1", phrase_in("seen on a thing", "glazed, slips")},
    {"looked.coil.belt slip 2", phrase_in("seen on a thing", "broken")},
    {"looked.drain.ice 0", phrase_in("seen on a thing", "no ice")},
    {"looked.drain.ice 1", phrase_in("seen on a thing", "ice")},
    {"looked.box.door open 0", phrase_in("seen on a thing", "shut")},
    {"looked.box.door open 1", phrase_in("seen on a thing", "open by a hand")},
    {"looked.box.door open 2", phrase_in("seen on a thing", "propped open")},
    {"looked.box.gasket leak 0", phrase_in("seen on a thing", "lies on")},
    {"looked.box.gasket leak 1", phrase_in("seen on a thing", "gapes")},
    {"looked.box.warm product 0", phrase_in("seen on a thing", "with gaps")},
    {"looked.box.warm product 1", phrase_in("seen on a thing", "fresh goods")},
    {"scene.supply", phrase_in("on a drawing", "supply")},
    {"scene.earth", phrase_in("on a drawing", "earth")},
    {"scene.cover on", phrase_in("on a drawing", "Cover on")},
    {"scene.cover off", phrase_in("on a drawing", "cover")},
    {"scene.people", phrase_in("on a drawing", "ask")},
    {"scene.guards", phrase_in("on a drawing", "fan guards")},
    {"scene.condenser face", phrase_in("on a drawing", "condenser face")},
    {"scene.suction line", phrase_in("on a drawing", "suction")},
    {"scene.receiver", phrase_in("on a drawing", "receiver")},
    {"scene.glass", phrase_in("on a drawing", "glass")},
    {"scene.joints", phrase_in("on a drawing", "joints")},
    {"scene.air inlet", phrase_in("on a drawing", "air inlet")},
    {"scene.evaporator", phrase_in("on a drawing", "evaporator")},
    {"scene.pan", phrase_in("on a drawing", "pan and drain")},
    {"scene.goods", phrase_in("on a drawing", "goods")},
    {"scene.filter", phrase_in("on a drawing", "air filter")},
    {"scene.air path", phrase_in("on a drawing", "air path")},
    {"scene.belt", phrase_in("on a drawing", "belt")},
    {"scene.from room", phrase_in("on a drawing", "from the room")},
    {"scene.to room", phrase_in("on a drawing", "to the room")},
    {"scene.door", phrase_in("on a drawing", "door")},
    {"scene.gasket", phrase_in("on a drawing", "gasket")},
};

}  // namespace

std::string SceneText::word_of(std::string_view key) const {
  const auto row = std::find_if(std::begin(kSceneWords), std::end(kSceneWords),
                                [&](const SceneWord& it) { return it.key == key; });
  return row == std::end(kSceneWords) ? std::string(key.substr(key.find('.') + 1))
                                      : render(row->words, speech);
}

bool SceneText::knows(std::string_view key) {
  return std::any_of(std::begin(kSceneWords), std::end(kSceneWords),
                     [&](const SceneWord& it) { return it.key == key; });
}

}  // namespace legwork::gui
