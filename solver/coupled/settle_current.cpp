#include "solver/coupled/settle_current.hpp"

#include <algorithm>
#include <cmath>

#include "solver/field/newton.hpp"

namespace cw {

double settle_current(const FixedFrequency& drive, double start, double tolerance,
                      const CoilAtCurrent& impedance) {
  constexpr int most_calls = 30;
  if (drive.holds_current) return drive.current(impedance(drive.rms));
  double x = std::log(start), before = 0.0, gap_before = 0.0;
  for (int k = 0; k < most_calls; ++k) {
    const double next = drive.current(impedance(std::exp(x)));
    const double gap = std::log(next) - x;
    if (std::abs(gap) <= tolerance) return next;
    double step = gap;
    if (k > 0 && gap != gap_before) step = -gap * (x - before) / (gap - gap_before);
    before = x;
    gap_before = gap;
    x += std::clamp(step, -1.0, 1.0);
  }
  throw SolveError("the current at the given voltage did not settle; no result is given");
}

}  // namespace cw
