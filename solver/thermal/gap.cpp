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

Eigen::VectorXd temperatures(const std::vector<WallPoint>& points, const Eigen::VectorXd& kelvin) {
  Eigen::VectorXd t(static_cast<Eigen::Index>(points.size()));
  for (Eigen::Index q = 0; q < t.size(); ++q) t[q] = kelvin_at(points[q], kelvin);
  return t;
}

Eigen::VectorXd fourth(const Eigen::VectorXd& t) {
  return t.array().square().square();
}

void spread(const std::vector<WallPoint>& points, const Eigen::VectorXd& power,
            Eigen::VectorXd& given) {
  for (std::size_t q = 0; q < points.size(); ++q)
    for (int i = 0; i < 3; ++i)
      given[points[q].unknown[i]] += power[static_cast<Eigen::Index>(q)] * points[q].value[i];
}

/// Unknowns of a wall, and the shape functions of its points over them.
std::vector<int> wall_unknowns(const std::vector<WallPoint>& points,
                               Eigen::SparseMatrix<double>& shape) {
  std::vector<int> unknowns;
  for (const WallPoint& p : points)
    unknowns.insert(unknowns.end(), p.unknown.begin(), p.unknown.end());
  std::sort(unknowns.begin(), unknowns.end());
  unknowns.erase(std::unique(unknowns.begin(), unknowns.end()), unknowns.end());
  std::vector<Eigen::Triplet<double>> entries;
  for (std::size_t q = 0; q < points.size(); ++q)
    for (int i = 0; i < 3; ++i) {
      const auto at = std::lower_bound(unknowns.begin(), unknowns.end(), points[q].unknown[i]);
      entries.emplace_back(static_cast<int>(q), static_cast<int>(at - unknowns.begin()),
                           points[q].value[i]);
    }
  shape.resize(static_cast<Eigen::Index>(points.size()),
               static_cast<Eigen::Index>(unknowns.size()));
  shape.setFromTriplets(entries.begin(), entries.end());
  return unknowns;
}

/// Adds the symmetric block of one wall, shape^T diag(conductance) shape.
void add_block(const std::vector<int>& unknown, const Eigen::SparseMatrix<double>& shape,
               const Eigen::VectorXd& conductance, HeatMatrix& matrix) {
  const Eigen::SparseMatrix<double> block = shape.transpose() * conductance.asDiagonal() * shape;
  for (Eigen::Index j = 0; j < block.outerSize(); ++j)
    for (Eigen::SparseMatrix<double>::InnerIterator at(block, j); at; ++at)
      if (at.row() >= j) matrix.add(unknown[at.row()], unknown[j], at.value());
}

/// Adds the slopes of a route's power, positive at the inner wall and negative at the outer.
void add_route(const GapTerm& term, int route, const Eigen::MatrixXd& pair, HeatTangent& tangent) {
  const Eigen::VectorXd inner = term.inner_shape.transpose() * pair.rowwise().sum();
  const Eigen::VectorXd outer = term.outer_shape.transpose() * pair.colwise().sum().transpose();
  for (Eigen::Index i = 0; i < inner.size(); ++i)
    tangent.by_route(route, term.inner_unknown[i]) += inner[i];
  for (Eigen::Index j = 0; j < outer.size(); ++j)
    tangent.by_route(route, term.outer_unknown[j]) -= outer[j];
}

/// Between two temperatures [W/(m K)], from a table with one line per kelvin.
double air_conductivity(double a, double b) {
  constexpr int coldest = 100, hottest = 5000;  // [K]
  static const std::vector<double> table = [] {
    std::vector<double> k;
    for (int t = coldest; t <= hottest + 1; ++t)
      k.push_back(air_at({static_cast<double>(t)}).conductivity);
    return k;
  }();
  const double at = std::clamp(0.5 * (a + b), double{coldest}, double{hottest}) - coldest;
  const auto i = static_cast<std::size_t>(at);
  return table[i] + (at - static_cast<double>(i)) * (table[i + 1] - table[i]);
}

void require_emissivities(const Gap& gap) {
  for (const double e : {gap.inner_emissivity, gap.outer_emissivity})
    if (!(e > 0.0 && e <= 1.0))
      throw std::invalid_argument(fmt::format(
          "{}: found an emissivity of {:.6g}; allowed: above 0, at most 1", gap.radiation, e));
}

/// Adds the exchange of ring i of the inner wall with ring j of the outer wall; returns the share
/// of the radiation of i that j receives.
double add_pair(const Gap& gap, Eigen::Index i, Eigen::Index j, GapTerm& term) {
  const WallPoint &a = term.inner[i], &b = term.outer[j];
  if (!(a.at.r < b.at.r))
    throw std::invalid_argument(
        fmt::format("{}: found an outer wall of radius {:.6g} m inside an inner one of {:.6g} m; "
                    "allowed: outer walls outside",
                    gap.radiation, b.at.r, a.at.r));
  const CoaxialPair pair{a.at.r, b.at.r};
  const double seen = view_of_ring(pair, b.above - a.at.z) - view_of_ring(pair, b.below - a.at.z);
  term.view(i, j) = a.area * seen * grey_coaxial(pair, gap.inner_emissivity, gap.outer_emissivity);
  const double level = std::min(a.above, b.above) - std::max(a.below, b.below);
  if (level > 0.0)
    term.across.push_back({i, j, 2 * std::numbers::pi * level / std::log(pair.outer / pair.inner)});
  return seen;
}

}  // namespace

std::pair<GapTerm, SurfaceTerm> terms_of(const ThermalMesh& mesh, const Gap& gap,
                                         std::vector<std::string>& routes) {
  require_emissivities(gap);
  GapTerm term;
  term.radiation = route_of(routes, gap.radiation);
  term.conduction = route_of(routes, gap.conduction);
  term.inner = surface_points(mesh, gap.inner);
  term.outer = surface_points(mesh, gap.outer);
  term.inner_unknown = wall_unknowns(term.inner, term.inner_shape);
  term.outer_unknown = wall_unknowns(term.outer, term.outer_shape);
  term.view = Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(term.inner.size()),
                                    static_cast<Eigen::Index>(term.outer.size()));
  SurfaceTerm past{route_of(routes, gap.beyond), Grey{gap.inner_emissivity, gap.surroundings},
                   term.inner, std::vector<double>(term.inner.size(), gap.inner_emissivity)};
  for (Eigen::Index i = 0; i < term.view.rows(); ++i)
    for (Eigen::Index j = 0; j < term.view.cols(); ++j)
      past.factor[i] -= gap.inner_emissivity * add_pair(gap, i, j, term);
  for (double& f : past.factor) f = std::max(f, 0.0);
  term.seen_by_inner = term.view.rowwise().sum();
  term.seen_by_outer = term.view.colwise().sum().transpose();
  return {std::move(term), std::move(past)};
}

void add_loss(const GapTerm& term, const Eigen::VectorXd& kelvin, Eigen::VectorXd& given,
              Eigen::VectorXd& by_route) {
  const Eigen::VectorXd hot = temperatures(term.inner, kelvin),
                        cold = temperatures(term.outer, kelvin);
  const Eigen::VectorXd shining = fourth(hot), mirrored = fourth(cold);
  Eigen::VectorXd leaves = term.seen_by_inner.cwiseProduct(shining) - term.view * mirrored;
  Eigen::VectorXd arrives =
      term.view.transpose() * shining - term.seen_by_outer.cwiseProduct(mirrored);
  leaves *= stefan_boltzmann;
  arrives *= stefan_boltzmann;
  by_route[term.radiation] += leaves.sum();
  for (const AirPath& p : term.across) {
    const double conducted =
        air_conductivity(hot[p.inner], cold[p.outer]) * p.shape * (hot[p.inner] - cold[p.outer]);
    leaves[p.inner] += conducted;
    arrives[p.outer] += conducted;
    by_route[term.conduction] += conducted;
  }
  spread(term.inner, leaves, given);
  spread(term.outer, -arrives, given);
}

void add_slope(const GapTerm& term, const Eigen::VectorXd& kelvin, HeatTangent& tangent) {
  const Eigen::VectorXd hot = temperatures(term.inner, kelvin),
                        cold = temperatures(term.outer, kelvin);
  Eigen::MatrixXd radiation = stefan_boltzmann * term.view;
  Eigen::MatrixXd air = Eigen::MatrixXd::Zero(radiation.rows(), radiation.cols());
  for (Eigen::Index j = 0; j < air.cols(); ++j)
    for (Eigen::Index i = 0; i < air.rows(); ++i) {
      const double hotter = std::max(hot[i], cold[j]);
      radiation(i, j) *= 4 * hotter * hotter * hotter;
    }
  for (const AirPath& p : term.across)
    air(p.inner, p.outer) = p.shape * air_conductivity(hot[p.inner], cold[p.outer]);
  add_route(term, term.radiation, radiation, tangent);
  add_route(term, term.conduction, air, tangent);
  const Eigen::MatrixXd pair = radiation + air;
  const Eigen::VectorXd by_inner = pair.rowwise().sum(), by_outer = pair.colwise().sum();
  add_block(term.inner_unknown, term.inner_shape, by_inner, tangent.matrix);
  add_block(term.outer_unknown, term.outer_shape, by_outer, tangent.matrix);
  const Eigen::MatrixXd onto_outer = pair * term.outer_shape;
  const Eigen::MatrixXd between = term.inner_shape.transpose() * onto_outer;
  for (Eigen::Index i = 0; i < between.rows(); ++i)
    for (Eigen::Index j = 0; j < between.cols(); ++j)
      tangent.matrix.add(term.inner_unknown[i], term.outer_unknown[j], -between(i, j));
}

}  // namespace cw
