// Test glances.cpp: what is seen without looking for it, when, and once.
#include "engine/session/glances.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/session/call.h"

namespace legwork::session {
namespace {

using testing::HasSubstr;

std::vector<std::string> glanced(const Outcome& outcome) {
  std::vector<std::string> out;
  for (const Observation& o : outcome.seen.observations) {
    if (o.source == Source::glance) out.push_back(o.key + ": " + english(shown(o)));
  }
  return out;
}

TEST(Glance, OnArrivalWithTheCoverOffAndWhenSomethingChanged) {
  Call call;
  // From outside the compartment: fans and the handle.
  EXPECT_THAT(glanced(call("go roof")),
              testing::UnorderedElementsAre("CF1 turns: Turns.", "CF2 turns: Turns.",
                                            "DISC position: Handle up: on."));
  EXPECT_THAT(glanced(call("gloves on")), testing::IsEmpty());
  EXPECT_THAT(glanced(call("cover off roof")), testing::ElementsAre("CC position: Pulled in."));
  EXPECT_THAT(glanced(call("volts TB.L1 TB.L2")), testing::IsEmpty());
  EXPECT_THAT(
      glanced(call("open DISC")),
      testing::UnorderedElementsAre("DISC position: Handle down: off.", "CC position: Out."));
  // The fans run out.
  EXPECT_THAT(
      glanced(call("let it run 1 min")),
      testing::UnorderedElementsAre("CF1 turns: Stands still.", "CF2 turns: Stands still."));
  EXPECT_THAT(glanced(call("let it run 5 min")), testing::IsEmpty());
}

TEST(Glance, ADisplayAndWhatItSays) {
  Call call;
  call("go box");
  const Outcome open = call("cover off box");
  EXPECT_THAT(glanced(open), testing::Contains("TC display: The display shows a temperature."));
  EXPECT_THAT(glanced(open), testing::Contains(HasSubstr("display TC: ")));
  const double air_k = call.attempt().site.world.quantity("box.sensed");
  for (const Observation& o : open.seen.observations) {
    if (o.key == "display TC") {
      EXPECT_NEAR(o.value, air_k, 0.1);
    }
  }
  Call drifted({"TC: probe drifted: 4"});
  drifted.all({"go box", "cover off box"});
  const auto k =
      displayed_k(drifted.attempt().site.world, drifted.attempt().unit->circuit.find_device("TC"));
  ASSERT_TRUE(k);
  EXPECT_GT(std::abs(*k - drifted.attempt().site.world.outputs().box_k), 2);
}

TEST(Glance, NoRandomNumbersAndNoTags) {
  Call call({}, 5, "wf-208", true);
  const std::uint64_t readings = call.attempt().site.readings;
  call.all({"go roof", "cover off roof"});
  EXPECT_EQ(call.attempt().site.readings, readings);
  EXPECT_TRUE(call.attempt().book.tags.empty());
}

TEST(Glance, TheViewKeepsEachWithTheLatestLast) {
  Call call;
  call.all({"go roof", "gloves on", "cover off roof", "look condenser", "open DISC"});
  const View view = view_of(call.attempt());
  const auto sight = [&](const std::string& id) {
    for (auto s = view.sights.rbegin(); s != view.sights.rend(); ++s) {
      if (s->id == id) return *s;
    }
    ADD_FAILURE() << id;
    return SightView{};
  };
  EXPECT_EQ(sight("CC position").target, "CC");
  EXPECT_EQ(sight("CC position").quantity, "position");
  EXPECT_EQ(sight("CC position").state, 0);
  EXPECT_EQ(sight("CC position").source, Source::glance);
  EXPECT_EQ(english(sight("DISC position").words), "Handle down: off.");
  EXPECT_EQ(sight("condenser face").target, "condenser");
  EXPECT_EQ(sight("condenser face").quantity, "condenser.dirt");
  EXPECT_EQ(sight("condenser face").source, Source::step);
  EXPECT_LT(sight("condenser face").at_minute, sight("CC position").at_minute);
  for (const SightView& s : view.sights) EXPECT_NE(s.id, "TC display");  // in the box: not seen
  // What it was before stands there too, in its time.
  std::vector<std::string> handle;
  for (std::size_t i = 0; i < view.sights.size(); ++i) {
    if (i > 0) {
      EXPECT_LE(view.sights[i - 1].at_minute, view.sights[i].at_minute);
    }
    if (view.sights[i].id == "DISC position") handle.push_back(english(view.sights[i].words));
  }
  EXPECT_EQ(handle, (std::vector<std::string>{"Handle up: on.", "Handle down: off."}));
}

// A suspect answers the glances that were told, and no others.
TEST(Glance, ASuspectIsAskedWhatWasTold) {
  Call call;
  call("go roof");
  Site suspect{call.attempt().site.world, {}, {}, 0, 0, false, {}};
  call("cover off roof");
  const Act act = call.attempt().book.last_act;
  ASSERT_EQ(act.glanced.size(), 1u);
  const Seen seen = act_unheard(suspect, act);
  ASSERT_EQ(seen.observations.size(), 1u);
  EXPECT_EQ(seen.observations[0].key, "CC position");
  EXPECT_EQ(seen.observations[0].state, 1);
}

}  // namespace
}  // namespace legwork::session
