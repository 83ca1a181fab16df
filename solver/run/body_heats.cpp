#include "solver/run/body_heats.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace cw {

namespace {

constexpr std::size_t per_body = 4;

/// Body of each unknown; if bonded bodies share the unknown, the first of them.
std::vector<std::size_t> body_of_unknown(const ThermalMesh& mesh) {
  std::vector<std::size_t> body(static_cast<std::size_t>(mesh.unknowns()), mesh.body.size());
  for (const auto& e : mesh.elements)
    for (const int i : e.unknown) body[i] = std::min(body[i], e.body);
  return body;
}

/// Mean over the joint's area of `one` less `other` [K].
double mean_across(const std::vector<const ContactEdge*>& edges, const Eigen::VectorXd& kelvin) {
  constexpr std::array<double, 3> simpson{1.0 / 6, 1.0 / 6, 4.0 / 6};  // from, to, middle
  double sum = 0.0, area = 0.0;
  for (const ContactEdge* edge : edges) {
    const double length = std::hypot(edge->at[1].r - edge->at[0].r, edge->at[1].z - edge->at[0].z);
    for (std::size_t k = 0; k < 3; ++k) {
      const double ring = 2 * std::numbers::pi * edge->at[k].r * length * simpson[k];
      sum += ring * (kelvin[edge->one[k]] - kelvin[edge->other[k]]);
      area += ring;
    }
  }
  return sum / area;
}

}  // namespace

BodyHeats::BodyHeats(const ThermalModel& model) {
  const ThermalMesh& mesh = model.mesh();
  nodes_.resize(mesh.body.size());
  std::vector<std::map<int, double>> volume(mesh.body.size());
  for (const auto& e : mesh.elements)
    for (int i = 0; i < 7; ++i) volume[e.body][e.unknown[i]] += e.shape.volume[i];
  for (std::size_t b = 0; b < mesh.body.size(); ++b) {
    const auto& melting = mesh.body[b].material.melting;
    melts_.push_back(melting ? 1 : 0);
    for (const auto& [unknown, v] : volume[b]) {
      Node node{unknown, v, 0.0, 0.0};
      if (melting) {
        node.solid = enthalpy(model.shares(unknown), melting->solidus.kelvin);
        node.melt = enthalpy_of_melt(model.shares(unknown), melting->liquidus.kelvin);
      }
      nodes_[b].push_back(node);
    }
  }
  const std::vector<std::size_t> body = body_of_unknown(mesh);
  for (const ContactEdge& edge : mesh.contacts) {
    const std::size_t one = body[edge.one[2]], other = body[edge.other[2]];
    auto pair = std::ranges::find_if(
        pairs_, [&](const Pair& p) { return p.one == one && p.other == other; });
    if (pair == pairs_.end()) pair = pairs_.insert(pairs_.end(), {one, other, {}});
    pair->edges.push_back(&edge);
  }
}

double BodyHeats::molten(const std::vector<Node>& nodes, const Eigen::VectorXd& enthalpy) const {
  double sum = 0.0, all = 0.0;
  for (const Node& n : nodes) {
    sum += n.volume * std::clamp((enthalpy[n.unknown] - n.solid) / (n.melt - n.solid), 0.0, 1.0);
    all += n.volume;
  }
  return sum / all;
}

void BodyHeats::append(const Eigen::VectorXd& kelvin, const Eigen::VectorXd& enthalpy,
                       std::vector<double>& readings) const {
  for (std::size_t b = 0; b < nodes_.size(); ++b) {
    double sum = 0.0, all = 0.0, low = 1e300, high = 0.0;
    for (const Node& n : nodes_[b]) {
      const double t = kelvin[n.unknown];
      sum += n.volume * t;
      all += n.volume;
      low = std::min(low, t);
      high = std::max(high, t);
    }
    readings.insert(readings.end(),
                    {sum / all, high, low, melts_[b] != 0 ? molten(nodes_[b], enthalpy) : 0.0});
  }
  for (const Pair& pair : pairs_) readings.push_back(mean_across(pair.edges, kelvin));
}

std::vector<BodyHeat> BodyHeats::bodies(std::span<const double> appended) const {
  std::vector<BodyHeat> all;
  for (std::size_t b = 0; b < nodes_.size(); ++b) {
    const auto of = appended.subspan(per_body * b, per_body);
    all.push_back({of[0], of[1], of[2], melts_[b] != 0 ? std::optional(of[3]) : std::nullopt});
  }
  return all;
}

std::vector<JointHeat> BodyHeats::joints(const std::vector<std::span<const double>>& moments,
                                         const std::vector<std::string>& names) const {
  std::vector<JointHeat> all;
  for (std::size_t k = 0; k < pairs_.size(); ++k) {
    JointHeat joint{names[pairs_[k].one], names[pairs_[k].other], 0.0, 0.0};
    for (const auto& moment : moments) {
      joint.at_end = moment[per_body * nodes_.size() + k];
      joint.across = std::max(joint.across, std::abs(joint.at_end));
    }
    all.push_back(std::move(joint));
  }
  return all;
}

}  // namespace cw
