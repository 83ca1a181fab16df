#include "solver/thermal/gap.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "solver/thermal/air.hpp"
#include "solver/thermal/view_factor.hpp"

namespace cw {
namespace {

std::vector<double> temperatures(const std::vector<WallPoint>& points,
                                 const Eigen::VectorXd& kelvin) {
  std::vector<double> t;
  t.reserve(points.size());
  for (const WallPoint& p : points) t.push_back(kelvin_at(p, kelvin));
  return t;
}

double fourth(double t) {
  return t * t * t * t;
}

void spread(const WallPoint& p, double power, Eigen::VectorXd& given) {
  for (int i = 0; i < 3; ++i) given[p.unknown[i]] += power * p.value[i];
}

/// Unknowns of a wall, and the shape functions of its points over them.
std::vector<int> wall_unknowns(const std::vector<WallPoint>& points, Eigen::MatrixXd& shape) {
  std::vector<int> unknowns;
  for (const WallPoint& p : points)
    unknowns.insert(unknowns.end(), p.unknown.begin(), p.unknown.end());
  std::sort(unknowns.begin(), unknowns.end());
  unknowns.erase(std::unique(unknowns.begin(), unknowns.end()), unknowns.end());
  shape = Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(points.size()),
                                static_cast<Eigen::Index>(unknowns.size()));
  for (std::size_t q = 0; q < points.size(); ++q)
    for (int i = 0; i < 3; ++i) {
      const auto at = std::lower_bound(unknowns.begin(), unknowns.end(), points[q].unknown[i]);
      shape(static_cast<Eigen::Index>(q), at - unknowns.begin()) += points[q].value[i];
    }
  return unknowns;
}

/// Adds a symmetric block of one wall.
void add_block(const std::vector<int>& unknown, const Eigen::MatrixXd& block, HeatMatrix& matrix) {
  for (Eigen::Index i = 0; i < block.rows(); ++i)
    for (Eigen::Index j = 0; j <= i; ++j)
      if (block(i, j) != 0.0) matrix.add(unknown[i], unknown[j], block(i, j));
}

/// Adds what a route carries when the inner wall warms, and less when the outer does.
void add_route(const GapTerm& term, int route, const Eigen::MatrixXd& pair, HeatTangent& tangent) {
  const Eigen::VectorXd inner = term.inner_shape.transpose() * pair.rowwise().sum();
  const Eigen::VectorXd outer = term.outer_shape.transpose() * pair.colwise().sum().transpose();
  for (Eigen::Index i = 0; i < inner.size(); ++i)
    tangent.by_route(route, term.inner_unknown[i]) += inner[i];
  for (Eigen::Index j = 0; j < outer.size(); ++j)
    tangent.by_route(route, term.outer_unknown[j]) -= outer[j];
}

double air_conductivity(double a, double b) {
  return air_at({0.5 * (a + b)}).conductivity;
}

}  // namespace

std::pair<GapTerm, SurfaceTerm> terms_of(const ThermalMesh& mesh, const Gap& gap,
                                         std::vector<std::string>& routes) {
  for (const double e : {gap.inner_emissivity, gap.outer_emissivity})
    if (!(e > 0.0 && e <= 1.0))
      throw std::invalid_argument(fmt::format(
          "{}: found an emissivity of {:.6g}; allowed: above 0, at most 1", gap.radiation, e));
  GapTerm term{route_of(routes, gap.radiation),
               route_of(routes, gap.conduction),
               surface_points(mesh, gap.inner),
               surface_points(mesh, gap.outer),
               {},
               {},
               {},
               {},
               {},
               {}};
  term.inner_unknown = wall_unknowns(term.inner, term.inner_shape);
  term.outer_unknown = wall_unknowns(term.outer, term.outer_shape);
  const auto rows = static_cast<Eigen::Index>(term.inner.size());
  const auto columns = static_cast<Eigen::Index>(term.outer.size());
  term.view = term.across = Eigen::MatrixXd::Zero(rows, columns);
  SurfaceTerm past{route_of(routes, gap.beyond), Grey{gap.inner_emissivity, gap.surroundings},
                   term.inner, std::vector<double>(term.inner.size(), gap.inner_emissivity)};
  for (Eigen::Index i = 0; i < rows; ++i)
    for (Eigen::Index j = 0; j < columns; ++j) {
      const WallPoint &a = term.inner[i], &b = term.outer[j];
      if (!(a.at.r < b.at.r))
        throw std::invalid_argument(fmt::format(
            "{}: found an outer wall of radius {:.6g} m inside an inner one of {:.6g} m; "
            "allowed: outer walls outside",
            gap.radiation, b.at.r, a.at.r));
      const CoaxialPair pair{a.at.r, b.at.r};
      const double seen =
          view_of_ring(pair, b.above - a.at.z) - view_of_ring(pair, b.below - a.at.z);
      term.view(i, j) =
          a.area * seen * grey_coaxial(pair, gap.inner_emissivity, gap.outer_emissivity);
      past.factor[i] -= gap.inner_emissivity * seen;
      const double level = std::min(a.above, b.above) - std::max(a.below, b.below);
      term.across(i, j) =
          2 * std::numbers::pi * std::max(0.0, level) / std::log(pair.outer / pair.inner);
    }
  for (double& f : past.factor) f = std::max(f, 0.0);
  return {std::move(term), std::move(past)};
}

void add_loss(const GapTerm& term, const Eigen::VectorXd& kelvin, Eigen::VectorXd& given,
              Eigen::VectorXd& by_route) {
  const auto hot = temperatures(term.inner, kelvin), cold = temperatures(term.outer, kelvin);
  for (Eigen::Index j = 0; j < term.view.cols(); ++j) {
    double received = 0.0;
    for (Eigen::Index i = 0; i < term.view.rows(); ++i) {
      const double radiated =
          stefan_boltzmann * term.view(i, j) * (fourth(hot[i]) - fourth(cold[j]));
      const double conducted = term.across(i, j) > 0.0 ? air_conductivity(hot[i], cold[j]) *
                                                             term.across(i, j) * (hot[i] - cold[j])
                                                       : 0.0;
      by_route[term.radiation] += radiated;
      by_route[term.conduction] += conducted;
      received += radiated + conducted;
      spread(term.inner[i], radiated + conducted, given);
    }
    spread(term.outer[j], -received, given);
  }
}

void add_slope(const GapTerm& term, const Eigen::VectorXd& kelvin, HeatTangent& tangent) {
  const auto hot = temperatures(term.inner, kelvin), cold = temperatures(term.outer, kelvin);
  Eigen::MatrixXd radiation = stefan_boltzmann * term.view, air = term.across;
  for (Eigen::Index j = 0; j < air.cols(); ++j)
    for (Eigen::Index i = 0; i < air.rows(); ++i) {
      radiation(i, j) *= 4 * std::pow(std::max(hot[i], cold[j]), 3);
      if (air(i, j) > 0.0) air(i, j) *= air_conductivity(hot[i], cold[j]);
    }
  add_route(term, term.radiation, radiation, tangent);
  add_route(term, term.conduction, air, tangent);
  const Eigen::MatrixXd pair = radiation + air;
  const Eigen::VectorXd by_inner = pair.rowwise().sum(), by_outer = pair.colwise().sum();
  add_block(term.inner_unknown,
            term.inner_shape.transpose() * by_inner.asDiagonal() * term.inner_shape,
            tangent.matrix);
  add_block(term.outer_unknown,
            term.outer_shape.transpose() * by_outer.asDiagonal() * term.outer_shape,
            tangent.matrix);
  const Eigen::MatrixXd between = term.inner_shape.transpose() * pair * term.outer_shape;
  for (Eigen::Index i = 0; i < between.rows(); ++i)
    for (Eigen::Index j = 0; j < between.cols(); ++j)
      tangent.matrix.add(term.inner_unknown[i], term.outer_unknown[j], -between(i, j));
}

}  // namespace cw
