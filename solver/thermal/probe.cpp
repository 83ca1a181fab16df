#include "solver/thermal/probe.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
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

/// The crossing of the level z with an edge of an element.
struct Crossing {
  double radius;
  std::array<int, 3> unknown;
  double s;  ///< -1 at the first corner, 1 at the second
};

/// Innermost or outermost crossing of the body with the level z.
Crossing cross(const ThermalMesh& mesh, RegionId region, double z, bool outermost) {
  Crossing best{outermost ? -1.0 : std::numeric_limits<double>::max(), {}, 0.0};
  for (const auto& e : mesh.elements) {
    if (mesh.body[e.body].region != region) continue;
    for (int i = 0; i < 3; ++i) {
      const std::array<int, 3> edge{e.unknown[i], e.unknown[(i + 1) % 3], e.unknown[3 + i]};
      const Point a = mesh.at[edge[0]], b = mesh.at[edge[1]];
      const auto [low, high] = std::minmax(a.z, b.z);
      if (z < low || z > high || high - low < 1e-12) continue;
      const double s = 2 * (z - a.z) / (b.z - a.z) - 1;
      const double radius = a.r + .5 * (s + 1) * (b.r - a.r);
      if (outermost ? radius > best.radius : radius < best.radius) best = {radius, edge, s};
    }
  }
  return best;
}

}  // namespace

ProbeSite::ProbeSite(const ThermalModel& model, const Probe& probe) : kind_(probe.kind) {
  const ThermalMesh& mesh = model.mesh();
  const Stretch stretch = body_stretch(mesh, probe);
  if (kind_ == ProbeKind::surface || kind_ == ProbeKind::centre) {
    const Crossing c =
        cross(mesh, probe.region, .5 * (stretch.low + stretch.high), kind_ == ProbeKind::surface);
    unknown_.assign(c.unknown.begin(), c.unknown.end());
    weight_ = {.5 * c.s * (c.s - 1), .5 * c.s * (c.s + 1), 1 - c.s * c.s};
    return;
  }
  std::map<int, double> volume;
  double sum = 0.0;
  const double slack = 1e-9 * (stretch.high - stretch.low);
  for (const auto& e : mesh.elements) {
    if (mesh.body[e.body].region != probe.region) continue;
    for (int i = 0; i < 7; ++i) {
      const double z = mesh.at[e.unknown[i]].z;
      if (z < stretch.low - slack || z > stretch.high + slack) continue;
      volume[e.unknown[i]] += e.shape.volume[i];
      sum += e.shape.volume[i];
    }
  }
  if (volume.empty())
    throw std::invalid_argument(
        fmt::format("found no node between {:.6g} and {:.6g} m; allowed: a stretch longer than the "
                    "body's elements",
                    stretch.low, stretch.high));
  for (const auto& [unknown, v] : volume) {
    unknown_.push_back(unknown);
    weight_.push_back(v / sum);
  }
}

double ProbeSite::read(const Eigen::VectorXd& kelvin) const {
  double sum = 0.0, low = std::numeric_limits<double>::max(), high = 0.0;
  for (std::size_t i = 0; i < unknown_.size(); ++i) {
    const double t = kelvin[unknown_[i]];
    sum += weight_[i] * t;
    low = std::min(low, t);
    high = std::max(high, t);
  }
  if (kind_ == ProbeKind::coldest) return low;
  return kind_ == ProbeKind::hottest ? high : sum;
}

EventSite::EventSite(const ThermalModel& model, const HeatEvent& event)
    : model_(&model), site_(model, event.probe), level_(event.level.kelvin) {
  if (site_.kind() != ProbeKind::coldest && site_.kind() != ProbeKind::hottest) return;
  for (const int i : site_.unknowns()) {
    const auto shares = model.shares(i);
    per_capacity_.push_back(1.0 / capacity(shares, level_));
    enthalpy_.push_back(event.molten ? enthalpy_of_melt(shares, level_)
                                     : cw::enthalpy(shares, level_));
  }
}

double EventSite::above(const Eigen::Ref<const Eigen::VectorXd>& enthalpy) const {
  const std::vector<int>& unknown = site_.unknowns();
  if (per_capacity_.empty()) {
    double sum = 0.0;
    for (std::size_t i = 0; i < unknown.size(); ++i)
      sum += site_.weights()[i] * model_->kelvin(unknown[i], enthalpy[unknown[i]]);
    return sum - level_;
  }
  const bool coldest = site_.kind() == ProbeKind::coldest;
  const double none = std::numeric_limits<double>::max();
  double best = coldest ? none : -none;
  for (std::size_t i = 0; i < unknown.size(); ++i) {
    // A held node's enthalpy is that of its temperature by construction.
    const double off = (enthalpy[unknown[i]] - enthalpy_[i]) * per_capacity_[i];
    best = coldest ? std::min(best, off) : std::max(best, off);
  }
  return best;
}

}  // namespace cw
