#pragma once

#include <array>
#include <functional>
#include <optional>
#include <vector>

#include "solver/field/permeability.hpp"
#include "solver/field/turns.hpp"

namespace cw {

/// A point of a triangle, for properties that vary inside a body.
struct MeshPoint {
  std::size_t triangle;
  double x, y;  ///< reference coordinates
  Point at;
};

/// What a body is made of at one point.
struct LocalMedium {
  double conductivity = 0.0;   ///< [S/m]
  double magnetisation = 1.0;  ///< Js(T)/Js(20 degC) there; 0 above the Curie point
};

/// A body whose permeability depends on the field, or whose properties vary with its temperature.
struct SaturatingRegion {
  RegionId region = 0;
  const EffectiveReluctivity* law = nullptr;  ///< null: the reluctivity of its Medium everywhere
  double magnetisation = 1.0;                 ///< the same all over the body
  /// Instead of the above and of the Medium's conductivity, when set.
  std::function<LocalMedium(const MeshPoint&)> local;
};

/// The medium of a body at a point; `uniform` is its entry in Media.
LocalMedium medium_at(const SaturatingRegion& body, const Medium& uniform, const MeshPoint& p);
/// Reluctivity [m/H] of a body at a point where |B| is `flux_rms` [T].
double reluctivity_at(const SaturatingRegion& body, const Medium& uniform, const MeshPoint& p,
                      double flux_rms);

/// A coil in series at its terminals.
struct SeriesDrive {
  TurnSet turns;
  bool fixed_voltage = false;     ///< else fixed current
  std::complex<double> terminal;  ///< [V] or [A] rms
  std::complex<double> outer =
      0.0;  ///< impedance between terminals and rings [ohm]: leads and the like
};

/// One saturating triangle at its twelve quadrature points.
struct SaturatingCell {
  std::size_t triangle;
  std::size_t body;                                  ///< index into the regions
  std::array<int, 6> dof;                            ///< unknowns, -1 where A = 0
  std::array<Eigen::Matrix<double, 2, 6>, 12> flux;  ///< B from the six potentials
  std::array<Eigen::Vector<double, 6>, 12> value;    ///< shape functions
  std::array<double, 12> volume;                     ///< 2 pi r dA [m^3]
  std::array<Point, 12> at;
  std::array<LocalMedium, 12> medium;
  ElementMatrix<6> mass;  ///< with its conductivity
  // At the present potential:
  std::array<Eigen::Matrix2d, 12> flux_density;  ///< rows r, z; columns real, imaginary [T] rms
  std::array<double, 12> nu, slope;              ///< EffectiveReluctivity::Value
};

/// The discrete problem with field-dependent reluctivity,  K(A) A + j w M A = f,  and its Newton
/// tangent. A coil in series joins as unknowns beside A, so that one matrix holds all: voltages V_k
/// = j w u_k, and at fixed voltage the current I:
///   [ K + j w M    - j w B    0 ]        row 2: current of ring k is its weight times I
///   [  - j w B^T     j w G   -b ]        row 3: the ring voltages add up to the terminal voltage
///   [     0         -b^T  -Z/jw ]        (strands: no u; b is the source of 1 A)
/// Unknowns are scaled to the size of A: u_k by the length of the turn, I by 1/mu0.
class SaturatingSystem {
 public:
  /// `base` gives mesh, numbering, media and border; without `drive` there is no coil.
  SaturatingSystem(const EddySystem& base, std::vector<SaturatingRegion> bodies, Frequency f,
                   const SeriesDrive* drive);
  /// The same bodies with other laws or temperatures, at another frequency and terminal current or
  /// voltage; structure, elimination order and linear triangles are kept. `base` must still stand.
  void renew(std::vector<SaturatingRegion> bodies, Frequency f, const SeriesDrive& drive);
  /// Another frequency and terminal current or voltage alone; the factorisation stays, as a
  /// preconditioner.
  void move_to(Frequency f, const SeriesDrive& drive);

  [[nodiscard]] int unknowns() const { return pattern_.size; }
  [[nodiscard]] int potentials() const { return potentials_; }
  [[nodiscard]] Frequency frequency() const { return frequency_; }
  [[nodiscard]] const std::vector<SaturatingRegion>& bodies() const { return bodies_; }
  [[nodiscard]] const std::vector<SaturatingCell>& cells() const { return cells_; }
  /// Right-hand side of the drive.
  [[nodiscard]] Eigen::VectorXcd excitation() const;
  /// Terminal current [A] and ring voltages [V] of a solution, rms.
  [[nodiscard]] std::complex<double> current(const Eigen::VectorXcd& x) const;
  [[nodiscard]] std::vector<std::complex<double>> ring_voltages(const Eigen::VectorXcd& x) const;
  /// The reverse: unknowns from those of A, ring voltages and terminal current.
  [[nodiscard]] Eigen::VectorXcd unknowns_of(const Eigen::VectorXcd& potential,
                                             const std::vector<std::complex<double>>& ring_voltage,
                                             std::complex<double> current) const;
  /// Sum of the weighted ring voltages [V].
  [[nodiscard]] std::complex<double> coil_voltage(const Eigen::VectorXcd& x) const;
  /// Joule loss of the saturating bodies [W].
  [[nodiscard]] double body_loss(const Eigen::VectorXcd& x) const;

  /// Sets the reluctivity of every body to one value each, as if linear.
  void set_uniform(const std::vector<double>& nu);
  /// Evaluates the laws at x and returns  K(x) x + j w M x - f.
  Eigen::VectorXcd residual(const Eigen::VectorXcd& x, const Eigen::VectorXcd& f);
  /// Prepares tangent() and precondition() at the potential last evaluated.
  void linearise();
  /// Factorises K(nu + |B| nu'/2) + j w M at the potential last evaluated.
  void factorise();
  /// Derivative of the residual in direction d: real-linear, not complex-linear. Symmetric plus
  /// skew.
  [[nodiscard]] Eigen::VectorXcd tangent(const Eigen::VectorXcd& d) const;
  [[nodiscard]] Eigen::VectorXcd precondition(const Eigen::VectorXcd& r) const;

 private:
  void make_cells();
  void assemble();
  void join_coil();
  void take_media();
  void join_terminals();
  [[nodiscard]] Eigen::VectorXcd multiply(const std::vector<double>& stiffness,
                                          const Eigen::VectorXcd& x) const;

  const EddySystem& base_;
  std::vector<SaturatingRegion> bodies_;
  Frequency frequency_;
  std::optional<SeriesDrive> drive_;
  int potentials_;
  Pattern pattern_;
  std::vector<double> linear_, mass_;  ///< K of linear triangles, M of all
  std::vector<double> linear_mass_;    ///< M of linear triangles and of the rings
  std::vector<double> secant_;         ///< K with the reluctivity of the linearisation
  std::vector<SaturatingCell> cells_;
  std::vector<Eigen::Matrix<double, 12, 12>> stiffening_;  ///< by cell: rest of the tangent
  std::vector<double> turn_length_;
  Eigen::VectorXd strand_source_;
  Factorisation factorisation_;
};

}  // namespace cw
