#include "solver/fem/assembly.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "mesh/generate.hpp"

namespace cw {
namespace {

constexpr double rod_radius = 0.01, rod_height = 0.04;

struct Rod {
  Mesh mesh;
  Dofs dofs;
  Pattern pattern;
};

/// A rod in air, every node free.
Rod rod() {
  Section section;
  section.regions.push_back(
      {"workpiece", rectangle({0, -rod_height / 2}, {rod_radius, rod_height / 2}), .003});
  Rod r{generate_mesh(section), {}, {}};
  r.dofs = number_dofs(r.mesh, std::vector<char>(r.mesh.nodes.size(), 0), {});
  r.pattern = make_pattern(r.mesh, r.dofs, {});
  return r;
}

/// x^T K x / 2 for A = r / 2, the field of 1 T along the axis.
double energy_of_uniform_field(const Rod& r, const std::vector<double>& stiffness) {
  Eigen::VectorXd x(r.dofs.count), product = Eigen::VectorXd::Zero(r.dofs.count);
  for (std::size_t i = 0; i < r.mesh.nodes.size(); ++i)
    x[r.dofs.of_node[i]] = r.mesh.nodes[i].r / 2;
  add_product(
      r.pattern, [&](int k) { return stiffness[k]; }, x, product);
  return x.dot(product) / 2;
}

// A coefficient that varies from point to point and is zero in the air: the energy is the integral
// of nu B^2 / 2 over the rod, with nu = z^2 and the mean of z^2 over a height h, h^2 / 12.
TEST(Assemble, TakesTheCoefficientWhereItIs) {
  const Rod r = rod();
  std::vector<double> stiffness{1.0, 2.0};  // of another matrix: to be lost
  assemble<Reluctance>(
      r.mesh, r.pattern,
      [&](std::size_t t, std::size_t q) {
        if (r.mesh.region[t] == 0) return 0.0;
        double z = 0.0;
        for (int i = 0; i < 6; ++i) z += rule_shape(q)[i] * r.mesh.nodes[r.mesh.triangles[t][i]].z;
        return z * z;
      },
      stiffness);
  const double volume = std::numbers::pi * rod_radius * rod_radius * rod_height;
  const double expected = 0.5 * volume * rod_height * rod_height / 12;
  EXPECT_NEAR(energy_of_uniform_field(r, stiffness), expected, 1e-10 * expected);
}

// The matrix of coupled unknowns lands on their entries alone, each pair once; one that is fixed
// takes no part.
TEST(ScatterClique, AddsEachPairOfUnknownsOnce) {
  const Pattern pattern = make_pattern({}, {{}, 3}, {2, Dofs::fixed, 0});
  Eigen::Matrix3d matrix;
  matrix << 1, 2, 3,  //
      2, 4, 5,        //
      3, 5, 6;
  std::vector<double> values(pattern.entries(), 10.0);
  scatter_clique(pattern, matrix, values);
  EXPECT_EQ(values[place_of(pattern, 2, 2)], 11.0);
  EXPECT_EQ(values[place_of(pattern, 2, 0)], 13.0);
  EXPECT_EQ(values[place_of(pattern, 0, 0)], 16.0);
  EXPECT_EQ(pattern.entries(), 3U);
}

}  // namespace
}  // namespace cw
