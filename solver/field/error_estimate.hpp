#pragma once

#include <vector>

#include "solver/field/loss_slope.hpp"

namespace cw {

/// Relative errors of the main figures of the coil in series, from one mesh; >= 0, safety factor
/// included.
struct ErrorEstimate {
  double inductance = 0.0;
  double current = 0.0;  ///< at a fixed voltage across the rings
  /// At a fixed current, for the loss in all rings together; for strands including the proximity
  /// loss (TurnSet::proximity).
  double coil_loss = 0.0;
  /// For the loss in each region, turns included, by RegionId; 0 where there is none.
  std::vector<double> power;
  /// Share of each region in the total loss.
  std::vector<double> share;

  /// Uncertainty that the drive adds to a loss: twice the error of the current, if the current
  /// follows from a voltage.
  [[nodiscard]] double from_drive(bool fixed_voltage) const {
    return fixed_voltage ? 2 * current : 0.0;
  }
};

/// The accuracy that a mesh has to reach.
struct AccuracyGoal {
  double relative = 2e-3;      ///< largest estimated error of inductance, coil loss and each power
  double least_share = 1e-3;   ///< powers below this share of the total loss are ignored
  bool fixed_voltage = false;  ///< losses are those at a fixed voltage, not at a fixed current
};

/// Edges to split to refine a mesh.
struct EdgesToSplit {
  std::vector<char> marked;  ///< by mid-edge node (index less mesh.vertices)
  int worst = -1;            ///< the mid-edge node with the largest share in the largest excess
};

/// The largest estimated error that counts for `goal`, over goal.relative: at most 1 if the goal is
/// met. `turns` as for the estimate.
double excess(const ErrorEstimate& estimate, const TurnSet& turns, const AccuracyGoal& goal);

/// Discretisation error of the second-order solution, estimated for each figure without a second
/// mesh, and its distribution over the mesh.
///
/// With scaled turn voltages V/(j w) the field and the turns obey one complex symmetric form b, and
/// Z - Z_h = j w b(e, e) for the error e. The error is approximated in the cubic functions that the
/// mesh lacks (cubic_surplus.hpp) together with the second-order ones, which follow by
/// back-substitution with the existing factorisation. Its effect on the losses, to first order, is
/// the residual weighted by the dual solution. Sources: R. Becker & R. Rannacher, Acta Numerica 10
/// (2001) 1; R. E. Bank & R. K. Smith, SIAM J. Numer. Anal. 30 (1993) 921 (both from memory).
///
/// The estimate is (2 |d| + |d - d0| + s / 10) / |quantity| + 2e-5. Here d is the change by the
/// correction, and d0 the change with the cubic functions alone. s is the sum over the triangles of
/// the absolute changes of a loss, so that the estimate does not vanish where contributions cancel.
/// 2 is the safety factor; 2e-5 covers curved borders, quadrature and open space. Costs two
/// back-substitutions: measured at 38-50 % of assembly, factorisation and solution.
///
/// Reliability over 240 random coils round rods, tubes, slugs, stepped rods and cups (1-500 kHz,
/// seven metals, meshes Sizing{}.scaled(0.7 ... 1.6)) compared with scaled(0.3); test_convergence
/// --gtest_also_run_disabled_tests --gtest_filter=*HundredsOfRandomCoils:
///                values  enclosed  estimate/error, median  95th percentile  rank correlation
///   inductance      240    98.8 %                    2.12              4.3              0.98
///   coil loss       202     100 %                    2.48              5.3              0.98
///   body power      272    97.8 %                    2.95             18.3              0.92
/// Compared with the closed form of a long rod, the estimate holds up to scaled(1.3) and fails at
/// scaled(1.6) with a radius of 40 skin depths: cubic functions cannot resolve the error of so
/// coarse a mesh.
class ErrorAnalysis {
 public:
  /// `system` must stay factorised at the frequency of `response`; all must outlive it.
  ErrorAnalysis(const EddySystem& system, const TurnSet& turns, const TurnResponse& response,
                const SeriesCoil& coil);

  [[nodiscard]] const ErrorEstimate& estimate() const { return estimate_; }

  /// Edges to split so that every figure is expected to meet the goal; if that is far off, those
  /// with the largest shares in the error. Goal-oriented: the residual on each edge, weighted by
  /// the dual solution of each figure that misses the goal; one back-substitution each.
  [[nodiscard]] EdgesToSplit edges_to_split(const AccuracyGoal& goal) const;

 private:
  void estimate_losses();
  /// Share of each edge in the error of the figure with this dual solution; they sum to 1.
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
