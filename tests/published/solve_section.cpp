#include "tests/published/solve_section.hpp"

#include <gtest/gtest.h>

#include <Eigen/LU>
#include <cmath>
#include <stdexcept>

#include "solver/fem/triangle.hpp"

namespace cw::published {

namespace {

double depth_at(const Medium& medium, double hertz) {
  if (medium.conductivity <= 0) return std::numeric_limits<double>::infinity();
  return std::sqrt(medium.reluctivity / (reference::kPi * hertz * medium.conductivity));
}

Section section_of(const std::vector<Body>& bodies, const Problem& problem) {
  Section section;
  section.domain = problem.domain;
  for (const Body& b : bodies) {
    section.regions.push_back({b.name, b.shape, depth_at(b.medium, problem.hertz), b.largest_edge});
  }
  return section;
}

Media media_of(const std::vector<Body>& bodies) {
  Media media(1);
  for (const Body& b : bodies) media.push_back(b.medium);
  return media;
}

}  // namespace

Medium medium(const reference::Metal& metal) {
  return {1.0 / metal.rho, 1.0 / (mu0 * metal.mu_r)};
}

Model::Model(const std::vector<Body>& bodies, const Problem& problem)
    : Model(
          std::make_shared<const Mesh>(generate_mesh(section_of(bodies, problem), problem.sizing)),
          media_of(bodies), problem) {}

Model::Model(std::shared_ptr<const Mesh> mesh, Media media, const Problem& problem)
    : mesh_(std::move(mesh)),
      problem_(problem),
      system_(std::make_unique<EddySystem>(*mesh_, std::move(media), problem.border)) {}

Model Model::without(const std::vector<std::string>& names) const {
  Media media = system_->media();
  for (const std::string& name : names) media.at(region(name)) = Medium{};
  return {mesh_, std::move(media), problem_};
}

RegionId Model::region(const std::string& name) const {
  const RegionId id = mesh_->find_region(name);
  if (id < 0) throw std::out_of_range("no region " + name);
  return id;
}

TurnSet Model::turns(TurnKind kind) const {
  TurnSet turns{kind, {}, {}, {}};
  for (std::size_t i = 0; i < mesh_->region_name.size(); ++i) {
    if (mesh_->region_name[i].rfind("turn.", 0) == 0) {
      turns.region.push_back(static_cast<RegionId>(i));
    }
  }
  turns.weight.assign(turns.region.size(), 1.0);
  turns.resistance.assign(turns.region.size(), 0.0);
  return turns;
}

SeriesCoil Model::coil(TurnKind kind) {
  const TurnSet set = turns(kind);
  return connect_in_series(*system_, set, solve_turns(*system_, set, frequency()));
}

FieldSolution Model::respond(const Eigen::VectorXd& rhs) {
  system_->factorise(frequency());
  FieldSolution field{frequency(), system_->media(), {}, {}, {}};
  field.potential = system_->to_nodes(system_->solve(rhs.cast<Complex>()).col(0));
  field.loop_voltage.assign(field.media.size(), 0.0);
  field.impressed.assign(field.media.size(), 0.0);
  return field;
}

Complex Model::filaments(const std::vector<Point>& points) {
  Eigen::VectorXd source = Eigen::VectorXd::Zero(system_->unknowns());
  for (const Point p : points) source += filament_source(*system_, p);
  system_->factorise(frequency());
  const Eigen::VectorXcd rhs = source.cast<Complex>();
  const Eigen::VectorXcd potential = system_->solve(rhs).col(0);
  return Complex{0, frequency().omega()} * rhs.cwiseProduct(potential).sum();
}

double Model::loss(const FieldSolution& field, const std::string& name) const {
  return region_losses(*mesh_, field).at(region(name));
}

double Model::energy(const FieldSolution& field) const {
  return magnetic_energy(*mesh_, field) + system_->open().exterior_energy(field.potential);
}

std::vector<Body> ring_bodies(const reference::RingRow& row, const Medium& medium, double bore) {
  std::vector<Body> bodies;
  for (const Point p : ring_centres(row)) {
    bodies.push_back({"turn." + std::to_string(bodies.size() + 1),
                      Disc{p, row.torus.section_radius, bore}, medium});
  }
  return bodies;
}

std::vector<Point> ring_centres(const reference::RingRow& row) {
  std::vector<Point> centres;
  for (int k = 0; k < row.count; ++k) {
    centres.push_back({row.torus.mean_radius, (k - 0.5 * (row.count - 1)) * row.pitch});
  }
  return centres;
}

double inductance(Complex impedance, Frequency frequency) {
  return impedance.imag() / frequency.omega();
}

FieldPoint probe(const Mesh& mesh, const FieldSolution& field, Point p) {
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const TrianglePoints points = triangle_points(mesh, t);
    double x = 1.0 / 3;
    double y = 1.0 / 3;
    for (int k = 0; k < 12 && std::abs(x) + std::abs(y) < 10; ++k) {
      const auto n = shape_values(x, y);
      const auto g = shape_gradients(x, y);
      Eigen::Vector2d miss{-p.r, -p.z};
      Eigen::Matrix2d jacobian = Eigen::Matrix2d::Zero();
      for (int i = 0; i < 6; ++i) {
        const Eigen::Vector2d at{points[i].r, points[i].z};
        miss += n[i] * at;
        jacobian += at * g.col(i).transpose();
      }
      const Eigen::Vector2d step = jacobian.partialPivLu().solve(miss);
      x -= step[0];
      y -= step[1];
    }
    if (x > -1e-9 && y > -1e-9 && x + y < 1 + 1e-9) return field_at(mesh, field, t, x, y);
  }
  throw std::out_of_range("the point lies outside the mesh");
}

}  // namespace cw::published
