#include "solver/field/error_estimate.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace cw {

namespace {

using Complex = std::complex<double>;

constexpr double safety = 2.0;
/// For curved borders, quadrature and open space, whose errors the cubic functions do not show.
constexpr double floor_error = 2e-5;

/// Share of the sum of absolute local changes that counts even if the changes cancel.
constexpr double uncancelled = 0.1;

/// Changes of a quantity by the fine correction and by the crude one.
struct Change {
  double fine = 0.0, crude = 0.0;
  double sizes = 0.0;  ///< sum over the triangles of |fine|

  [[nodiscard]] double relative_to(double quantity) const {
    if (quantity == 0.0) return 0.0;
    return (safety * (std::abs(fine) + 0.5 * std::abs(fine - crude)) + uncancelled * sizes) /
               std::abs(quantity) +
           floor_error;
  }
  void operator+=(const Change& other) {
    fine += other.fine;
    crude += other.crude;
    sizes += other.sizes;
  }
};

std::vector<char> marks_of(const TurnSet& turns, std::size_t regions) {
  std::vector<char> is_turn(regions, 0);
  for (const RegionId region : turns.region) is_turn[region] = 1;
  return is_turn;
}

/// Marks the fewest edges that must be split to leave at most `allowed` of a sum of shares, if
/// splitting leaves a tenth of each share; at most nine tenths of the sum.
void mark_largest(const std::vector<double>& share, double allowed, std::vector<char>& marked) {
  // A fourth-order error falls to a sixteenth; near singular corners it falls less.
  constexpr double left = 0.1, most = 0.9;
  std::vector<std::size_t> order(share.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::sort(order, [&](std::size_t a, std::size_t b) {
    return share[a] != share[b] ? share[a] > share[b] : a < b;
  });
  const double sum = std::accumulate(share.begin(), share.end(), 0.0);
  double rest = sum;
  for (const std::size_t edge : order) {
    if (rest + left * (sum - rest) <= allowed || rest <= (1 - most) * sum || share[edge] == 0.0)
      return;
    marked[edge] = 1;
    rest -= share[edge];
  }
}

}  // namespace

double excess(const ErrorEstimate& estimate, const TurnSet& turns, const AccuracyGoal& goal) {
  const auto is_turn = marks_of(turns, estimate.power.size());
  const double more = estimate.from_drive(goal.fixed_voltage);
  double largest = std::max(estimate.inductance, estimate.coil_loss + more);
  for (std::size_t i = 0; i < is_turn.size(); ++i)
    if (is_turn[i] == 0 && estimate.share[i] >= goal.least_share)
      largest = std::max(largest, estimate.power[i] + more);
  return largest / goal.relative;
}

ErrorAnalysis::ErrorAnalysis(const EddySystem& system, const TurnSet& turns,
                             const TurnResponse& response, const SeriesCoil& coil)
    : system_(system),
      turns_(turns),
      coil_(coil),
      problem_(system, turns, response),
      losses_(system, turns, coil.field),
      residual_(problem_.surplus().residual(coil.field)),
      corrections_(correct(problem_, residual_)) {
  const auto inductance_change = [&](const Correction& c) {
    return residual_.cwiseProduct(c.cubic).sum().real();
  };
  estimate_.inductance =
      Change{inductance_change(corrections_.fine), inductance_change(corrections_.crude)}
          .relative_to(coil.impedance.imag() / response.frequency.omega());
  const Complex fine = residual_.cwiseProduct(corrections_.fine.cubic).sum(),
                crude = residual_.cwiseProduct(corrections_.crude.cubic).sum();
  estimate_.current = Change{std::abs(fine), std::abs(fine) - std::abs(fine - crude)}.relative_to(
      std::abs(coil.impedance) / response.frequency.omega());
  estimate_losses();
}

void ErrorAnalysis::estimate_losses() {
  const Mesh& mesh = system_.mesh();
  const std::size_t regions = system_.media().size();
  std::vector<double> loss(regions, 0.0);
  std::vector<Change> change(regions);
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (!losses_.present(t)) continue;
    const LossSlope slope = losses_.slope(t);
    const double fine = losses_.change(slope, t, problem_.surplus(), corrections_.fine),
                 crude = losses_.change(slope, t, problem_.surplus(), corrections_.crude);
    loss[mesh.region[t]] += slope.loss;
    change[mesh.region[t]] += Change{fine, crude, std::abs(fine)};
  }
  Change coil_change;
  double coil_loss = 0;
  for (std::size_t k = 0; k < turns_.region.size(); ++k) {
    double& ring = loss[turns_.region[k]];
    if (turns_.kind == TurnKind::uniform)
      ring += turns_.weight[k] * turns_.weight[k] * turns_.resistance[k];
    coil_change += change[turns_.region[k]];
    coil_loss += ring;
  }
  estimate_.coil_loss = coil_change.relative_to(coil_loss);
  const double sum = std::accumulate(loss.begin(), loss.end(), 0.0);
  for (std::size_t i = 0; i < regions; ++i) {
    estimate_.power.push_back(change[i].relative_to(loss[i]));
    estimate_.share.push_back(sum > 0 ? loss[i] / sum : 0.0);
  }
}

std::vector<double> ErrorAnalysis::edge_shares(const Eigen::VectorXcd& dual) const {
  const Mesh& mesh = system_.mesh();
  const auto size = [&](int function) { return std::abs(residual_[function] * dual[function]); };
  std::vector<double> share(mesh.nodes.size() - mesh.vertices);
  for (std::size_t e = 0; e < share.size(); ++e) share[e] = size(static_cast<int>(e));
  // A bubble has no direction: it is distributed over the edges in proportion to their shares.
  std::vector<double> from_bubbles(share.size(), 0.0);
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const auto& function = problem_.surplus().unknowns(t);
    double edges = 0;
    for (std::size_t k = 0; k < 3; ++k)
      if (function[k] >= 0) edges += share[function[k]];
    if (edges == 0.0) continue;
    for (std::size_t k = 0; k < 3; ++k)
      if (function[k] >= 0)
        from_bubbles[function[k]] += size(function[3]) * share[function[k]] / edges;
  }
  double sum = 0;
  for (std::size_t e = 0; e < share.size(); ++e) sum += share[e] += from_bubbles[e];
  if (sum > 0)
    for (double& s : share) s /= sum;
  return share;
}

EdgesToSplit ErrorAnalysis::edges_to_split(const AccuracyGoal& goal) const {
  // Below the goal; otherwise the last small excess would take a step of its own.
  constexpr double aim = 0.6;
  const Mesh& mesh = system_.mesh();
  EdgesToSplit edges{std::vector<char>(mesh.nodes.size() - mesh.vertices, 0), -1};
  double most = goal.relative;
  const auto mark = [&](const std::vector<double>& share) {
    mark_largest(share, aim * goal.relative, edges.marked);
    const double sum = std::accumulate(share.begin(), share.end(), 0.0);
    if (sum < most) return;
    most = sum;
    edges.worst = static_cast<int>(mesh.vertices) +
                  static_cast<int>(std::max_element(share.begin(), share.end()) - share.begin());
  };
  const std::vector<double> of_impedance = edge_shares(corrections_.fine.cubic);
  const double more = estimate_.from_drive(goal.fixed_voltage);
  const auto mark_losses = [&](double estimate, const std::vector<char>& regions) {
    if (estimate + more <= goal.relative) return;
    std::vector<double> share =
        edge_shares(problem_.dual(losses_.functional(problem_.surplus(), regions)));
    for (std::size_t e = 0; e < share.size(); ++e)
      share[e] = estimate * share[e] + more * of_impedance[e];
    mark(share);
  };
  if (estimate_.inductance > goal.relative) {
    std::vector<double> share = of_impedance;
    for (double& s : share) s *= estimate_.inductance;
    mark(share);
  }
  const std::vector<char> is_turn = marks_of(turns_, estimate_.power.size());
  mark_losses(estimate_.coil_loss, is_turn);
  for (std::size_t i = 0; i < is_turn.size(); ++i) {
    if (is_turn[i] != 0 || estimate_.share[i] < goal.least_share) continue;
    std::vector<char> this_one(is_turn.size(), 0);
    this_one[i] = 1;
    mark_losses(estimate_.power[i], this_one);
  }
  return edges;
}

ErrorEstimate estimate_error(const EddySystem& system, const TurnSet& turns,
                             const TurnResponse& response, const SeriesCoil& coil) {
  return ErrorAnalysis(system, turns, response, coil).estimate();
}

}  // namespace cw
