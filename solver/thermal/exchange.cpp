#include "solver/thermal/exchange.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>

#include "solver/thermal/coil_enclosure.hpp"

namespace cw {
namespace {

/// Radii of a tapered surface that differ by less share their view factors; relative to the gap to
/// the coil.
constexpr double same_radius = 1e-3;

void need(bool good, const Exchange& e, const char* what, double found, const char* allowed) {
  if (good) return;
  throw std::invalid_argument(
      fmt::format("{}: found {} {:.6g}; allowed: {}", e.route, what, found, allowed));
}

void check_emissivity(const Exchange& e, double value) {
  need(value > 0.0 && value <= 1.0, e, "an emissivity of", value, "above 0, at most 1");
}

SurfaceTerm term(const ThermalMesh& mesh, const Exchange& e, int route) {
  SurfaceTerm t{route, Film{}, surface_points(mesh, e.edges), {}};
  t.factor.assign(t.points.size(), 1.0);
  return t;
}

std::vector<SurfaceTerm> terms(const ThermalMesh& mesh, const Exchange& e, int route,
                               std::vector<std::string>& /*routes*/, const Film& film) {
  need(film.coefficient >= 0.0, e, "a coefficient of", film.coefficient, "0 or more");
  SurfaceTerm t = term(mesh, e, route);
  t.law = film;
  return {t};
}

std::vector<SurfaceTerm> terms(const ThermalMesh& mesh, const Exchange& e, int route,
                               std::vector<std::string>& /*routes*/, const NaturalConvection& law) {
  need(law.length > 0.0, e, "a length of", law.length, "above 0");
  SurfaceTerm t = term(mesh, e, route);
  t.law = TabulatedConvection(law);
  return {t};
}

std::vector<SurfaceTerm> terms(const ThermalMesh& mesh, const Exchange& e, int route,
                               std::vector<std::string>& /*routes*/, const Grey& law) {
  check_emissivity(e, law.emissivity);
  SurfaceTerm t = term(mesh, e, route);
  t.law = law;
  t.factor.assign(t.points.size(), law.emissivity);
  return {t};
}

std::vector<SurfaceTerm> terms(const ThermalMesh& mesh, const Exchange& e, int route,
                               std::vector<std::string>& routes, const GreyPastCylinder& law) {
  check_emissivity(e, law.emissivity);
  need(law.wall.takes > 0.0 && law.wall.passes >= 0.0 && law.wall.reflects() >= 0.0, e,
       "a cylinder that takes up", law.wall.takes, "above 0, with what passes at most 1");
  need(law.low < law.high, e, "a cylinder from", law.low, "its low end below its high end");
  SurfaceTerm hit = term(mesh, e, route);
  SurfaceTerm miss = term(mesh, e, route_of(routes, law.beyond));
  hit.law = Grey{law.emissivity, law.cylinder};
  miss.law = Grey{law.emissivity, law.surroundings};
  std::optional<CoilEnclosure> within;
  double kept = 0.0;
  for (std::size_t i = 0; i < hit.points.size(); ++i) {
    const Point at = hit.points[i].at;
    need(law.radius > at.r, e, "a cylinder of radius", law.radius, "more than the surface's");
    if (!within || std::abs(kept - at.r) > same_radius * (law.radius - at.r)) {
      within.emplace(RodInCylinder{at.r, law.own_low, law.own_high, law.emissivity, law.radius,
                                   law.low, law.high, law.wall});
      kept = at.r;
    }
    const Fate fate = within->from(at.z);
    hit.factor[i] = law.emissivity * fate.cylinder;
    miss.factor[i] = law.emissivity * fate.beyond;
  }
  return {hit, miss};
}

}  // namespace

Flux flux_of(const Film& law, double kelvin) {
  return {law.coefficient * (kelvin - law.fluid.kelvin), law.coefficient};
}

TabulatedConvection::TabulatedConvection(const NaturalConvection& law) {
  constexpr int hottest = 4000;  // [K]
  for (int kelvin = 1; kelvin <= hottest + 1; ++kelvin)
    flux_.push_back(film_coefficient(law, Temperature{static_cast<double>(kelvin)}) *
                    (kelvin - law.air.kelvin));
}

Flux TabulatedConvection::at(double kelvin) const {
  const double from = kelvin - 1.0;  // the first line is that of 1 K
  const auto last = static_cast<double>(flux_.size() - 2);
  const auto i = static_cast<std::size_t>(std::clamp(from, 0.0, last));
  const double slope = flux_[i + 1] - flux_[i];
  return {flux_[i] + slope * (from - static_cast<double>(i)), slope};
}

Flux flux_of(const TabulatedConvection& law, double kelvin) {
  return law.at(kelvin);
}

Flux flux_of(const Grey& law, double kelvin) {
  const double square = kelvin * kelvin;
  const double cool = law.surroundings.kelvin * law.surroundings.kelvin;
  return {stefan_boltzmann * (square * square - cool * cool),
          4 * stefan_boltzmann * square * kelvin};
}

int route_of(std::vector<std::string>& routes, const std::string& name) {
  const auto at = std::find(routes.begin(), routes.end(), name);
  if (at != routes.end()) return static_cast<int>(at - routes.begin());
  routes.push_back(name);
  return static_cast<int>(routes.size()) - 1;
}

std::vector<SurfaceTerm> terms_of(const ThermalMesh& mesh, const Exchange& exchange,
                                  std::vector<std::string>& routes) {
  const int route = route_of(routes, exchange.route);
  return std::visit([&](const auto& law) { return terms(mesh, exchange, route, routes, law); },
                    exchange.law);
}

double kelvin_at(const WallPoint& p, const Eigen::VectorXd& kelvin) {
  return p.value[0] * kelvin[p.unknown[0]] + p.value[1] * kelvin[p.unknown[1]] +
         p.value[2] * kelvin[p.unknown[2]];
}

void add_loss(const SurfaceTerm& term, const Eigen::VectorXd& kelvin, Eigen::VectorXd& given,
              Eigen::VectorXd& by_route) {
  std::visit(
      [&](const auto& law) {
        for (std::size_t q = 0; q < term.points.size(); ++q) {
          const WallPoint& p = term.points[q];
          const double power = term.factor[q] * p.area * flux_of(law, kelvin_at(p, kelvin)).value;
          for (int i = 0; i < 3; ++i) given[p.unknown[i]] += power * p.value[i];
          by_route[term.route] += power;
        }
      },
      term.law);
}

void add_slope(const SurfaceTerm& term, const Eigen::VectorXd& kelvin, HeatTangent& tangent) {
  std::visit(
      [&](const auto& law) {
        for (std::size_t q = 0; q < term.points.size(); ++q) {
          const WallPoint& p = term.points[q];
          const double slope = term.factor[q] * p.area * flux_of(law, kelvin_at(p, kelvin)).slope;
          for (int i = 0; i < 3; ++i) {
            tangent.by_route(term.route, p.unknown[i]) += slope * p.value[i];
            for (int j = 0; j <= i; ++j)
              tangent.matrix.add(p.unknown[i], p.unknown[j], slope * p.value[i] * p.value[j]);
          }
        }
      },
      term.law);
}

}  // namespace cw
