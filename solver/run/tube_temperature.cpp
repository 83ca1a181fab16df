#include "solver/run/tube_temperature.hpp"

#include <algorithm>
#include <cmath>

#include "materials/water.hpp"
#include "solver/run/coil_tube.hpp"

namespace cw {

TubeTemperature::TubeTemperature(const Heater& subject)
    : follows_(cooled_by_water(subject.coil)), guess_(coil_temperature(subject.coil)) {}

bool TubeTemperature::settled(const Heater& subject, const SolvedState& state, double loss,
                              Temperature work) {
  constexpr int most = 4;
  constexpr double close = 5e-4;
  ++passes_;
  if (!follows_) return true;
  const auto ratio = [&](Temperature to) {
    return resistance_ratio(subject, state.model.winding, state.frequency, guess_, to);
  };
  Temperature next = guess_;
  for (int k = 0; k < 8; ++k) {
    const CooledTube tube = cooled_tube(subject, loss * ratio(next), {work, next});
    // At this temperature the water boils and keeps the wall there; the limits report it.
    next = {std::min(tube.wall_mean.kelvin, water_boils.kelvin)};
  }
  agreement_ = std::abs(ratio(next) - 1);
  if (agreement_ < close || passes_ >= most) return true;
  guess_ = next;
  return false;
}

}  // namespace cw
