// Any bytes as a unit file: read, checked, and if it is one, run for a few seconds.
#include "engine/sim/world.h"
#include "tests/fuzz/target.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace legwork;
  Diagnostics found;
  auto unit = unit::load(fuzz::text_of(data, size), "unit.yaml", fuzz::kHome + "/assets", found);
  fuzz::must_be_said(found, unit.has_value());
  if (!unit) return 0;
  fuzz::must(is_plain_name(unit->id), "a unit's id is a name");
  sim::World world(std::make_shared<const unit::Unit>(std::move(*unit)), {}, {});
  world.run(20);
  return 0;
}
