#include "solver/coupled/heating_state.hpp"

#include <gtest/gtest.h>

namespace cw {
namespace {

/// A point of the heater whose every power is its number times `scale`.
HeaterPoint point(double scale) {
  HeaterPoint p;
  p.frequency = {1.0 * scale};
  p.current = 2 * scale;
  p.demand = 3 * scale;
  p.body_W = {4 * scale, 5 * scale};
  p.work_W = 9 * scale;
  p.coil_W = 6 * scale;
  p.leads_W = 7 * scale;
  p.total_W = 8 * scale;
  p.load = Eigen::VectorXd::Constant(3, 10 * scale);
  p.tank.emplace();
  p.tank->supply_current_A = 11 * scale;
  p.tank->loaded_q = 12 * scale;
  p.tank->can.loss_W = 13 * scale;
  p.tank->power.joints_W = 14 * scale;
  p.tank->power.capacitors_W = 15 * scale;
  p.tank->power.switches_W = 16 * scale;
  p.tank->power.chokes_W = 17 * scale;
  p.tank->power.cable_W = 18 * scale;
  p.tank->power.battery_W = 19 * scale;
  return p;
}

// A quarter of the way from 1 to 5 is 2, for everything a line of the history shows.
TEST(HeaterPoint, BetweenTwoEverythingIsMixed) {
  const HeaterPoint found = between(point(1), point(5), 0.25), wanted = point(2);
  EXPECT_DOUBLE_EQ(found.frequency.hertz, wanted.frequency.hertz);
  EXPECT_DOUBLE_EQ(found.current, wanted.current);
  EXPECT_DOUBLE_EQ(found.demand, wanted.demand);
  EXPECT_DOUBLE_EQ(found.work_W, wanted.work_W);
  EXPECT_DOUBLE_EQ(found.total_W, wanted.total_W);
  EXPECT_EQ(found.load, wanted.load);
  ASSERT_TRUE(found.tank);
  EXPECT_DOUBLE_EQ(found.tank->supply_current_A, wanted.tank->supply_current_A);
  EXPECT_DOUBLE_EQ(found.tank->loaded_q, wanted.tank->loaded_q);
  EXPECT_DOUBLE_EQ(found.tank->can.loss_W, wanted.tank->can.loss_W);
  EXPECT_EQ(parts_of(found), parts_of(wanted));
  EXPECT_EQ(parts_of(found), (std::vector<double>{8, 10, 12, 14, 28, 30, 32, 34, 36, 38}));
}

}  // namespace
}  // namespace cw
