#include "solver/coupled/ring_response.hpp"

#include <Eigen/LU>
#include <Eigen/QR>
#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include "mesh/generate.hpp"
#include "solver/circuit/coaxial_loops.hpp"
#include "solver/field/sources.hpp"

namespace cw {

namespace {

using Complex = std::complex<double>;
using std::numbers::pi;

/// Corners of a rectangle of the half-plane, one side on the axis.
struct Extent {
  double radius = 0.0, bottom = 1e300, top = -1e300;
  void include(Point p) {
    radius = std::max(radius, p.r);
    bottom = std::min(bottom, p.z);
    top = std::max(top, p.z);
  }
};

Extent extent_of(const std::vector<SectionRegion>& bodies) {
  Extent extent;
  for (const SectionRegion& body : bodies) {
    if (const auto* polygon = std::get_if<Polygon>(&body.shape)) {
      for (const Point p : polygon->outline) extent.include(p);
    } else {
      const auto& disc = std::get<Disc>(body.shape);
      extent.include(disc.centre + Point{disc.radius, disc.radius});
      extent.include(disc.centre - Point{0, disc.radius});
    }
  }
  return extent;
}

/// Points on a circle about `centre`, beginning with the outermost.
std::vector<Point> circle(Point centre, double radius, int count) {
  std::vector<Point> points;
  for (int k = 0; k < count; ++k) {
    const double angle = 2 * pi * (k + 0.5) / count;
    points.push_back(centre + Point{radius * std::cos(angle), radius * std::sin(angle)});
  }
  return points;
}

/// Points along the side and both ends of a rectangle on the axis, about `step` apart.
std::vector<Point> round_rectangle(const Extent& e, double step) {
  std::vector<Point> points;
  const int across = std::max(1, static_cast<int>(std::lround(e.radius / step)));
  const int along = std::max(2, static_cast<int>(std::lround((e.top - e.bottom) / step)));
  for (int k = 0; k < across; ++k)
    for (const double z : {e.bottom, e.top}) points.push_back({e.radius * (k + 0.5) / across, z});
  for (int k = 0; k <= along; ++k)
    points.push_back({e.radius, e.bottom + (e.top - e.bottom) * k / along});
  return points;
}

/// Mutual inductances of filaments [H]; the second set lies `dz` higher.
Eigen::MatrixXd mutual(const std::vector<Point>& a, const std::vector<Point>& b, double dz) {
  Eigen::MatrixXd m(a.size(), b.size());
  for (std::size_t i = 0; i < a.size(); ++i)
    for (std::size_t k = 0; k < b.size(); ++k)
      m(i, k) = coaxial_mutual(a[i].r, b[k].r, b[k].z + dz - a[i].z);
  return m;
}

/// Moore-Penrose inverse; pivots below 1e-10 of the largest are rounding.
Eigen::MatrixXd inverse_of(const Eigen::MatrixXd& matrix) {
  Eigen::CompleteOrthogonalDecomposition<Eigen::MatrixXd> orthogonal;
  orthogonal.setThreshold(1e-10);
  return orthogonal.compute(matrix).pseudoInverse();
}

/// A_phi of 1 A in each source, at the unknowns inside conductors [Wb/m].
Eigen::MatrixXd incident_fields(const EddySystem& system, const std::vector<Point>& sources) {
  const Mesh& mesh = system.mesh();
  std::vector<char> wanted(mesh.nodes.size(), 0);
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
    if (system.media()[mesh.region[t]].conductivity > 0)
      for (const int node : mesh.triangles[t]) wanted[node] = 1;
  Eigen::MatrixXd a =
      Eigen::MatrixXd::Zero(system.unknowns(), static_cast<Eigen::Index>(sources.size()));
  for (std::size_t i = 0; i < mesh.nodes.size(); ++i) {
    const int dof = system.dofs().of_node[i];
    if (wanted[i] == 0 || dof < 0) continue;
    const Point p = mesh.nodes[i];
    for (std::size_t k = 0; k < sources.size(); ++k)
      a(dof, k) = coaxial_mutual(sources[k].r, p.r, sources[k].z - p.z) / (2 * pi * p.r);
  }
  return a;
}

/// The scattered field of each source, and its coupling with the others: moments c_ij = integral of
/// J_j A_i over the conductors.
struct Scattered {
  Eigen::MatrixXcd moments;
  Eigen::MatrixXcd total;  ///< incident and scattered A over unknowns
};

Scattered scatter_of(EddySystem& system, const Eigen::MatrixXd& incident, Frequency f) {
  const Complex jw = imaginary_unit * f.omega();
  Scattered s;
  s.total = incident.cast<Complex>();
  // The incident field has no sources here and the media are non-magnetic: it acts only through the
  // eddy-current term.
  s.total += system.solve(-jw * system.apply_mass(s.total));
  s.moments = -jw * (incident.transpose() * system.apply_mass(s.total));
  return s;
}

}  // namespace

RingAnswer ring_answer(const Disc& ring, const Medium& metal, Frequency f, const Sizing& sizing) {
  // Filaments at the image points of close neighbours, sources nearer than any neighbour.
  constexpr int inside = 16, outside = 24;
  const double skin = skin_depth(metal.conductivity, 1 / (mu0 * metal.reluctivity), f);
  Section section;
  section.regions.push_back({"turn.1", ring, skin});
  const Mesh mesh = generate_mesh(section, sizing);
  EddySystem system(mesh, Media{{}, metal});
  system.factorise(f);
  const Complex jw = imaginary_unit * f.omega();
  const auto sources =
      circle(ring.centre, std::min(1.75 * ring.radius, 0.8 * ring.centre.r), outside);
  const Eigen::MatrixXd incident = incident_fields(system, sources);
  const Scattered scattered = scatter_of(system, incident, f);
  const Eigen::VectorXd voltage = voltage_source(system, 1);
  const Eigen::VectorXcd driven = system.solve(voltage.cast<Complex>());
  RingAnswer answer;
  answer.conductance = loop_conductance(system, 1);
  const Complex admittance = answer.conductance - jw * voltage.cast<Complex>().dot(driven);
  const Eigen::VectorXcd moments =
      (incident.transpose() * voltage).cast<Complex>() -
      jw * (incident.transpose() * system.apply_mass(driven));  // for 1 V
  const Eigen::VectorXcd currents =
      -jw * (scattered.total.transpose() * voltage.cast<Complex>());  // at 0 V
  answer.filaments = circle({ring.centre.r, ring.centre.z}, 0.7 * ring.radius, inside);
  const Eigen::MatrixXcd to_filaments =
      inverse_of(mutual(sources, answer.filaments, 0.0)).cast<Complex>();
  answer.response = to_filaments *
                    (scattered.moments - moments * (currents / admittance).transpose()) *
                    to_filaments.transpose();
  answer.drive = to_filaments * moments / admittance;
  answer.induced = -(to_filaments * currents) / admittance;
  answer.impedance = 1.0 / admittance;
  for (Point& p : answer.filaments) p.z -= ring.centre.z;
  return answer;
}

FieldAnswer body_answer(const std::vector<SectionRegion>& bodies, const Media& media, Frequency f,
                        const Sizing& sizing, double clearance) {
  Section section;
  section.regions = bodies;
  for (SectionRegion& body : section.regions)
    body.largest_edge = std::min(body.largest_edge, 0.5 * clearance);
  const Mesh mesh = generate_mesh(section, sizing);
  EddySystem system(mesh, media);
  system.factorise(f);
  const Extent extent = extent_of(bodies);
  const double away = 0.5 * clearance;
  const auto sources =
      round_rectangle({extent.radius + away, extent.bottom - away, extent.top + away}, 0.5 * away);
  const double deep =
      std::min({0.6 * away, 0.5 * extent.radius, 0.3 * (extent.top - extent.bottom)});
  FieldAnswer answer;
  answer.filaments =
      round_rectangle({extent.radius - deep, extent.bottom + deep, extent.top - deep}, 0.8 * deep);
  const Eigen::MatrixXcd to_filaments =
      inverse_of(mutual(sources, answer.filaments, 0.0)).cast<Complex>();
  answer.response = to_filaments * scatter_of(system, incident_fields(system, sources), f).moments *
                    to_filaments.transpose();
  return answer;
}

double distance_to(const std::vector<SectionRegion>& bodies, Point p) {
  const Extent e = extent_of(bodies);
  const double beyond = std::max({p.z - e.top, e.bottom - p.z, 0.0});
  return std::hypot(std::max(p.r - e.radius, 0.0), beyond);
}

namespace {

/// The dense system of all filament currents of a coil.
class RingSystem {
 public:
  RingSystem(std::span<const PlacedRing> rings, const FieldAnswer* bodies)
      : rings_(rings), bodies_(bodies) {
    for (const PlacedRing& ring : rings) {
      first_.push_back(size_);
      size_ += static_cast<Eigen::Index>(ring.answer->filaments.size());
    }
    couple();
  }

  /// Currents of all filaments for the given currents of the rings, by fixed-point iteration: each
  /// conductor responds to the field of all others, and the responses of neighbours are weaker than
  /// their causes, so this converges. If it does not do so soon, a direct solution.
  [[nodiscard]] Eigen::VectorXcd solve() const {
    constexpr int most = 80;
    constexpr double settled = 1e-7;  // rounding of the filaments' currents stops it at some 5e-9
    Eigen::VectorXcd own(size_);
    for (std::size_t k = 0; k < rings_.size(); ++k)
      own.segment(first_[k], count(k)) = rings_[k].weight * rings_[k].answer->drive;
    Eigen::VectorXcd currents = own;
    for (int step = 0; step < most; ++step) {
      const Eigen::VectorXcd next = own + answers(linkages(currents));
      const double change = (next - currents).norm();
      currents = next;
      if (change < settled * currents.norm()) return currents;
    }
    Eigen::MatrixXcd matrix(size_, size_);
    for (Eigen::Index k = 0; k < size_; ++k) {
      const Eigen::VectorXcd unit = Eigen::VectorXcd::Unit(size_, k);
      matrix.col(k) = unit - answers(linkages(unit));
    }
    return matrix.partialPivLu().solve(own);
  }
  /// Flux linkages with everything else [Wb].
  [[nodiscard]] Eigen::VectorXcd linkages(const Eigen::VectorXcd& currents) const {
    Eigen::VectorXcd linked(size_);
    linked.real() = coupling_ * currents.real();
    linked.imag() = coupling_ * currents.imag();
    if (bodies_ == nullptr) return linked;
    const Eigen::VectorXcd at_bodies = to_bodies_.transpose() * currents;
    return linked + to_bodies_ * (bodies_->response * at_bodies);
  }
  /// Power that enters the bodies [W].
  [[nodiscard]] double body_power(const Eigen::VectorXcd& currents, Frequency f) const {
    if (bodies_ == nullptr) return 0.0;
    const Eigen::VectorXcd linked = to_bodies_.transpose() * currents;
    return ((-imaginary_unit * f.omega()) * (bodies_->response * linked).dot(linked)).real();
  }
  [[nodiscard]] Eigen::Index first(std::size_t k) const { return first_[k]; }
  [[nodiscard]] Eigen::Index count(std::size_t k) const {
    return static_cast<Eigen::Index>(rings_[k].answer->filaments.size());
  }

 private:
  /// Filament currents with which the rings respond.
  [[nodiscard]] Eigen::VectorXcd answers(const Eigen::VectorXcd& linked) const {
    Eigen::VectorXcd currents(size_);
    for (std::size_t k = 0; k < rings_.size(); ++k)
      currents.segment(first_[k], count(k)) =
          rings_[k].answer->response * linked.segment(first_[k], count(k));
    return currents;
  }

  void couple() {
    coupling_ = Eigen::MatrixXd::Zero(size_, size_);
    for (std::size_t k = 0; k < rings_.size(); ++k)
      for (std::size_t l = k + 1; l < rings_.size(); ++l) {
        const Eigen::MatrixXd& m = pair(k, l);
        coupling_.block(first_[k], first_[l], count(k), count(l)) = m;
        coupling_.block(first_[l], first_[k], count(l), count(k)) = m.transpose();
      }
    if (bodies_ == nullptr) return;
    to_bodies_.resize(size_, static_cast<Eigen::Index>(bodies_->filaments.size()));
    for (std::size_t k = 0; k < rings_.size(); ++k)
      to_bodies_.middleRows(first_[k], count(k)) =
          mutual(rings_[k].answer->filaments, bodies_->filaments, -rings_[k].z).cast<Complex>();
  }

  /// Coupling of two rings; in an evenly spaced row, equal pairs are computed once.
  const Eigen::MatrixXd& pair(std::size_t k, std::size_t l) {
    const double dz = rings_[l].z - rings_[k].z;
    for (const Pair& known : pairs_)
      if (known.a == rings_[k].answer && known.b == rings_[l].answer &&
          std::abs(known.dz - dz) < 1e-9 * std::abs(dz))
        return known.m;
    pairs_.push_back({rings_[k].answer, rings_[l].answer, dz,
                      mutual(rings_[k].answer->filaments, rings_[l].answer->filaments, dz)});
    return pairs_.back().m;
  }

  struct Pair {
    const RingAnswer *a, *b;
    double dz;
    Eigen::MatrixXd m;
  };

  std::span<const PlacedRing> rings_;
  const FieldAnswer* bodies_;
  std::vector<Eigen::Index> first_;
  Eigen::Index size_ = 0;
  std::vector<Pair> pairs_;
  Eigen::MatrixXd coupling_;  ///< of filaments of different rings [H]
  Eigen::MatrixXcd to_bodies_;
};

}  // namespace

RingFigures solve_rings(std::span<const PlacedRing> rings, const FieldAnswer* bodies, Frequency f) {
  const RingSystem system(rings, bodies);
  const Eigen::VectorXcd currents = system.solve();
  const Eigen::VectorXcd linkages = system.linkages(currents);
  RingFigures figures;
  figures.frequency = f;
  for (std::size_t k = 0; k < rings.size(); ++k) {
    const RingAnswer& ring = *rings[k].answer;
    const Eigen::VectorXcd linked = linkages.segment(system.first(k), system.count(k));
    const Eigen::VectorXcd own = currents.segment(system.first(k), system.count(k));
    const Complex voltage =
        rings[k].weight * ring.impedance + (ring.induced.transpose() * linked).value();
    figures.voltage.push_back(voltage);
    figures.impedance += rings[k].weight * voltage;
    // J* E over the ring: the net power from its own field is zero.
    figures.loss.push_back(
        (rings[k].weight * voltage - imaginary_unit * f.omega() * own.dot(linked)).real());
    figures.conductance.push_back(ring.conductance);
  }
  figures.reflected = system.body_power(currents, f);
  return figures;
}

}  // namespace cw
