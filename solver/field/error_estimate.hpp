#pragma once

#include <vector>

#include "solver/field/turns.hpp"

namespace cw {

/// Relative errors of what a user reads from the coil in series, from one mesh; >= 0, safety factor included.
struct ErrorEstimate {
  double inductance = 0.0;
  /// Of the loss in all turns, weights included. 0 for uniform turns, whose loss is I^2 times the given resistance.
  double coil_loss = 0.0;
  std::vector<double> power;  ///< of the loss in each region, by RegionId; 0 where none is
};

/// A-posteriori estimate of the discretisation error of the second-order solution, by quantity.
ErrorEstimate estimate_error(const EddySystem& system, const TurnSet& turns, const TurnResponse& response,
                             const SeriesCoil& coil);

}  // namespace cw
