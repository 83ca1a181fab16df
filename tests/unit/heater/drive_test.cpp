#include "solver/heater/drive.hpp"

#include <gtest/gtest.h>

#include <algorithm>

namespace cw {
namespace {

// Property: the level that is raised or lowered is the setting of the topology, with its key in
// case files.
TEST(Drive, LevelIsWhatTheTopologyIsSetTo) {
  PushPullDrive pair;
  pair.supply = 36.0;
  Drive drive = pair;
  level_of(drive) *= 2;
  EXPECT_EQ(std::get<PushPullDrive>(drive).supply, 72.0);
  EXPECT_EQ(level_words(drive).key, "supply");
  for (Drive fixed : {Drive{CurrentDrive{Frequency{50e3}, 100.0}},
                      Drive{SeriesTankDrive{Frequency{50e3}, 100.0}}}) {
    level_of(fixed) += 1.0;
    EXPECT_EQ(set_frequency(fixed)->rms, 101.0) << kind_of(fixed);
    EXPECT_EQ(set_frequency(fixed)->frequency.hertz, 50e3);
    EXPECT_EQ(level_words(fixed).key, "rms");
  }
}

// Property: a tank rings, is in series or is not used; if it rings, it determines the frequency.
TEST(Drive, TankIsUsedAsTheTopologySays) {
  EXPECT_TRUE(tank_rings(PushPullDrive{}));
  EXPECT_FALSE(set_frequency(PushPullDrive{}));
  EXPECT_EQ(tank_use(SeriesTankDrive{}), TankUse::in_series);
  EXPECT_EQ(tank_use(VoltageDrive{}), TankUse::none);
  EXPECT_TRUE(set_frequency(VoltageDrive{}));
  EXPECT_EQ(std::ranges::count_if(drive_kinds, uses_tank), 2);
  EXPECT_FALSE(uses_tank("steam"));
}

// Property: the supply that is read and the one that is changed are the same part of the drive.
TEST(Drive, SupplyIsAPartOfTheDrive) {
  Drive drive = PushPullDrive{};
  EXPECT_EQ(supply_of(drive), supply_of(std::as_const(drive)));
  EXPECT_EQ(drive_parts(drive).choke, &std::get<PushPullDrive>(drive).choke);
  drive = VoltageDrive{};
  EXPECT_EQ(supply_of(drive), nullptr);
  EXPECT_EQ(drive_parts(drive).transistor, nullptr);
}

}  // namespace
}  // namespace cw
