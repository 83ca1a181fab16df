#pragma once

#include <Eigen/Core>
#include <memory>
#include <span>

#include "solver/thermal/thermal_mesh.hpp"

namespace cw {

/// Two sets of unknowns that exchange radiation.
using Couple = std::pair<std::vector<int>, std::vector<int>>;

/// Solution of one implicit step.
struct StepChange {
  Eigen::VectorXd enthalpy;  ///< x [J/m^3]
  Eigen::VectorXd kelvin;    ///< D x [K]
  Eigen::VectorXd given;     ///< K D x [W]
};

/// The symmetric matrix that maps temperatures [K] to powers [W], with the factorisations for an
/// implicit step and for a steady state. Its structure is set up once.
class HeatMatrix {
 public:
  /// `couples` are pairs of sets of unknowns; each member of one set exchanges heat with all
  /// members of the other.
  explicit HeatMatrix(const ThermalMesh& mesh, const std::vector<Couple>& couples = {});
  ~HeatMatrix();
  HeatMatrix(HeatMatrix&&) noexcept;
  HeatMatrix& operator=(HeatMatrix&&) noexcept;

  /// Sets all to zero, before the elements are added.
  void clear();
  /// `lower`: lower triangle of its 7 x 7 matrix, row after row [W/K].
  void set_element(std::size_t element, const std::array<double, 28>& lower);
  /// Adds to one entry and its mirror image [W/K]; neither is the middle of an element.
  void add(int row, int column, double value);

  [[nodiscard]] Eigen::VectorXd times(const Eigen::VectorXd& kelvin) const;

  /// Factorises volume + gamma S K S, S = diag(sqrt(dT/dh)): symmetric and positive definite even
  /// where dT/dh = 0. Throws SolveError.
  void factorise_step(const Eigen::VectorXd& volume, const Eigen::VectorXd& slope, double gamma);
  /// Solution x of (1 + gamma V^-1 K D) x = b, D = diag(dT/dh), with the last `factorise_step`.
  [[nodiscard]] StepChange solve_step(const Eigen::VectorXd& b) const;

  /// Solution T of K T = power, with T = 0 at the unknowns marked in `held`. Throws SolveError if
  /// heat cannot leave by any route.
  [[nodiscard]] Eigen::VectorXd solve_steady(const Eigen::VectorXd& power,
                                             const std::vector<char>& held);

 private:
  struct Work;
  std::unique_ptr<Work> work_;
};

}  // namespace cw
