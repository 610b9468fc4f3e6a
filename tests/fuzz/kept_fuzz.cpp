// Any bytes as a file kept between runs, sealed as by somebody who knows how (first byte: which).
#include "engine/base/fingerprint.h"
#include "engine/base/text_file.h"
#include "engine/config/reader.h"
#include "engine/fault/catalogue.h"
#include "engine/score/grade.h"
#include "engine/score/reference.h"
#include "engine/suspects/arrivals.h"
#include "tests/fuzz/target.h"

namespace {

using namespace legwork;

// The number of a program's own file: of this process alone.
std::string own_path(const char* name) {
  static const std::string folder = [] {
    std::string path = "/tmp/legwork-fuzz-XXXXXX";
    fuzz::must(mkdtemp(path.data()) != nullptr, "a folder of one's own");
    return path;
  }();
  return folder + "/" + name;
}

void arrivals(std::string_view body) {
  static const unit::UnitPtr unit = fuzz::shipped("rf-115");
  const std::string folder = own_path("arrivals");
  std::string text = "legwork arrivals 4\n" + std::string(body);
  text += sha256_hex(sha256_hex("key") + text);
  write_whole_file(folder + "/" + sha256_hex("key") + ".arrivals", text);
  for (const std::size_t suspects : {1, 2}) {
    const auto kept = suspects::kept_arrivals(folder, "key", suspects);
    if (!kept) continue;
    for (const suspects::Arrived& arrived : *kept) {
      for (const sim::Moment& moment : arrived.moments) {
        sim::World world(unit, {}, {});
        if (world.resume(moment)) world.run(40);
      }
    }
  }
}

void reference(std::string_view body) {
  score::Reference reference;
  score::ReferenceWay way;
  const std::string text = score::sealed_reference(std::string(body), "inputs");
  if (!score::read_reference(text, "inputs", reference, way)) return;
  fuzz::must(reference.minutes >= 0 && reference.minutes < 1e5, "minutes are minutes");
  fuzz::must(!score::read_reference(text, "other inputs", reference, way), "a seal is of inputs");
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  const std::string_view body = fuzz::text_of(data + 1, size - 1);
  Diagnostics found;
  switch (data[0] % 5) {
    case 0:
      arrivals(body);
      break;
    case 1:
      reference(body);
      break;
    case 2:
      write_whole_file(own_path("rubric.yaml"), body);
      score::load_rubric(own_path("rubric.yaml"), found);
      break;
    case 3:
      write_whole_file(own_path("priors.yaml"), body);
      fault::load_priors(own_path("priors.yaml"), found);
      break;
    default:
      // Settings, themes and words are read by these.
      const Document document = parse_document("settings.yaml", body, found);
      Reader reader(document.root(), found, phrase("the settings"));
      reader.text("paper", "");
      reader.number("text size", {.fallback = 1, .min = 0.5, .max = 3});
      reader.choice<int>("language", {{"en", 0}, {"es", 1}}, 0);
      reader.flag("sound", true);
      reader.quantities("list", Dimension::number, 3, {.fallback = 0.0});
      reader.finish();
      break;
  }
  fuzz::must_be_said(found, true);
  return 0;
}
