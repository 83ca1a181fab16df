#include "solver/field/sources.hpp"

#include <fmt/format.h>

namespace cw {

namespace {

/// Integral over a region of integrand(sample) [6-vector] scattered to unknowns.
template <class Integrand>
Eigen::VectorXd assemble_vector(const EddySystem& system, RegionId region, Integrand integrand) {
  const Mesh& mesh = system.mesh();
  Eigen::VectorXd f = Eigen::VectorXd::Zero(system.unknowns());
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (mesh.region[t] != region) continue;
    Eigen::Vector<double, 6> local = Eigen::Vector<double, 6>::Zero();
    for (const auto& s : potential_samples(mesh, t)) local += integrand(s);
    for (int i = 0; i < 6; ++i) {
      const int dof = system.dofs().of_node[mesh.triangles[t][i]];
      if (dof >= 0) f[dof] += local[i];
    }
  }
  return f;
}

}  // namespace

Eigen::VectorXd voltage_source(const EddySystem& system, RegionId region) {
  const double sigma = system.media()[region].conductivity;
  return assemble_vector(system, region,
                         [&](const Sample<6>& s) { return (sigma * s.area * s.value).eval(); });
}

double loop_conductance(const EddySystem& system, RegionId region) {
  const double sigma = system.media()[region].conductivity;
  return sum_over(system.mesh(), region,
                  [&](const Sample<6>& s) { return sigma * s.area / (two_pi * s.radius); });
}

Eigen::VectorXd current_source(const EddySystem& system, RegionId region) {
  const double area = section_area(system.mesh(), region);
  return assemble_vector(system, region,
                         [&](const Sample<6>& s) { return (s.volume() / area * s.value).eval(); });
}

double section_area(const Mesh& mesh, RegionId region) {
  return sum_over(mesh, region, [](const Sample<6>& s) { return s.area; });
}

Eigen::VectorXd filament_source(const EddySystem& system, Point p) {
  const Mesh& mesh = system.mesh();
  const auto at = find_place(mesh, p);
  if (!at)
    throw SolveError(
        fmt::format("the filament at r = {} m, z = {} m lies outside the mesh", p.r, p.z));
  Eigen::VectorXd f = Eigen::VectorXd::Zero(system.unknowns());
  const Eigen::Vector<double, 6> n = potential_sample(mesh, at->triangle, at->x, at->y).value;
  for (int i = 0; i < 6; ++i) {
    const int dof = system.dofs().of_node[mesh.triangles[at->triangle][i]];
    if (dof >= 0) f[dof] = two_pi * p.r * n[i];
  }
  return f;
}

Eigen::VectorXd surface_field_source(const EddySystem& system) {
  const Mesh& mesh = system.mesh();
  Eigen::VectorXd f = Eigen::VectorXd::Zero(system.unknowns());
  // The weak form leaves -oint H_z v dS on the left at r = radius, H_z taken just inside; Simpson's
  // rule is exact here.
  for (const BorderEdge& e : mesh.border) {
    if (e.side != Side::outer) continue;
    const double length = distance(mesh.nodes[e.from], mesh.nodes[e.to]);
    const auto add = [&](int node, double weight) {
      const int dof = system.dofs().of_node[node];
      if (dof >= 0) f[dof] += two_pi * mesh.nodes[node].r * length * weight;
    };
    add(e.from, 1.0 / 6);
    add(e.middle, 4.0 / 6);
    add(e.to, 1.0 / 6);
  }
  return f;
}

Eigen::VectorXd uniform_field_source(const EddySystem& system) {
  Eigen::VectorXd f = Eigen::VectorXd::Zero(system.unknowns());
  const Eigen::VectorXd on_circle = system.open().uniform_field();
  for (std::size_t i = 0; i < system.open().nodes().size(); ++i) {
    const int dof = system.dofs().of_node[system.open().nodes()[i]];
    if (dof >= 0) f[dof] += on_circle[i];
  }
  return f;
}

}  // namespace cw
