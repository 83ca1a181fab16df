#pragma once

#include <Eigen/Core>
#include <functional>
#include <memory>
#include <vector>

namespace cw {

/// A system y' = f(t, y) for the kept integrator, free of its types.
struct ImplicitSystem {
  std::function<void(double t, const Eigen::VectorXd& y, Eigen::VectorXd& slope)> rate;
  /// Prepares solving (1 - gamma J) x = b at (t, y); with `fresh` J is evaluated anew.
  std::function<void(const Eigen::VectorXd& y, double gamma, bool fresh)> prepare;
  std::function<void(const Eigen::VectorXd& b, Eigen::VectorXd& x)> solve;
  /// Functions whose zero ends a step; `directions` +1 rising, -1 falling.
  std::function<void(double t, const Eigen::VectorXd& y, Eigen::VectorXd& values)> roots;
  std::vector<int> directions;
  Eigen::VectorXd tolerance;  ///< absolute, per unknown
  /// About how y will change, per second: where stages are looked for first. Empty: as it did.
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
