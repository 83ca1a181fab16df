#pragma once

#include <Eigen/Core>
#include <complex>
#include <vector>

#include "solver/field/turns.hpp"

namespace cw {

/// The coil in series over a band of frequencies at the cost of a few direct solves. The field is
/// approximated in the span of solutions at a few frequencies ("shifts"), by Galerkin projection.
/// Source: rational Krylov subspaces, A. Ruhe, Linear Algebra Appl. 58 (1984) 391 (from memory).
///
/// The turn voltages are unknowns beside A: with V = j w u, the series coil is one problem with a
/// constant source,
///   (K + j w M) x = b,   Z = j w b^T x,   K, M real, symmetric, positive semi-definite
///   (frequency_sweep.cpp),
/// so the model is a chain of resistances and inductances in parallel, all positive. Its error is
/// dZ = j w r^T (K + j w M)^-1 r with the residual r: quadratic in r, and bounded.
///
/// Use a mesh layered for the top of the band. Linear media only.
class FrequencySweep {
 public:
  /// Adds solves until error_estimate() <= tolerance everywhere in the band; the smallest tolerance
  /// that can be reached is 1e-9. Leaves `system` factorised at the last shift and keeps a
  /// reference to it. Throws SolveError unless 0 < low <= high, and if the tolerance is not met.
  FrequencySweep(EddySystem& system, const TurnSet& turns, Frequency low, Frequency high,
                 double tolerance = 1e-3);

  /// Of the rings in series [ohm]; at a shift it equals that of connect_in_series.
  [[nodiscard]] std::complex<double> impedance(Frequency f) const;
  /// For 1 A rms at the terminals, phase 0. The sum of all losses equals the resistance. Their
  /// distribution among the bodies, however, has an error of first order in r, which
  /// error_estimate() does not cover: measured with rod and tubes at the default tolerance, 4e-4
  /// over a band of 40 to 1, 1e-2 over 1000 to 1 (8e-4 at a tolerance of 1e-4).
  [[nodiscard]] FieldSolution field(Frequency f) const;
  /// Upper bound of |Z - Z of a direct solve| / its resistance (or / 1e-6 |Z| if the resistance is
  /// smaller than that). Valid at any frequency, outside the band too; infinite if no bound is
  /// known.
  [[nodiscard]] double error_estimate(Frequency f) const;

  /// Frequencies at which the model is exact, in the order chosen.
  [[nodiscard]] const std::vector<Frequency>& shifts() const { return shifts_; }
  /// Number of factorisations, each with one right-hand side per turn and a few more.
  [[nodiscard]] int solves() const { return static_cast<int>(shifts_.size()); }

 private:
  class Builder;

  /// Share of each mode in the solution.
  [[nodiscard]] Eigen::VectorXcd amplitudes(Frequency f) const;
  /// Upper bound of |error of Z| / resistance of the model.
  [[nodiscard]] double relative_bound(Frequency f) const;

  const EddySystem& system_;
  TurnSet turns_;
  double reference_;          ///< angular frequency w0 of the norm K + w0 M [rad/s]
  double dc_resistance_ = 0;  ///< of uniform turns [ohm]
  std::vector<Frequency> shifts_;
  std::vector<int> order_;  ///< basis vectors (complex) taken at each shift

  // Modes: the basis that makes both projected matrices diagonal, K -> kappa, w0 M -> 1 - kappa.
  Eigen::MatrixXd modes_;     ///< unknowns, then u of massive turns, by modes
  Eigen::VectorXd kappa_;     ///< 0 <= kappa <= 1
  Eigen::VectorXd coupling_;  ///< b^T mode
  std::complex<double>
      residual_response_;  ///< r^T (K + j w M)^-1 r at the last shift, r the residual at s = w0
};

}  // namespace cw
