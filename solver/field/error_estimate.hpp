#pragma once

#include <vector>

#include "solver/field/loss_slope.hpp"

namespace cw {

/// Relative errors of what a user reads from the coil in series, from one mesh; >= 0, safety factor
/// included.
struct ErrorEstimate {
  double inductance = 0.0;
  double current = 0.0;  ///< at a fixed voltage across the rings
  /// At a fixed current. Of the loss in all rings together; of turns of strands with what the field
  /// across them adds (TurnSet::proximity).
  double coil_loss = 0.0;
  /// Of the loss in each region, turns too, by RegionId; 0 where there is none.
  std::vector<double> power;
  /// Share of each region in all the loss there is.
  std::vector<double> share;

  /// What a loss is uncertain by beside its own error: twice the error of the current where that
  /// follows from a voltage.
  [[nodiscard]] double from_drive(bool fixed_voltage) const {
    return fixed_voltage ? 2 * current : 0.0;
  }
};

/// What is asked of a mesh.
struct AccuracyGoal {
  double relative = 2e-3;      ///< largest estimated error of inductance, coil loss and each power
  double least_share = 1e-3;   ///< powers below this share of all loss are left aside
  bool fixed_voltage = false;  ///< losses are those at a fixed voltage, not at a fixed current
};

/// How a mesh should be refined.
struct EdgesToSplit {
  std::vector<char> marked;  ///< by mid-edge node (index less mesh.vertices)
  int worst = -1;            ///< the mid-edge node that holds most of the largest excess
};

/// The largest of the estimated errors that `goal` asks for, over goal.relative: at most 1 where it
/// is met. `turns` as the estimate was made with.
double excess(const ErrorEstimate& estimate, const TurnSet& turns, const AccuracyGoal& goal);

/// Discretisation error of the second-order solution, estimated quantity by quantity without a
/// second mesh, and where it comes from.
///
/// With scaled turn voltages V/(j w) the field and the turns obey one complex symmetric form b, and
/// Z - Z_h = j w b(e, e) for the error e. It is sought in the cubic functions that the mesh lacks
/// (cubic_surplus.hpp) together with the second-order ones, whose share comes by back-substitution
/// with the factorisation at hand. What it does to the losses, to first order, is the residual
/// weighted by the dual solution. Sources: R. Becker & R. Rannacher, Acta Numerica 10 (2001) 1; R.
/// E. Bank & R. K. Smith, SIAM J. Numer. Anal. 30 (1993) 921 (both from memory).
///
/// Reported is  (2 |d| + |d - d0| + s / 10) / |quantity| + 2e-5:  d the change by the correction,
/// d0 the change when the cubic functions answer alone, s the sum over the triangles of what the
/// correction does to a loss without regard to sign, so that the estimate does not vanish where
/// contributions cancel; 2 the safety factor; 2e-5 for curved borders, quadrature and open space.
/// Costs two back-substitutions: measured at 38-50 % of assembly, factorisation and solution.
///
/// How honest, over 240 random coils round rods, tubes, slugs, stepped rods and cups (1-500 kHz,
/// seven metals, meshes Sizing{}.scaled(0.7 ... 1.6)) against scaled(0.3); test_convergence
/// --gtest_also_run_disabled_tests --gtest_filter=*HundredsOfRandomCoils:
///                values  enclosed  estimate/error, median  95th percentile  rank correlation
///   inductance      240    98.8 %                    2.12              4.3              0.98
///   coil loss       202     100 %                    2.48              5.3              0.98
///   body power      272    97.8 %                    2.95             18.3              0.92
/// Against the closed form of a long rod the estimate holds up to scaled(1.3) and fails at
/// scaled(1.6) with a radius of 40 skin depths: so coarse a mesh is beyond what cubic functions can
/// tell.
class ErrorAnalysis {
 public:
  /// `system` must stay factorised at the frequency of `response`; all must outlive it.
  ErrorAnalysis(const EddySystem& system, const TurnSet& turns, const TurnResponse& response,
                const SeriesCoil& coil);

  [[nodiscard]] const ErrorEstimate& estimate() const { return estimate_; }

  /// Edges whose halving is expected to bring every figure within the goal; where that is far,
  /// those that hold most of the error. Goal-oriented: the residual on each edge, weighted by the
  /// dual solution of each figure that misses the goal; one back-substitution each.
  [[nodiscard]] EdgesToSplit edges_to_split(const AccuracyGoal& goal) const;

 private:
  void estimate_losses();
  /// Share of each edge in what a figure with this dual solution is off by; they sum to 1.
  [[nodiscard]] std::vector<double> edge_shares(const Eigen::VectorXcd& dual) const;

  const EddySystem& system_;
  const TurnSet& turns_;
  const SeriesCoil& coil_;
  EnrichedProblem problem_;
  FieldLosses losses_;
  Eigen::VectorXcd residual_;
  Corrections corrections_;
  ErrorEstimate estimate_;
};

/// The estimate alone.
ErrorEstimate estimate_error(const EddySystem& system, const TurnSet& turns,
                             const TurnResponse& response, const SeriesCoil& coil);

}  // namespace cw
