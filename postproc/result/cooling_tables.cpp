#include "postproc/result/cooling_tables.hpp"

#include <fmt/core.h>

namespace cw {

std::string tube_table(const StillAirCooling& air) {
  std::string table = "switched,time [s],tube temperature [degC]\n";
  for (const TubePoint& p : air.points)
    table += fmt::format("{},{},{}\n", p.on ? "on" : "off", p.time, p.temperature.in_celsius());
  return table;
}

std::string stray_table(const ExposureResult& e) {
  std::string table = "distance [m],flux density rms on the axis [T],beside the coil [T]\n";
  for (std::size_t i = 0; i < e.axis_rms.size(); ++i)
    table += fmt::format("{},{},{}\n", e.distances[i], e.axis_rms[i], e.beside_rms[i]);
  return table;
}

}  // namespace cw
