#include "postproc/result/write_tables.hpp"

#include <gtest/gtest.h>

namespace cw {
namespace {

// Every point of the tube's history is a line with its time and temperature.
TEST(CoolingTables, TubeTable) {
  StillAirCooling air;
  air.points = {{true, 0, Temperature::celsius(20)}, {false, 1.5, Temperature::celsius(90)}};
  EXPECT_EQ(tube_table(air).substr(0, 40), "switched,time [s],tube temperature [degC");
  EXPECT_NE(tube_table(air).find("off,1.5,90"), std::string::npos);
}

}  // namespace
}  // namespace cw
