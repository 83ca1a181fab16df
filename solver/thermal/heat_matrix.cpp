#include "solver/thermal/heat_matrix.hpp"

#include <Eigen/SparseCholesky>
#include <Eigen/SparseCore>

#include "solver/fem/factorisation.hpp"

namespace cw {

namespace {

using Sparse = Eigen::SparseMatrix<double>;

Sparse structure(const ThermalMesh& mesh, const std::vector<Couple>& couples) {
  std::vector<Eigen::Triplet<double>> entries;
  entries.reserve(30 * mesh.elements.size());
  const auto couple = [&](auto unknowns) {
    for (const int i : unknowns)
      for (const int j : unknowns)
        if (i >= j) entries.emplace_back(i, j, 0.0);
  };
  for (const auto& e : mesh.elements) couple(e.unknown);
  for (const ContactEdge& c : mesh.contacts)
    couple(std::array{c.one[0], c.one[1], c.one[2], c.other[0], c.other[1], c.other[2]});
  for (const auto& [one, other] : couples)
    for (const int i : one)
      for (const int j : other) entries.emplace_back(std::max(i, j), std::min(i, j), 0.0);
  Sparse matrix(mesh.unknowns(), mesh.unknowns());
  matrix.setFromTriplets(entries.begin(), entries.end());
  return matrix;
}

int place_of(const Sparse& m, int a, int b) {
  const int row = std::max(a, b), column = std::min(a, b);
  const int* begin = m.innerIndexPtr() + m.outerIndexPtr()[column];
  const int* end = m.innerIndexPtr() + m.outerIndexPtr()[column + 1];
  return static_cast<int>(std::lower_bound(begin, end, row) - m.innerIndexPtr());
}

}  // namespace

struct HeatMatrix::Work {
  Sparse matrix;  ///< lower triangle
  Sparse step;    ///< of the same structure
  std::vector<std::array<int, 28>> of_element;
  Eigen::SimplicialLDLT<Sparse, Eigen::Lower> factor;
  Eigen::VectorXd volume, slope, root;
  double gamma = 0.0;

  /// values of `step` from those of `matrix`: diag + gamma scale K scale.
  void combine(const Eigen::VectorXd& diagonal, const Eigen::VectorXd& scale, double factor_of_k) {
    for (int j = 0; j < matrix.outerSize(); ++j)
      for (int k = matrix.outerIndexPtr()[j]; k < matrix.outerIndexPtr()[j + 1]; ++k) {
        const int i = matrix.innerIndexPtr()[k];
        step.valuePtr()[k] = factor_of_k * scale[i] * scale[j] * matrix.valuePtr()[k];
        if (i == j) step.valuePtr()[k] += diagonal[i];
      }
    factor.factorize(step);
    if (factor.info() != Eigen::Success || !(factor.vectorD().minCoeff() > 0.0))
      throw SolveError("heat conduction: the matrix of the temperatures is singular");
  }
};

HeatMatrix::HeatMatrix(const ThermalMesh& mesh, const std::vector<Couple>& couples)
    : work_(std::make_unique<Work>()) {
  Work& w = *work_;
  w.matrix = structure(mesh, couples);
  w.step = w.matrix;
  w.of_element.resize(mesh.elements.size());
  for (std::size_t e = 0; e < mesh.elements.size(); ++e) {
    int k = 0;
    for (int i = 0; i < 7; ++i)
      for (int j = 0; j <= i; ++j)
        w.of_element[e][k++] =
            place_of(w.matrix, mesh.elements[e].unknown[i], mesh.elements[e].unknown[j]);
  }
  w.factor.analyzePattern(w.step);
}

HeatMatrix::~HeatMatrix() = default;
HeatMatrix::HeatMatrix(HeatMatrix&&) noexcept = default;
HeatMatrix& HeatMatrix::operator=(HeatMatrix&&) noexcept = default;

void HeatMatrix::clear() {
  std::fill_n(work_->matrix.valuePtr(), work_->matrix.nonZeros(), 0.0);
}

void HeatMatrix::add_element(std::size_t element, const std::array<double, 28>& lower) {
  double* values = work_->matrix.valuePtr();
  const auto& place = work_->of_element[element];
  for (std::size_t k = 0; k < lower.size(); ++k) values[place[k]] += lower[k];
}

void HeatMatrix::add(int row, int column, double value) {
  work_->matrix.valuePtr()[place_of(work_->matrix, row, column)] += value;
}

Eigen::VectorXd HeatMatrix::times(const Eigen::VectorXd& kelvin) const {
  return work_->matrix.selfadjointView<Eigen::Lower>() * kelvin;
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
  const Eigen::VectorXd u = w.factor.solve(w.root.cwiseProduct(w.volume.cwiseProduct(b)));
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
  return w.factor.solve(free.cwiseProduct(power));
}

}  // namespace cw
