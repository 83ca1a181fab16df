#include "solver/field/surface_field.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "mesh/generate.hpp"

namespace cw {
namespace {

using Complex = std::complex<double>;

/// A mesh whose functions are plain polynomials, which represent the fields of these tests exactly.
Mesh plain_mesh(const Section& section) {
  Mesh mesh = generate_mesh(section, {});
  mesh.cores.clear();
  return mesh;
}

/// One body, region 1, in a field with a given potential.
template <class Potential>
FieldSolution field_of(const Mesh& mesh, const Media& media, Potential potential) {
  FieldSolution field{{1e3}, media, Eigen::VectorXcd(mesh.nodes.size()), {0, 0}, {0, 0}};
  for (std::size_t i = 0; i < mesh.nodes.size(); ++i)
    field.potential[static_cast<Eigen::Index>(i)] = potential(mesh.nodes[i]);
  return field;
}

// Along a bar in an even field the field at its surface is that field, and nothing across its ends.
TEST(SurfaceField, OfAnEvenField) {
  Section section;
  section.regions.push_back({"workpiece", rectangle({0, -0.02}, {0.01, 0.02}), 0.001});
  const Mesh mesh = plain_mesh(section);
  const Complex flux{3e-3, -4e-3};  // [T] rms
  const FieldSolution field = field_of(mesh, {{}, {}}, [&](Point p) { return 0.5 * flux * p.r; });
  EXPECT_NEAR(largest_surface_field(mesh, field, 1) * mu0, 5e-3, 1e-9);
  double side = 0;
  for (const SurfacePoint& p : surface_fields(mesh, field, 1)) {
    EXPECT_NEAR(p.field_rms * mu0, p.at.r > 0.00999 ? 5e-3 : 0.0, 1e-9);
    if (p.at.r > 0.00999) side += p.area;
  }
  EXPECT_NEAR(side, 2 * std::numbers::pi * 0.01 * 0.04, 1e-12);
}

// Along a cone in a nonuniform field, B_r = c r and B_z = B0 - 2 c z (A = B0 r/2 - c r z, exact in
// second-order triangles), it is the tangential component at the middle of each edge.
TEST(SurfaceField, OfAConeInAnUnevenField) {
  Section section;
  section.regions.push_back(
      {"workpiece", Polygon{{{0, 0}, {0.012, 0}, {0.004, 0.02}, {0, 0.02}}, {}}});
  const Mesh mesh = plain_mesh(section);
  const double even = 2e-3, rise = 0.1;  // [T], [T/m]
  const FieldSolution field = field_of(
      mesh, {{}, {}}, [&](Point p) { return Complex{0.5 * even * p.r - rise * p.r * p.z}; });
  const Point slope = (1 / std::hypot(0.008, 0.02)) * Point{-0.008, 0.02};
  int sloping = 0;
  for (const SurfacePoint& p : surface_fields(mesh, field, 1)) {
    const bool end = p.at.z < 1e-9 || p.at.z > 0.02 - 1e-9;
    const Point along = end ? Point{1, 0} : slope;
    const double expected = along.r * rise * p.at.r + along.z * (even - 2 * rise * p.at.z);
    EXPECT_NEAR(p.field_rms * mu0, std::abs(expected), 1e-8) << p.at.r << " " << p.at.z;
    sloping += end ? 0 : 1;
  }
  EXPECT_GE(sloping, 3);
}

// All of a body's loss lies within its own thickness, none within zero depth; in a bar whose
// current is proportional to the radius, A = B r/2, the loss within a depth of its side is
// proportional to R^4 - (R - d)^4.
TEST(SurfaceField, LossWithinADepth) {
  const double radius = 0.01, length = 0.2;
  Section section;
  section.regions.push_back(
      {"workpiece", rectangle({0, -length / 2}, {radius, length / 2}), 0.0005});
  const Mesh mesh = plain_mesh(section);
  const double conductivity = 1e6, flux = 2e-3;
  const FieldSolution field = field_of(mesh, {{}, {conductivity, 1 / mu0}},
                                       [&](Point p) { return Complex{0.5 * flux * p.r}; });
  const double whole = std::numbers::pi * length * std::pow(radius, 4) / 8 * conductivity *
                       std::pow(field.frequency.omega() * flux, 2);
  EXPECT_NEAR(region_losses(mesh, field)[1], whole, 1e-9 * whole);
  EXPECT_NEAR(loss_within(mesh, field, 1, 1.0), whole, 1e-9 * whole);
  EXPECT_EQ(loss_within(mesh, field, 1, 0.0), 0.0);
  // The ends take 2 d/length of the rest, and points of whole triangles tell the depth: some
  // percent.
  const double depth = 0.002, side = 1 - std::pow(1 - depth / radius, 4);
  const double expected = whole * (side + (1 - side) * 2 * depth / length);
  EXPECT_NEAR(loss_within(mesh, field, 1, depth), expected, 0.05 * whole);
}

}  // namespace
}  // namespace cw
