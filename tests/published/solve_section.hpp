#pragma once

#include <limits>
#include <memory>
#include <string>
#include <variant>
#include <vector>

#include "mesh/generate.hpp"
#include "solver/field/sources.hpp"
#include "solver/field/turns.hpp"
#include "tests/published/check.hpp"
#include "tests/published/reference/dodd_deeds.hpp"

/// What the checks against published results share: bodies of given metal, meshed and solved by the
/// solver under test. Phasors are rms, as everywhere in the solver.
namespace cw::published {

using Complex = std::complex<double>;

/// A body of the half-plane and what it is made of.
struct Body {
  std::string name;
  std::variant<Disc, Polygon> shape;
  Medium medium{};  ///< left out: what air is, or strands
  double largest_edge = std::numeric_limits<double>::infinity();  ///< [m]
};

Medium medium(const reference::Metal& metal);

/// How to mesh and bound the bodies.
struct Problem {
  double hertz = 50.0;
  Sizing sizing{};
  std::variant<OpenSpace, Box> domain = OpenSpace{};
  BorderConditions border{};
};

/// Bodies meshed with skin layers for their media, and the system assembled on that mesh.
class Model {
 public:
  Model(const std::vector<Body>& bodies, const Problem& problem);
  /// The same mesh with the named bodies turned to air.
  [[nodiscard]] Model without(const std::vector<std::string>& names) const;

  [[nodiscard]] const Mesh& mesh() const { return *mesh_; }
  [[nodiscard]] EddySystem& system() { return *system_; }
  [[nodiscard]] RegionId region(const std::string& name) const;
  [[nodiscard]] Frequency frequency() const { return {problem_.hertz}; }
  /// The regions called `turn.*`, each of weight 1 and without resistance of its own.
  [[nodiscard]] TurnSet turns(TurnKind kind) const;

  /// Those turns in series, 1 A rms.
  SeriesCoil coil(TurnKind kind);
  /// Field of a right-hand side, without any driven turn.
  FieldSolution respond(const Eigen::VectorXd& rhs);
  /// Impedance [ohm] of filaments in series at these points, each in one triangle of the mesh.
  /// Their own self-inductance is infinite: only differences on one mesh mean anything.
  Complex filaments(const std::vector<Point>& points);
  /// Joule loss of a body [W].
  [[nodiscard]] double loss(const FieldSolution& field, const std::string& name) const;
  /// Time average of the magnetic energy [J], the outer space included.
  [[nodiscard]] double energy(const FieldSolution& field) const;

 private:
  Model(std::shared_ptr<const Mesh> mesh, Media media, const Problem& problem);

  std::shared_ptr<const Mesh> mesh_;
  Problem problem_;
  std::unique_ptr<EddySystem> system_;
};

/// The rings of a row as `turn.1`, `turn.2`, ..., their middle at z = 0; `bore` [m] makes them
/// tubes.
std::vector<Body> ring_bodies(const reference::RingRow& row, const Medium& medium,
                              double bore = 0.0);
/// Centres of those rings.
std::vector<Point> ring_centres(const reference::RingRow& row);

/// Inductance [H] of an impedance.
double inductance(Complex impedance, Frequency frequency);

/// Field at a point of the meshed half-plane; throws std::out_of_range outside it.
FieldPoint probe(const Mesh& mesh, const FieldSolution& field, Point p);

}  // namespace cw::published
