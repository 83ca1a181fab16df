#pragma once

#include <Eigen/Core>
#include <functional>
#include <memory>
#include <vector>

namespace cw {

/// One implicit stage of a step: the equation y = base + gamma f(time, y).
struct ImplicitStage {
  double time, gamma;  ///< [s]
  const Eigen::VectorXd& base;
  bool first;  ///< first stage of its step
};

/// A system y' = f(t, y) for the integrator, independent of its types.
struct ImplicitSystem {
  std::function<void(double t, const Eigen::VectorXd& y, Eigen::VectorXd& slope)> rate;
  /// Solves a stage from the guess in y; false if it cannot: the integrator then tries a shorter
  /// step.
  std::function<bool(const ImplicitStage& stage, Eigen::VectorXd& y)> solve;
  /// Functions whose zeros end a step; `directions` +1 rising, -1 falling.
  std::function<void(double t, const Eigen::VectorXd& y, Eigen::VectorXd& values)> roots;
  std::vector<int> directions;
  Eigen::VectorXd tolerance;  ///< absolute, per unknown
  /// Approximate rate of change of y per second, for the first guess of the first stage. Empty:
  /// unknown.
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

  /// gamma of all implicit stages, relative to the step. The first of them is 2 gamma after the
  /// start; the second, at the end of the step, is of order 2.
  static constexpr double diagonal = 0.43586652150845967;

  enum class Outcome { stepped, at_root, at_stop_time };
  Outcome step();
  [[nodiscard]] double time() const;
  [[nodiscard]] const Eigen::VectorXd& y() const;
  [[nodiscard]] std::vector<int> roots_found() const;  ///< nonzero where found
  /// Length of the next step that the tolerances allow, whatever the stop time [s].
  [[nodiscard]] double fitting_step() const;
  [[nodiscard]] long rejected() const;

 private:
  struct Work;
  std::unique_ptr<Work> work_;
};

}  // namespace cw
