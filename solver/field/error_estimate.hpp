#pragma once

#include <vector>

#include "solver/field/turns.hpp"

namespace cw {

/// Relative errors of what a user reads from the coil in series, from one mesh; >= 0, safety factor included.
struct ErrorEstimate {
  double inductance = 0.0;
  double coil_loss = 0.0;     ///< of the loss in all rings together; 0 for uniform turns (I^2 times a given resistance)
  std::vector<double> power;  ///< of the loss in each region, turns too, by RegionId; 0 where there is none
};

/// Discretisation error of the second-order solution, estimated quantity by quantity without a second mesh.
///
/// With scaled turn voltages V/(j w) the field and the turns obey one complex symmetric form b, so Z - Z_h =
/// j w b(e, e) for the error e. It is approximated in the cubic functions that the mesh lacks (cubic_surplus.hpp)
/// together with the second-order ones, whose share comes by back-substitution with the factorisation at hand; the
/// losses of the corrected field less those of the field are the errors of the losses, which to first order is the
/// residual weighted by the dual solution. Sources: R. Becker & R. Rannacher, Acta Numerica 10 (2001) 1;
/// R. E. Bank & R. K. Smith, SIAM J. Numer. Anal. 30 (1993) 921 (both from memory).
///
/// Reported is  1.5 (|d| + |d - d0| / 2) / |quantity| + 2e-5:  d the correction, d0 what the diagonal alone would give,
/// so that the estimate does not vanish where contributions cancel; 2e-5 covers curved borders, quadrature and open
/// space. `system` must still be factorised at the frequency of `response`. Four back-substitutions.
ErrorEstimate estimate_error(const EddySystem& system, const TurnSet& turns, const TurnResponse& response,
                             const SeriesCoil& coil);

}  // namespace cw
