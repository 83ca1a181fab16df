#pragma once

#include <Eigen/Core>
#include <functional>
#include <memory>
#include <vector>

namespace cw {

/// One implicit stage of a step: what y obeys  y = base + gamma f(time, y).
struct ImplicitStage {
  double time, gamma;  ///< [s]
  const Eigen::VectorXd& base;
  bool first;  ///< of its step
};

/// A system y' = f(t, y) for the kept integrator, free of its types.
struct ImplicitSystem {
  std::function<void(double t, const Eigen::VectorXd& y, Eigen::VectorXd& slope)> rate;
  /// Solves a stage from the guess in y; false where it cannot: a shorter step is tried.
  std::function<bool(const ImplicitStage& stage, Eigen::VectorXd& y)> solve;
  /// Functions whose zero ends a step; `directions` +1 rising, -1 falling.
  std::function<void(double t, const Eigen::VectorXd& y, Eigen::VectorXd& values)> roots;
  std::vector<int> directions;
  Eigen::VectorXd tolerance;  ///< absolute, per unknown
  /// About how y will change, per second: where the first stage is looked for. Empty: not known.
  Eigen::VectorXd drift = {};
};

struct SessionLimits {
  double first_step = 0.0, largest_step = 0.0;  ///< [s]; 0: the integrator's choice
  double stop_time = 0.0;                       ///< never stepped over
};

/// One stretch of integration. Throws SolveError with the integrator's own message and the time.
class ArkodeSession {
 public:
  ArkodeSession(ImplicitSystem system, double time, const Eigen::VectorXd& y, SessionLimits limits);
  ~ArkodeSession();
  ArkodeSession(const ArkodeSession&) = delete;
  ArkodeSession& operator=(const ArkodeSession&) = delete;

  /// gamma of all implicit stages over the step. The first of them lies 2 gamma on; the second, at
  /// the end of the step, is of order 2.
  static constexpr double diagonal = 0.43586652150845967;

  enum class Outcome { stepped, at_root, at_stop_time };
  Outcome step();
  [[nodiscard]] double time() const;
  [[nodiscard]] const Eigen::VectorXd& y() const;
  [[nodiscard]] std::vector<int> roots_found() const;  ///< nonzero where found
  /// What would be as long as tolerances allow after the last step, stop time or not [s].
  [[nodiscard]] double fitting_step() const;
  [[nodiscard]] long rejected() const;

 private:
  struct Work;
  std::unique_ptr<Work> work_;
};

}  // namespace cw
