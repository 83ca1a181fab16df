#include "solver/thermal/thermal_model.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <stdexcept>

namespace cw {
namespace {

constexpr int hottest_entry = 5000;  ///< [K] of the conductivity tables

std::vector<double> tabulated(const ThermalBody& body) {
  std::vector<double> k;
  for (int kelvin = 0; kelvin <= hottest_entry; ++kelvin) {
    k.push_back(body.material.thermal_conductivity(Temperature{static_cast<double>(kelvin)}));
    if (!(k.back() > 0.0) || !std::isfinite(k.back()))
      throw std::invalid_argument(fmt::format(
          "{}: found a thermal conductivity of {:.6g} W/(m K) at {} K; allowed: more than 0",
          body.material.name, k.back(), kelvin));
  }
  return k;
}

/// conductance times the integral of the temperature difference over the ring, as a 3 x 3 matrix of
/// one side [W/K].
Eigen::Matrix3d contact_matrix(const ContactEdge& c) {
  static const std::array<std::pair<double, double>, 3> gauss{
      {{-std::sqrt(.6), 5. / 9}, {0., 8. / 9}, {std::sqrt(.6), 5. / 9}}};
  Eigen::Matrix3d m = Eigen::Matrix3d::Zero();
  for (const auto& [s, weight] : gauss) {
    const Eigen::Vector3d n(.5 * s * (s - 1), .5 * s * (s + 1), 1 - s * s);
    const Point at = n[0] * c.at[0] + n[1] * c.at[1] + n[2] * c.at[2];
    const Point along = (s - .5) * c.at[0] + (s + .5) * c.at[1] - (2 * s) * c.at[2];
    m += c.conductance * two_pi * at.r * weight * std::hypot(along.r, along.z) * n * n.transpose();
  }
  return m;
}

}  // namespace

ThermalModel::ThermalModel(ThermalMesh mesh, const ThermalBoundary& boundary)
    : mesh_(std::move(mesh)) {
  for (const ThermalBody& body : mesh_.body) conductivity_.push_back(tabulated(body));
  sides_.reserve(mesh_.elements.size());
  for (const auto& e : mesh_.elements) sides_.push_back(side_matrices(e.shape));
  for (std::size_t i = 0; i < mesh_.share_body.size(); ++i)
    shares_.push_back({&mesh_.law[mesh_.share_body[i]], mesh_.share_value[i]});
  std::vector<std::string> names;
  for (const Exchange& e : boundary.exchanges)
    for (SurfaceTerm& term : terms_of(mesh_, e, names)) surfaces_.push_back(std::move(term));
  std::vector<int> between;
  for (const Gap& gap : boundary.gaps) {
    auto [term, past] = terms_of(mesh_, gap, names);
    between.insert(between.end(), {term.radiation, term.conduction});
    gaps_.push_back(std::move(term));
    surfaces_.push_back(std::move(past));
  }
  for (const std::string& name : names) routes_.push_back({name, true});
  for (const int route : between) routes_[route].leaves = false;
  for (const SurfaceTerm& term : surfaces_)
    if (!routes_[term.route].leaves)
      throw std::invalid_argument(fmt::format(
          "found the route \"{}\" both between two bodies and out of them; allowed: one of them",
          routes_[term.route].name));
  add_holds(boundary.holds);
}

void ThermalModel::add_holds(const std::vector<Hold>& holds) {
  held_.assign(mesh_.unknowns(), 0);
  hold_route_.assign(mesh_.unknowns(), -1);
  hold_kelvin_.assign(mesh_.unknowns(), 0.0);
  for (const Hold& hold : holds) {
    const auto at = std::find_if(routes_.begin(), routes_.end(),
                                 [&hold](const Route& r) { return r.name == hold.route; });
    const auto route = static_cast<int>(at - routes_.begin());
    if (at == routes_.end()) routes_.push_back({hold.route, true});
    for (const int e : hold.edges)
      for (const int i : mesh_.surface.at(e).unknown) {
        held_[i] = 1;
        hold_route_[i] = route;
        hold_kelvin_[i] = hold.at.kelvin;
      }
  }
}

std::span<const VolumeShare> ThermalModel::shares(int unknown) const {
  const int from = mesh_.share_start[unknown];
  return {shares_.data() + from, static_cast<std::size_t>(mesh_.share_start[unknown + 1] - from)};
}

Eigen::VectorXd ThermalModel::enthalpy_at(Temperature uniform) const {
  return enthalpy_of(Eigen::VectorXd::Constant(mesh_.unknowns(), uniform.kelvin));
}

Eigen::VectorXd ThermalModel::enthalpy_of(const Eigen::VectorXd& kelvin) const {
  assert(kelvin.size() == mesh_.unknowns());
  Eigen::VectorXd h(kelvin.size());
  for (int i = 0; i < mesh_.unknowns(); ++i)
    h[i] = enthalpy(shares(i), held_[i] ? hold_kelvin_[i] : kelvin[i]);
  return h;
}

Warmths ThermalModel::warmths(const Eigen::VectorXd& enthalpy) const {
  Warmths w{Eigen::VectorXd(mesh_.unknowns()), Eigen::VectorXd(mesh_.unknowns())};
  for (int i = 0; i < mesh_.unknowns(); ++i) {
    const Warmth one = warmth(shares(i), enthalpy[i]);
    w.kelvin[i] = held_[i] ? hold_kelvin_[i] : one.kelvin;
    w.slope[i] = held_[i] ? 0.0 : one.slope;
  }
  return w;
}

double ThermalModel::kelvin(int unknown, double enthalpy) const {
  return held_[unknown] ? hold_kelvin_[unknown] : warmth(shares(unknown), enthalpy).kelvin;
}

Eigen::VectorXd ThermalModel::load(std::span<const std::array<double, 12>> density) const {
  if (density.size() != mesh_.mesh_triangles)
    throw std::invalid_argument(fmt::format(
        "found a power density for {} triangles; allowed: one row for each of the mesh's {}",
        density.size(), mesh_.mesh_triangles));
  Eigen::VectorXd power = Eigen::VectorXd::Zero(mesh_.unknowns());
  for (const auto& e : mesh_.elements) {
    const auto nodal = nodal_power(e.shape, density[e.triangle]);
    for (int i = 0; i < 7; ++i) power[e.unknown[i]] += nodal[i];
  }
  return power;
}

Eigen::VectorXd ThermalModel::surface_load(const std::vector<int>& edges, double flux) const {
  Eigen::VectorXd power = Eigen::VectorXd::Zero(mesh_.unknowns());
  for (const WallPoint& p : surface_points(mesh_, edges))
    for (int i = 0; i < 3; ++i) power[p.unknown[i]] += flux * p.area * p.value[i];
  return power;
}

double ThermalModel::conductivity(std::size_t body, double kelvin) const {
  const auto& k = conductivity_[body];
  const double at = std::clamp(kelvin, 0.0, hottest_entry - 1e-6);
  const auto i = static_cast<std::size_t>(at);
  return k[i] + (at - static_cast<double>(i)) * (k[i + 1] - k[i]);
}

ThermalModel::SideMatrices ThermalModel::side_matrices(const LumpedTriangle& shape) {
  SideMatrices all{};
  for (std::size_t q = 0; q < shape.samples.size(); ++q) {
    const auto& s = shape.samples[q];
    const auto& node = TriangleRule::nodes()[q];
    const Eigen::Matrix<double, 7, 7> m = s.volume() * (s.gradient.transpose() * s.gradient);
    // Linear functions that are 1 in the middle of one side and 0 in the middles of the others.
    const std::array<double, 3> side{1 - 2 * node.y, 2 * (node.x + node.y) - 1, 1 - 2 * node.x};
    for (std::size_t c = 0; c < side.size(); ++c) {
      std::size_t k = 0;
      for (int i = 0; i < 7; ++i)
        for (int j = 0; j <= i; ++j) all[c][k++] += side[c] * m(i, j);
    }
  }
  return all;
}

namespace {

/// Moves the values in the middles of a triangle's sides towards their mean until a plane through
/// them is positive at the corners too. Otherwise a fibre whose conductivity is five times larger
/// at one corner than at another would have a negative conductivity there.
void keep_positive(std::array<double, 3>& middles) {
  constexpr double least_share = 0.5;  // of the smallest, at a corner
  const auto [smallest, largest] = std::minmax({middles[0], middles[1], middles[2]});
  const double sum = middles[0] + middles[1] + middles[2], mean = sum / 3;
  const double at_corner = sum - 2 * largest, least = least_share * smallest;
  if (at_corner >= least) return;
  const double share = (mean - least) / (mean - at_corner);
  for (double& value : middles) value = mean + share * (value - mean);
}

}  // namespace

/// The conductivity is linear between its values in the middles of the sides: the rest of a
/// parabola would integrate to zero.
ThermalModel::Packed ThermalModel::conduction_matrix(std::size_t element,
                                                     const Eigen::VectorXd& kelvin) const {
  const auto& e = mesh_.elements[element];
  std::array<double, 3> middles{conductivity(e.body, kelvin[e.unknown[3]]),
                                conductivity(e.body, kelvin[e.unknown[4]]),
                                conductivity(e.body, kelvin[e.unknown[5]])};
  keep_positive(middles);
  const auto [a, b, c] = middles;
  const auto& [at_a, at_b, at_c] = sides_[element];
  Packed m;
  for (std::size_t k = 0; k < m.size(); ++k) m[k] = a * at_a[k] + b * at_b[k] + c * at_c[k];
  return m;
}

void ThermalModel::add_conduction(const Eigen::VectorXd& kelvin, Eigen::VectorXd& into) const {
  for (std::size_t index = 0; index < mesh_.elements.size(); ++index) {
    const auto& e = mesh_.elements[index];
    const Packed m = conduction_matrix(index, kelvin);
    // Uses differences to the centre, and the centre gives what the others take: a uniform
    // temperature moves no heat and no heat is lost, to the last bit.
    std::array<double, 6> t{}, power{};
    const double middle = kelvin[e.unknown[6]];
    for (std::size_t i = 0; i < 6; ++i) t[i] = kelvin[e.unknown[i]] - middle;
    for (std::size_t i = 0, k = 0; i < 6; ++i, ++k) {
      for (std::size_t j = 0; j < i; ++j, ++k) {
        power[i] += m[k] * t[j];
        power[j] += m[k] * t[i];
      }
      power[i] += m[k] * t[i];
    }
    double sum = 0.0;
    for (std::size_t i = 0; i < 6; ++i) {
      into[e.unknown[i]] -= power[i];
      sum += power[i];
    }
    into[e.unknown[6]] += sum;
  }
  for (const ContactEdge& c : mesh_.contacts) {
    Eigen::Vector3d jump;
    for (int i = 0; i < 3; ++i) jump[i] = kelvin[c.one[i]] - kelvin[c.other[i]];
    const Eigen::Vector3d power = contact_matrix(c) * jump;
    for (int i = 0; i < 3; ++i) {
      into[c.one[i]] -= power[i];
      into[c.other[i]] += power[i];
    }
  }
}

HeatFlows ThermalModel::balance(const Eigen::VectorXd& kelvin, const Eigen::VectorXd& load) const {
  HeatFlows b{load, Eigen::VectorXd::Zero(static_cast<Eigen::Index>(routes_.size()))};
  add_conduction(kelvin, b.into);
  Eigen::VectorXd given = Eigen::VectorXd::Zero(load.size());
  for (const SurfaceTerm& term : surfaces_) add_loss(term, kelvin, given, b.by_route);
  for (const GapTerm& term : gaps_) add_loss(term, kelvin, given, b.by_route);
  b.into -= given;
  for (int i = 0; i < mesh_.unknowns(); ++i)
    if (held_[i]) {
      b.by_route[hold_route_[i]] += b.into[i];
      b.into[i] = 0.0;
    }
  return b;
}

HeatTangent ThermalModel::make_tangent() const {
  std::vector<Couple> couples;
  for (const GapTerm& gap : gaps_) couples.emplace_back(gap.inner_unknown, gap.outer_unknown);
  return {HeatMatrix(mesh_, couples), {}};
}

void ThermalModel::tangent(const Eigen::VectorXd& kelvin, HeatTangent& tangent) const {
  HeatMatrix& matrix = tangent.matrix;
  matrix.clear();
  tangent.by_route.setZero(static_cast<Eigen::Index>(routes_.size()), kelvin.size());
  for (std::size_t index = 0; index < mesh_.elements.size(); ++index)
    matrix.set_element(index, conduction_matrix(index, kelvin));
  for (const ContactEdge& c : mesh_.contacts) {
    const Eigen::Matrix3d m = contact_matrix(c);
    for (int i = 0; i < 3; ++i)
      for (int j = 0; j < 3; ++j) {
        matrix.add(c.one[i], c.other[j], -m(i, j));
        if (j > i) continue;
        matrix.add(c.one[i], c.one[j], m(i, j));
        matrix.add(c.other[i], c.other[j], m(i, j));
      }
  }
  for (const SurfaceTerm& term : surfaces_) add_slope(term, kelvin, tangent);
  for (const GapTerm& term : gaps_) add_slope(term, kelvin, tangent);
}

double ThermalModel::stored(const Eigen::VectorXd& enthalpy) const {
  return mesh_.volume.dot(enthalpy);
}

double ThermalModel::stored(const Eigen::VectorXd& enthalpy, std::size_t body) const {
  double sum = 0.0;
  for (const auto& e : mesh_.elements) {
    if (e.body != body) continue;
    for (int i = 0; i < 7; ++i) {
      const int u = e.unknown[i];
      const auto parts = shares(u);
      // A shared node melts only as a whole: its temperature determines each body's part.
      const double h =
          parts.size() == 1 ? enthalpy[u] : mesh_.law[body].of(warmth(parts, enthalpy[u]).kelvin);
      sum += e.shape.volume[i] * h;
    }
  }
  return sum;
}

std::vector<std::array<double, 12>> ThermalModel::kelvin_at_points(
    const Eigen::VectorXd& kelvin) const {
  std::vector<std::array<double, 12>> out(mesh_.mesh_triangles, std::array<double, 12>{});
  for (const auto& e : mesh_.elements) {
    Eigen::Vector<double, 7> t;
    for (int i = 0; i < 7; ++i) t[i] = kelvin[e.unknown[i]];
    for (std::size_t q = 0; q < 12; ++q) out[e.triangle][q] = e.shape.samples[q].value.dot(t);
  }
  return out;
}

}  // namespace cw
