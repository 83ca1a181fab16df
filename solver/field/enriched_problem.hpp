#pragma once

#include <vector>

#include "solver/field/cubic_surplus.hpp"
#include "solver/field/turns.hpp"

namespace cw {

/// A correction to a second-order field: a cubic part, and the change of the second-order part that
/// follows from it.
struct Correction {
  Eigen::VectorXcd cubic;      ///< over the functions of CubicSurplus
  FieldSolution second_order;  ///< potential at the nodes and turn voltages

  void scale(std::complex<double> factor);
  void operator+=(const Correction& other);
};

/// A linear functional of a field and its corrections: its value is the sum of the products,
/// without conjugation.
struct Functional {
  Eigen::VectorXcd cubic;                     ///< over the functions of CubicSurplus
  Eigen::VectorXcd second_order;              ///< over the unknowns of the system
  std::vector<std::complex<double>> voltage;  ///< by RegionId, of the turn voltages
};

/// The field equation of a coil in cubic and second-order functions together, with fixed currents
/// of all turns. With scaled turn voltages V/(j w) it is one complex symmetric form b. The existing
/// factorisation and turn response eliminate the second-order part.
class EnrichedProblem {
 public:
  /// `system` must stay factorised at the frequency of `response`; all must outlive it.
  EnrichedProblem(const EddySystem& system, const TurnSet& turns, const TurnResponse& response);

  [[nodiscard]] const CubicSurplus& surplus() const { return surplus_; }

  /// The correction that follows from a cubic part: one back-substitution.
  [[nodiscard]] Correction complete(const Eigen::VectorXcd& cubic) const;
  /// The product of b with a correction, tested with the cubic functions.
  [[nodiscard]] Eigen::VectorXcd apply(const Correction& c) const;
  /// Cubic part of the dual solution z of a functional g, b(z, v) = g(v). An error e with b(e, v) =
  /// r(v) changes the functional by g(e) = r(z), and r acts on the cubic functions alone. One
  /// back-substitution.
  [[nodiscard]] Eigen::VectorXcd dual(const Functional& g) const;

 private:
  /// Potential and turn voltages that respond to a load on the second-order functions.
  [[nodiscard]] FieldSolution answer(const Eigen::VectorXcd& load,
                                     const std::vector<std::complex<double>>& voltage_load) const;

  const EddySystem& system_;
  const TurnSet& turns_;
  const TurnResponse& response_;
  CubicSurplus surplus_;
};

/// Corrections of a field with the given residual.
struct Corrections {
  Correction crude;  ///< first the cubic functions alone, then the second-order ones
  Correction fine;   ///< both together, by two steps of conjugate gradients
};

Corrections correct(const EnrichedProblem& problem, const Eigen::VectorXcd& residual);

}  // namespace cw
