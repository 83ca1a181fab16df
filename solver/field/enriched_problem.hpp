#pragma once

#include <Eigen/Core>

#include "solver/field/cubic_surplus.hpp"
#include "solver/field/turns.hpp"

namespace cw {

/// What is missing in a second-order field: a cubic part, and the second-order part that comes with it.
struct Correction {
  Eigen::VectorXcd cubic;      ///< over the functions of CubicSurplus
  FieldSolution second_order;  ///< potential at the nodes and turn voltages; nothing impressed

  void add(std::complex<double> factor, const Correction& other);
};

/// The field equation of a coil in second-order and cubic functions together, at given turn currents. The
/// second-order unknowns and turn voltages are eliminated by the factorisation and the turn response at hand.
class EnrichedProblem {
 public:
  EnrichedProblem(const EddySystem& system, const TurnSet& turns, const TurnResponse& response);

  [[nodiscard]] const CubicSurplus& surplus() const { return surplus_; }
  /// Correction with the given cubic part: one back-substitution.
  [[nodiscard]] Correction complete(const Eigen::VectorXcd& cubic) const;
  /// The cubic equation after the elimination, applied to a completed correction.
  [[nodiscard]] Eigen::VectorXcd apply(const Correction& c) const;

  /// Cubic part from the diagonal alone, second-order part completed.
  [[nodiscard]] Correction solve_crudely(const Eigen::VectorXcd& residual) const;
  /// `steps` of conjugate gradients on the cubic equation, without conjugation (the matrix is complex symmetric:
  /// H. A. van der Vorst & J. B. M. Melissen, IEEE Trans. Magn. 26 (1990) 706, from memory); one back-substitution
  /// each. Three leave about 2 % of the correction of a loss in the median.
  [[nodiscard]] Correction solve(const Eigen::VectorXcd& residual, int steps) const;

 private:
  [[nodiscard]] Eigen::VectorXcd precondition(const Eigen::VectorXcd& residual) const;

  const EddySystem& system_;
  const TurnSet& turns_;
  const TurnResponse& response_;
  CubicSurplus surplus_;
};

}  // namespace cw
