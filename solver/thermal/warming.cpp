#include "solver/thermal/warming.hpp"

#include <cmath>

namespace cw {

std::optional<double> time_to_reach(const ThermalMass& mass, double watts, Temperature air,
                                    Temperature start, Temperature limit) {
  if (start >= limit) return 0.0;
  const double steady = air.kelvin + watts * mass.to_air;
  if (steady <= limit.kelvin) return std::nullopt;
  return mass.to_air * mass.capacity * std::log((steady - start.kelvin) / (steady - limit.kelvin));
}

Temperature junction_temperature(const HeatPath& path, double watts, Temperature air) {
  return {air.kelvin + watts * path.total()};
}

double sink_allowed(const HeatPath& path, double watts, Temperature air, Temperature limit) {
  return (limit.kelvin - air.kelvin) / watts - path.junction_to_case - path.case_to_sink;
}

}  // namespace cw
