#include "solver/thermal/probe.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <limits>
#include <map>
#include <set>
#include <stdexcept>

namespace cw {
namespace {

struct Stretch {
  double low, high;
};

Stretch body_stretch(const ThermalMesh& mesh, const Probe& probe) {
  double low = std::numeric_limits<double>::max(), high = -low;
  for (const auto& e : mesh.elements)
    if (mesh.body[e.body].region == probe.region)
      for (const int i : e.unknown) {
        low = std::min(low, mesh.at[i].z);
        high = std::max(high, mesh.at[i].z);
      }
  const Stretch cut{std::max(low, probe.low), std::min(high, probe.high)};
  if (!(cut.low <= cut.high))
    throw std::invalid_argument(
        fmt::format("found a stretch from {:.6g} to {:.6g} m; allowed: a part of the body, which "
                    "reaches from {:.6g} to {:.6g} m",
                    probe.low, probe.high, low, high));
  return cut;
}

/// Innermost or outermost point of the body at height z.
EdgePlace outer_place(const ThermalMesh& mesh, RegionId region, double z, bool outermost) {
  const std::vector<EdgePlace> places = places_at_height(mesh, region, z);
  const auto by_radius = [](const EdgePlace& a, const EdgePlace& b) { return a.radius < b.radius; };
  return outermost ? *std::ranges::max_element(places, by_radius)
                   : *std::ranges::min_element(places, by_radius);
}

EdgePlace at_node(int i, double radius) {
  return {{i, i, i}, {1.0, 0.0, 0.0}, radius};
}
bool is_node(const EdgePlace& place) {
  return place.unknown[0] == place.unknown[1];
}

/// Nodes within a stretch, and the points where its ends cut the body.
std::vector<EdgePlace> places_within(const ThermalMesh& mesh, RegionId region, const Stretch& s) {
  const double slack = 1e-9 * (s.high - s.low);
  std::set<int> nodes;
  for (const auto& e : mesh.elements)
    if (mesh.body[e.body].region == region)
      for (const int i : e.unknown)
        if (mesh.at[i].z >= s.low - slack && mesh.at[i].z <= s.high + slack) nodes.insert(i);
  std::vector<EdgePlace> places;
  places.reserve(nodes.size());
  for (const int i : nodes) places.push_back(at_node(i, mesh.at[i].r));
  for (const double end : {s.low, s.high})
    std::ranges::copy(places_at_height(mesh, region, end), std::back_inserter(places));
  return places;
}

/// Nodes on both sides of the contact of two bodies: shared ones, and those of contacts with a
/// conductance.
std::vector<EdgePlace> places_of_joint(const ThermalMesh& mesh, RegionId one, RegionId other) {
  std::set<int> of_one, of_other, nodes;
  for (const auto& e : mesh.elements) {
    if (mesh.body[e.body].region == one) of_one.insert(e.unknown.begin(), e.unknown.begin() + 6);
    if (mesh.body[e.body].region == other)
      of_other.insert(e.unknown.begin(), e.unknown.begin() + 6);
  }
  std::ranges::set_intersection(of_one, of_other, std::inserter(nodes, nodes.end()));
  for (const ContactEdge& edge : mesh.contacts) {
    const bool forth = of_one.contains(edge.one[0]) && of_other.contains(edge.other[0]),
               back = of_other.contains(edge.one[0]) && of_one.contains(edge.other[0]);
    if (!forth && !back) continue;
    nodes.insert(edge.one.begin(), edge.one.end());
    nodes.insert(edge.other.begin(), edge.other.end());
  }
  if (nodes.empty())
    throw std::invalid_argument(
        "found a joint of two bodies that do not touch; allowed: two that do");
  std::vector<EdgePlace> places;
  places.reserve(nodes.size());
  for (const int i : nodes) places.push_back(at_node(i, mesh.at[i].r));
  return places;
}

std::map<int, double> volumes_within(const ThermalMesh& mesh, RegionId region, const Stretch& s) {
  std::map<int, double> volume;
  for (const auto& e : mesh.elements) {
    if (mesh.body[e.body].region != region) continue;
    const std::array<double, 7> part = volume_between(mesh, e, s.low, s.high);
    for (int i = 0; i < 7; ++i)
      if (part[i] != 0.0) volume[e.unknown[i]] += part[i];
  }
  return volume;
}

}  // namespace

ProbeSite::ProbeSite(const ThermalModel& model, const Probe& probe) : kind_(probe.kind) {
  const ThermalMesh& mesh = model.mesh();
  const Stretch stretch = body_stretch(mesh, probe);
  if (kind_ == ProbeKind::coldest || kind_ == ProbeKind::hottest) {
    places_ = probe.joint ? places_of_joint(mesh, probe.region, *probe.joint)
                          : places_within(mesh, probe.region, stretch);
  } else if (kind_ == ProbeKind::mean) {
    const std::map<int, double> volume = volumes_within(mesh, probe.region, stretch);
    double sum = 0.0;
    for (const auto& [unknown, v] : volume) sum += v;
    for (const auto& [unknown, v] : volume) {
      unknown_.push_back(unknown);
      weight_.push_back(v / sum);
    }
  } else if (kind_ == ProbeKind::depth) {
    const double z = .5 * (stretch.low + stretch.high);
    const double outer = outer_place(mesh, probe.region, z, true).radius;
    const auto place = place_inside(mesh, probe.region, {outer - probe.depth, z});
    if (!place)
      throw std::invalid_argument(fmt::format(
          "found a depth of {:.6g} m below a surface at a radius of {:.6g} m; allowed: within the "
          "body",
          probe.depth, outer));
    unknown_.assign(place->unknown.begin(), place->unknown.end());
    weight_.assign(place->value.begin(), place->value.end());
  } else {
    const EdgePlace place = outer_place(mesh, probe.region, .5 * (stretch.low + stretch.high),
                                        kind_ == ProbeKind::surface);
    unknown_.assign(place.unknown.begin(), place.unknown.end());
    weight_.assign(place.value.begin(), place.value.end());
  }
}

double ProbeSite::read(const Eigen::VectorXd& kelvin) const {
  double sum = 0.0;
  for (std::size_t i = 0; i < unknown_.size(); ++i) sum += weight_[i] * kelvin[unknown_[i]];
  if (places_.empty()) return sum;
  double low = std::numeric_limits<double>::max(), high = 0.0;
  for (const EdgePlace& place : places_) {
    const double t = place.read(kelvin);
    low = std::min(low, t);
    high = std::max(high, t);
  }
  return kind_ == ProbeKind::coldest ? low : high;
}

EventSite::EventSite(const ThermalModel& model, const HeatEvent& event)
    : model_(&model), site_(model, event.probe), level_(event.level.kelvin) {
  for (const ThermalBody& body : model.mesh().body)
    if (body.region == event.probe.region && body.material.melting)
      melts_there_ = body.material.melting->solidus.kelvin <= level_ &&
                     level_ <= body.material.melting->liquidus.kelvin;
  for (const EdgePlace& place : site_.places()) {
    AtLevel here;
    for (std::size_t k = 0; k < 3; ++k) {
      const auto shares = model.shares(place.unknown[k]);
      here.per_capacity[k] = 1.0 / capacity(shares, level_);
      here.enthalpy[k] =
          event.molten ? enthalpy_of_melt(shares, level_) : cw::enthalpy(shares, level_);
    }
    at_level_.push_back(here);
  }
}

double EventSite::above_at(std::size_t place,
                           const Eigen::Ref<const Eigen::VectorXd>& enthalpy) const {
  const EdgePlace& p = site_.places()[place];
  const AtLevel& level = at_level_[place];
  // A held node's enthalpy is that of its temperature by construction.
  const auto by_enthalpy = [&](std::size_t k) {
    return (enthalpy[p.unknown[k]] - level.enthalpy[k]) * level.per_capacity[k];
  };
  if (is_node(p)) return by_enthalpy(0);
  // Between nodes only temperatures are smooth, but they do not change while everything is melting.
  double sum = 0.0;
  for (std::size_t k = 0; k < 3; ++k)
    sum +=
        p.value[k] * (melts_there_ ? by_enthalpy(k)
                                   : model_->kelvin(p.unknown[k], enthalpy[p.unknown[k]]) - level_);
  return sum;
}

double EventSite::above(const Eigen::Ref<const Eigen::VectorXd>& enthalpy) const {
  if (at_level_.empty()) {
    const std::vector<int>& unknown = site_.unknowns();
    double sum = 0.0;
    for (std::size_t i = 0; i < unknown.size(); ++i)
      sum += site_.weights()[i] * model_->kelvin(unknown[i], enthalpy[unknown[i]]);
    return sum - level_;
  }
  const bool coldest = site_.kind() == ProbeKind::coldest;
  double best = above_at(0, enthalpy);
  for (std::size_t i = 1; i < at_level_.size(); ++i) {
    const double off = above_at(i, enthalpy);
    best = coldest ? std::min(best, off) : std::max(best, off);
  }
  return best;
}

}  // namespace cw
