#include "solver/run/part_events.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace cw {
namespace {

/// A push-pull's cooled coil with leads; 20 degC around.
Heater heater() {
  Heater heater;
  heater.coil.turns = 6;
  heater.coil.bore = 0.040;
  heater.coil.pitch = 0.008;
  heater.coil.conductor.section = RoundTube{0.006, 0.001};
  heater.coil.coolant.emplace().flow = 1e-3 / 60;
  heater.coil.leads.emplace().length = 0.1;
  heater.drive = PushPullDrive{};
  heater.tank.emplace();
  return heater;
}

// A can that heats with constant power passes its limit at -R C ln(1 - dT/(P R)).
TEST(PartEvents, ALumpPassesItsLimitWhenItsEquationSays) {
  Heater subject = heater();
  subject.tank->can_warming = Warming{10.0, 30.0, Temperature::celsius(85)};
  HeatingMoment first, last;
  first.can_W = last.can_W = 4.0;
  last.time = 400.0;
  const auto events = part_events(subject, {}, {first, last});
  ASSERT_EQ(events.size(), 1U);
  EXPECT_EQ(events[0].name, "capacitor can: reaches its 85 degC");
  EXPECT_NEAR(events[0].time, -300 * std::log(1 - 65.0 / 120.0), 0.05);
}

// Without heat loss, leads whose power rises from zero by p per second have warmed by p t^2/(2 C):
// events are in order of time, and there are none after the end of the run.
TEST(PartEvents, RisingPowerInOrderOfTime) {
  Heater subject = heater();
  subject.coil.leads->warming = Warming{50.0, 1e9, Temperature::celsius(60)};
  subject.tank->can_warming = Warming{10.0, 1e9, Temperature::celsius(85)};
  HeatingMoment first, last;
  last.time = 100.0;
  last.leads_W = last.can_W = 100.0;  // 1 W/s
  const auto events = part_events(subject, {}, {first, last});
  ASSERT_EQ(events.size(), 2U);
  EXPECT_EQ(events[0].name, "capacitor can: reaches its 85 degC");
  EXPECT_NEAR(events[0].time, std::sqrt(2 * 10.0 * 65), 0.05);
  EXPECT_EQ(events[1].name, "leads: reaches its 60 degC");
  EXPECT_NEAR(events[1].time, std::sqrt(2 * 50.0 * 40), 0.05);
  last.time = 30.0;
  last.leads_W = last.can_W = 30.0;
  EXPECT_TRUE(part_events(subject, {}, {first, last}).empty());
}

}  // namespace
}  // namespace cw
