#pragma once

#include "solver/field/enriched_problem.hpp"

namespace cw {

/// Complex numbers as rows of (real, imaginary): products with real shape functions stay real.
template <int N>
using RealImag = Eigen::Matrix<double, N, 2>;

/// Loss of one triangle and its derivative: a correction changes the loss by the sum of the
/// products of their components.
struct LossSlope {
  double loss = 0.0;  ///< [W]
  RealImag<1> to_voltage = RealImag<1>::Zero();
  RealImag<6> to_potential = RealImag<6>::Zero();
  RealImag<4> to_cubic = RealImag<4>::Zero();  ///< of the functions of CubicSurplus
};

/// Losses that depend on the field: Joule loss of conductors, and the proximity loss of strands
/// (TurnSet::proximity).
class FieldLosses {
 public:
  FieldLosses(const EddySystem& system, const TurnSet& turns, const FieldSolution& field);

  /// Whether a triangle has any loss.
  [[nodiscard]] bool present(std::size_t t) const;
  [[nodiscard]] LossSlope slope(std::size_t t) const;
  /// First-order change of the loss of triangle `t` by a correction [W].
  [[nodiscard]] double change(const LossSlope& slope, std::size_t t, const CubicSurplus& surplus,
                              const Correction& c) const;
  /// Derivative of the loss of all regions marked (by RegionId): its real part is the change of the
  /// loss.
  [[nodiscard]] Functional functional(const CubicSurplus& surplus,
                                      const std::vector<char>& regions) const;

 private:
  [[nodiscard]] LossSlope joule(std::size_t t) const;
  [[nodiscard]] LossSlope proximity(std::size_t t) const;

  const EddySystem& system_;
  const FieldSolution& field_;
  std::vector<double> strands_;  ///< by RegionId: proximity loss over the volume integral of H^2
};

}  // namespace cw
