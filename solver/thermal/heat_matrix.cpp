#include "solver/thermal/heat_matrix.hpp"

#include <Eigen/OrderingMethods>
#include <Eigen/SparseCore>
#include <algorithm>

#include "solver/fem/factorisation.hpp"

namespace cw {

namespace {

using Graph = Eigen::SparseMatrix<int>;

/// Unknowns that exchange heat: lower triangle with its diagonal.
Graph graph_of(const ThermalMesh& mesh, const std::vector<Couple>& couples) {
  std::vector<Eigen::Triplet<int>> links;
  links.reserve(30 * mesh.elements.size());
  const auto couple = [&](auto unknowns) {
    for (const int i : unknowns)
      for (const int j : unknowns)
        if (i >= j) links.emplace_back(i, j, 1);
  };
  for (const auto& e : mesh.elements) couple(e.unknown);
  for (const ContactEdge& c : mesh.contacts)
    couple(std::array{c.one[0], c.one[1], c.one[2], c.other[0], c.other[1], c.other[2]});
  for (const auto& [one, other] : couples)
    for (const int i : one)
      for (const int j : other) links.emplace_back(std::max(i, j), std::min(i, j), 1);
  Graph graph(mesh.unknowns(), mesh.unknowns());
  graph.setFromTriplets(links.begin(), links.end());
  return graph;
}

/// Unknowns in an order of elimination.
std::vector<int> order_of(const Graph& graph) {
  Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, int> order;
  Eigen::AMDOrdering<int>()(graph.selfadjointView<Eigen::Lower>(), order);
  return {order.indices().begin(), order.indices().end()};
}

/// The graph with unknowns by rank, the place each has in the order.
Pattern ranked(const Graph& graph, const std::vector<int>& rank) {
  std::vector<std::vector<int>> above(rank.size());
  for (int j = 0; j < graph.outerSize(); ++j)
    for (Graph::InnerIterator it(graph, j); it; ++it)
      above[std::max(rank[it.row()], rank[j])].push_back(std::min(rank[it.row()], rank[j]));
  return pattern_of(std::move(above));
}

}  // namespace

struct HeatMatrix::Work {
  std::vector<int> order, rank;  ///< unknown by rank, and the reverse
  Pattern pattern;               ///< by rank
  std::vector<double> matrix;    ///< values
  std::vector<double> step;      ///< values of what is factorised
  std::vector<std::array<int, 28>> of_element;
  FactorisationOf<double> factor;
  Eigen::VectorXd volume, slope, root;
  double gamma = 0.0;

  Work(std::vector<int> by_rank, const Graph& graph)
      : order(std::move(by_rank)),
        rank(inverse(order)),
        pattern(ranked(graph, rank)),
        matrix(pattern.entries()),
        step(pattern.entries()),
        factor(pattern) {}

  static std::vector<int> inverse(const std::vector<int>& order) {
    std::vector<int> rank(order.size());
    for (std::size_t k = 0; k < order.size(); ++k) rank[order[k]] = static_cast<int>(k);
    return rank;
  }

  [[nodiscard]] int place(int i, int j) const { return place_of(pattern, rank[i], rank[j]); }

  /// Factorises  diag + factor_of_k scale K scale.
  void combine(const Eigen::VectorXd& diagonal, const Eigen::VectorXd& scale, double factor_of_k) {
    for (int column = 0; column < pattern.size; ++column) {
      const double outer = factor_of_k * scale[order[column]];
      const int last = pattern.column_start[column + 1] - 1;
      for (int k = pattern.column_start[column]; k <= last; ++k)
        step[k] = outer * scale[order[pattern.row[k]]] * matrix[k];
      step[last] += diagonal[order[column]];
    }
    try {
      factor.compute(step);
    } catch (const SolveError&) {
      throw SolveError("heat conduction: the matrix of the temperatures is singular");
    }
  }

  [[nodiscard]] Eigen::VectorXd solve(const Eigen::VectorXd& b) const {
    return factor.solve(b(order))(rank, 0);
  }
};

HeatMatrix::HeatMatrix(const ThermalMesh& mesh, const std::vector<Couple>& couples) {
  const Graph graph = graph_of(mesh, couples);
  work_ = std::make_unique<Work>(order_of(graph), graph);
  Work& w = *work_;
  w.of_element.resize(mesh.elements.size());
  for (std::size_t e = 0; e < mesh.elements.size(); ++e) {
    int k = 0;
    for (int i = 0; i < 7; ++i)
      for (int j = 0; j <= i; ++j)
        w.of_element[e][k++] = w.place(mesh.elements[e].unknown[i], mesh.elements[e].unknown[j]);
  }
}

HeatMatrix::~HeatMatrix() = default;
HeatMatrix::HeatMatrix(HeatMatrix&&) noexcept = default;
HeatMatrix& HeatMatrix::operator=(HeatMatrix&&) noexcept = default;

void HeatMatrix::clear() {
  std::fill(work_->matrix.begin(), work_->matrix.end(), 0.0);
}

void HeatMatrix::add_element(std::size_t element, const std::array<double, 28>& lower) {
  std::vector<double>& values = work_->matrix;
  const auto& place = work_->of_element[element];
  for (std::size_t k = 0; k < lower.size(); ++k) values[place[k]] += lower[k];
}

void HeatMatrix::add(int row, int column, double value) {
  work_->matrix[work_->place(row, column)] += value;
}

Eigen::VectorXd HeatMatrix::times(const Eigen::VectorXd& kelvin) const {
  const Work& w = *work_;
  const Eigen::VectorXd x = kelvin(w.order);
  Eigen::VectorXd y = Eigen::VectorXd::Zero(x.size());
  add_product(
      w.pattern, [&](int k) { return w.matrix[k]; }, x, y);
  return y(w.rank);
}

void HeatMatrix::factorise_step(const Eigen::VectorXd& volume, const Eigen::VectorXd& slope,
                                double gamma) {
  Work& w = *work_;
  w.volume = volume;
  w.slope = slope;
  w.root = slope.cwiseSqrt();
  w.gamma = gamma;
  w.combine(volume, w.root, gamma);
}

StepChange HeatMatrix::solve_step(const Eigen::VectorXd& b) const {
  const Work& w = *work_;
  // u = S x obeys the symmetric system; the rest of x, all of it where S = 0, follows from the row.
  const Eigen::VectorXd u = w.solve(w.root.cwiseProduct(w.volume.cwiseProduct(b)));
  StepChange change;
  change.kelvin = w.root.cwiseProduct(u);
  change.given = times(change.kelvin);
  change.enthalpy = b - w.gamma * change.given.cwiseQuotient(w.volume);
  return change;
}

Eigen::VectorXd HeatMatrix::solve_steady(const Eigen::VectorXd& power,
                                         const std::vector<char>& held) {
  Work& w = *work_;
  Eigen::VectorXd free = Eigen::VectorXd::Ones(power.size()), diagonal = 0.0 * free;
  for (std::size_t i = 0; i < held.size(); ++i)
    if (held[i]) {
      free[i] = 0.0;
      diagonal[i] = 1.0;
    }
  w.combine(diagonal, free, 1.0);
  return w.solve(free.cwiseProduct(power));
}

}  // namespace cw
