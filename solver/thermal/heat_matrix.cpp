#include "solver/thermal/heat_matrix.hpp"

#include <Eigen/OrderingMethods>
#include <Eigen/SparseCore>
#include <algorithm>
#include <cassert>
#include <span>

#include "solver/fem/factorisation.hpp"

namespace cw {

namespace {

using Graph = Eigen::SparseMatrix<int>;

/// Outer unknowns, all but the middles of elements, that exchange heat: lower triangle with its
/// diagonal. A middle exchanges heat within its element alone.
Graph graph_of(const ThermalMesh& mesh, const std::vector<int>& outer, int count,
               const std::vector<Couple>& couples) {
  std::vector<Eigen::Triplet<int>> links;
  links.reserve(21 * mesh.elements.size());
  const auto link = [&](int i, int j) {
    links.emplace_back(std::max(outer[i], outer[j]), std::min(outer[i], outer[j]), 1);
  };
  const auto couple = [&](std::span<const int> unknowns) {
    for (const int i : unknowns)
      for (const int j : unknowns)
        if (i >= j) link(i, j);
  };
  for (const auto& e : mesh.elements) couple(std::span(e.unknown).first(6));
  for (const ContactEdge& c : mesh.contacts)
    couple(std::array{c.one[0], c.one[1], c.one[2], c.other[0], c.other[1], c.other[2]});
  for (const auto& [one, other] : couples)
    for (const int i : one)
      for (const int j : other) link(i, j);
  Graph graph(count, count);
  graph.setFromTriplets(links.begin(), links.end());
  return graph;
}

/// Unknowns in an order of elimination.
std::vector<int> order_of(const Graph& graph) {
  Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, int> order;
  Eigen::AMDOrdering<int>()(graph.selfadjointView<Eigen::Lower>(), order);
  return {order.indices().begin(), order.indices().end()};
}

std::vector<int> inverse(const std::vector<int>& order) {
  std::vector<int> rank(order.size());
  for (std::size_t k = 0; k < order.size(); ++k) rank[order[k]] = static_cast<int>(k);
  return rank;
}

/// The graph with unknowns by rank, their position in the order.
Pattern ranked(const Graph& graph, const std::vector<int>& rank) {
  std::vector<std::vector<int>> above(rank.size());
  for (int j = 0; j < graph.outerSize(); ++j)
    for (Graph::InnerIterator it(graph, j); it; ++it)
      above[std::max(rank[it.row()], rank[j])].push_back(std::min(rank[it.row()], rank[j]));
  return pattern_of(std::move(above));
}

/// Unknowns in an order of elimination, and their couplings in it.
struct Ranking {
  std::vector<int> order;  ///< unknown by rank: the outer ones, then the middles of the elements
  Pattern pattern;         ///< of the outer ones, by rank
};

Ranking rank_unknowns(const ThermalMesh& mesh, const std::vector<Couple>& couples) {
  std::vector<char> middle(mesh.unknowns(), 0);
  for (const auto& e : mesh.elements) middle[e.unknown[6]] = 1;
  std::vector<int> outer(mesh.unknowns(), -1), unknown;
  for (int i = 0; i < mesh.unknowns(); ++i)
    if (!middle[i]) {
      outer[i] = static_cast<int>(unknown.size());
      unknown.push_back(i);
    }
  const Graph graph = graph_of(mesh, outer, static_cast<int>(unknown.size()), couples);
  const std::vector<int> order = order_of(graph);
  Ranking result{{}, ranked(graph, inverse(order))};
  for (const int k : order) result.order.push_back(unknown[k]);
  for (const auto& e : mesh.elements) result.order.push_back(e.unknown[6]);
  return result;
}

/// An element in the matrix. Its middle is eliminated separately, before all others.
struct Cell {
  std::array<int, 6> outer;            ///< ranks
  std::array<int, 21> place;           ///< of its lower triangle in the pattern
  std::array<double, 6> to_middle;     ///< K between the middle and the others [W/K]
  double of_middle = 0.0;              ///< K of the middle itself [W/K]
  std::array<double, 6> eliminated{};  ///< `to_middle` of the factorised matrix
  double inverse_pivot = 0.0;
};

}  // namespace

struct HeatMatrix::Work {
  std::vector<int> order, rank;  ///< unknown by rank, and the reverse
  Pattern pattern;               ///< of the outer unknowns, by rank
  std::vector<double> matrix;    ///< K on it
  std::vector<double> step;      ///< the matrix to be factorised
  std::vector<Cell> cells;       ///< by element; the middle of the k-th has rank pattern.size + k
  FactorisationOf<double> factor;
  Eigen::VectorXd volume, root;  ///< of the last step
  double gamma = 0.0;

  Work(Ranking ranking, const ThermalMesh& mesh)
      : order(std::move(ranking.order)),
        rank(inverse(order)),
        pattern(std::move(ranking.pattern)),
        matrix(pattern.entries()),
        step(pattern.entries()),
        factor(pattern) {
    for (const auto& e : mesh.elements) {
      Cell cell{};
      std::size_t k = 0;
      for (std::size_t i = 0; i < 6; ++i) {
        cell.outer[i] = rank[e.unknown[i]];
        for (std::size_t j = 0; j <= i; ++j)
          cell.place[k++] = place_of(pattern, cell.outer[i], cell.outer[j]);
      }
      cells.push_back(cell);
    }
  }

  /// Factorises diag + factor_of_k scale K scale, all by rank.
  void combine(const Eigen::VectorXd& diagonal, const Eigen::VectorXd& scale, double factor_of_k) {
    for (int column = 0; column < pattern.size; ++column) {
      const double outer = factor_of_k * scale[column];
      const int last = pattern.column_start[column + 1] - 1;
      for (int k = pattern.column_start[column]; k <= last; ++k)
        step[k] = outer * scale[pattern.row[k]] * matrix[k];
      step[last] += diagonal[column];
    }
    Eigen::Index middle = pattern.size;
    for (Cell& c : cells) {
      const double own = factor_of_k * scale[middle];
      c.inverse_pivot = 1.0 / (diagonal[middle] + own * scale[middle] * c.of_middle);
      for (std::size_t i = 0; i < 6; ++i)
        c.eliminated[i] = own * scale[c.outer[i]] * c.to_middle[i];
      std::size_t k = 0;
      for (std::size_t i = 0; i < 6; ++i) {
        const double weight = c.eliminated[i] * c.inverse_pivot;
        for (std::size_t j = 0; j <= i; ++j) step[c.place[k++]] -= weight * c.eliminated[j];
      }
      ++middle;
    }
    try {
      factor.compute(step);
    } catch (const SolveError&) {
      throw SolveError("heat conduction: the matrix of the temperatures is singular");
    }
  }

  /// Solution with the last factorisation, by rank.
  [[nodiscard]] Eigen::VectorXd solve(Eigen::VectorXd x) const {
    Eigen::Index middle = pattern.size;
    for (const Cell& c : cells) {
      x[middle] *= c.inverse_pivot;
      for (std::size_t i = 0; i < 6; ++i) x[c.outer[i]] -= c.eliminated[i] * x[middle];
      ++middle;
    }
    x.head(pattern.size) = factor.solve(x.head(pattern.size));
    middle = pattern.size;
    for (const Cell& c : cells) {
      double sum = 0.0;
      for (std::size_t i = 0; i < 6; ++i) sum += c.eliminated[i] * x[c.outer[i]];
      x[middle] -= c.inverse_pivot * sum;
      ++middle;
    }
    return x;
  }

  /// Product with K, by rank.
  [[nodiscard]] Eigen::VectorXd times(const Eigen::VectorXd& x) const {
    Eigen::VectorXd y = Eigen::VectorXd::Zero(x.size());
    add_product(
        pattern, [this](int k) { return matrix[k]; }, x, y);
    Eigen::Index middle = pattern.size;
    for (const Cell& c : cells) {
      double sum = c.of_middle * x[middle];
      for (std::size_t i = 0; i < 6; ++i) {
        sum += c.to_middle[i] * x[c.outer[i]];
        y[c.outer[i]] += c.to_middle[i] * x[middle];
      }
      y[middle] = sum;
      ++middle;
    }
    return y;
  }
};

HeatMatrix::HeatMatrix(const ThermalMesh& mesh, const std::vector<Couple>& couples)
    : work_(std::make_unique<Work>(rank_unknowns(mesh, couples), mesh)) {}

HeatMatrix::~HeatMatrix() = default;
HeatMatrix::HeatMatrix(HeatMatrix&&) noexcept = default;
HeatMatrix& HeatMatrix::operator=(HeatMatrix&&) noexcept = default;

void HeatMatrix::clear() {
  std::fill(work_->matrix.begin(), work_->matrix.end(), 0.0);
}

void HeatMatrix::set_element(std::size_t element, const std::array<double, 28>& lower) {
  Cell& c = work_->cells[element];
  for (std::size_t k = 0; k < c.place.size(); ++k) work_->matrix[c.place[k]] += lower[k];
  std::copy_n(lower.begin() + 21, 6, c.to_middle.begin());
  c.of_middle = lower[27];
}

void HeatMatrix::add(int row, int column, double value) {
  const Work& w = *work_;
  assert(w.rank[row] < w.pattern.size && w.rank[column] < w.pattern.size);
  work_->matrix[place_of(w.pattern, w.rank[row], w.rank[column])] += value;
}

Eigen::VectorXd HeatMatrix::times(const Eigen::VectorXd& kelvin) const {
  return work_->times(kelvin(work_->order))(work_->rank);
}

void HeatMatrix::factorise_step(const Eigen::VectorXd& volume, const Eigen::VectorXd& slope,
                                double gamma) {
  Work& w = *work_;
  w.volume = volume(w.order);
  w.root = slope(w.order).cwiseSqrt();
  w.gamma = gamma;
  w.combine(w.volume, w.root, gamma);
}

StepChange HeatMatrix::solve_step(const Eigen::VectorXd& b) const {
  const Work& w = *work_;
  // u = S x obeys the symmetric system; the rest of x, all of it where S = 0, follows from the row.
  const Eigen::VectorXd ranked = b(w.order);
  const Eigen::VectorXd u = w.solve(w.root.cwiseProduct(w.volume.cwiseProduct(ranked)));
  const Eigen::VectorXd kelvin = w.root.cwiseProduct(u), given = w.times(kelvin);
  const Eigen::VectorXd enthalpy = ranked - w.gamma * given.cwiseQuotient(w.volume);
  return {enthalpy(w.rank), kelvin(w.rank), given(w.rank)};
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
  const Eigen::VectorXd ranked = free(w.order);
  w.combine(diagonal(w.order), ranked, 1.0);
  return w.solve(ranked.cwiseProduct(power(w.order)))(w.rank);
}

}  // namespace cw
