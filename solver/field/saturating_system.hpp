#pragma once

#include <array>
#include <optional>
#include <vector>

#include "solver/field/saturating_cell.hpp"
#include "solver/field/turns.hpp"

namespace cw {

/// A coil in series that carries a current.
struct SeriesDrive {
  TurnSet turns;
  std::complex<double> current;  ///< at its terminals [A] rms
};

/// The discrete problem with field-dependent reluctivity,  K(A) A + j w M A = f,  and its Newton
/// tangent. The voltages V_k = j w u_k of massive turns in series join as unknowns beside A:
///   [ K + j w M    - j w B ]
///   [  - j w B^T     j w G ]        row 2: current of ring k is its weight times I
/// They are scaled to the size of A by the length of the turn. A given voltage at the terminals is
/// handled outside: the impedance that rings leave out follows from the solved field.
class SaturatingSystem {
 public:
  /// `base` gives mesh, numbering, media and border; without `drive` there is no coil.
  SaturatingSystem(const EddySystem& base, std::vector<SaturatingRegion> bodies, Frequency f,
                   const SeriesDrive* drive);
  /// Sets other laws or temperatures of the same bodies, another frequency and current. Structure,
  /// elimination order and linear triangles are kept. `base` must still exist.
  void renew(std::vector<SaturatingRegion> bodies, Frequency f, const SeriesDrive& drive);
  /// Changes only frequency and current; the factorisation stays, as a preconditioner.
  void move_to(Frequency f, const SeriesDrive& drive);

  [[nodiscard]] int unknowns() const { return pattern_.size; }
  [[nodiscard]] int potentials() const { return potentials_; }
  [[nodiscard]] Frequency frequency() const { return frequency_; }
  [[nodiscard]] const std::vector<SaturatingRegion>& bodies() const { return bodies_; }
  [[nodiscard]] const std::vector<SaturatingCell>& cells() const { return cells_; }
  /// Right-hand side of the drive.
  [[nodiscard]] Eigen::VectorXcd excitation() const;
  /// Ring voltages of a solution [V] rms.
  [[nodiscard]] std::vector<std::complex<double>> ring_voltages(const Eigen::VectorXcd& x) const;
  /// The reverse: unknowns from those of A and ring voltages.
  [[nodiscard]] Eigen::VectorXcd unknowns_of(
      const Eigen::VectorXcd& potential,
      const std::vector<std::complex<double>>& ring_voltage) const;
  /// Sum of the weighted ring voltages [V].
  [[nodiscard]] std::complex<double> coil_voltage(const Eigen::VectorXcd& x) const;
  /// Joule loss of the saturating bodies [W].
  [[nodiscard]] double body_loss(const Eigen::VectorXcd& x) const;

  /// Sets the reluctivity of every body to one value each, as if linear.
  void set_uniform(const std::vector<double>& nu);
  /// Evaluates the laws at x and returns  K(x) x + j w M x - f.
  Eigen::VectorXcd residual(const Eigen::VectorXcd& x, const Eigen::VectorXcd& f);
  /// Factorises P = K(nu + |B| nu'/2) + j w M at the potential last evaluated.
  void factorise();
  /// Prepares remainder() at the potential last evaluated.
  void linearise();
  /// (J - P) d, where J d is the derivative of the residual in direction d (real-linear, not
  /// complex-linear; symmetric plus skew) and P was factorised last. As long as the frequency
  /// stays, only the saturating cells contribute.
  [[nodiscard]] Eigen::VectorXcd remainder(const Eigen::VectorXcd& d) const;
  /// P^-1 r, in single precision; only used for P^-1 J d = d + P^-1 (J - P) d.
  [[nodiscard]] Eigen::VectorXcd precondition(const Eigen::VectorXcd& r) const;

 private:
  void make_cells();
  void assemble_linear();
  void join_coil();
  void take_media();

  const EddySystem& base_;
  std::vector<SaturatingRegion> bodies_;
  Frequency frequency_;
  std::optional<SeriesDrive> drive_;
  int potentials_;
  Pattern pattern_;
  std::vector<double> linear_, mass_;  ///< K of linear triangles, M of all
  std::vector<double> linear_mass_;    ///< M of linear triangles and of the rings
  std::vector<SaturatingCell> cells_;
  std::vector<CellRemainder> remainder_;
  std::vector<double> turn_length_;
  Eigen::VectorXd strand_source_;
  FactorisationOf<std::complex<float>> factorisation_;
  // What was factorised last.
  std::vector<std::array<double, 12>> factorised_nu_;  ///< by cell
  double factorised_omega_ = 0.0;
};

}  // namespace cw
