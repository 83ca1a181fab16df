#include "solver/field/gmres.hpp"

#include <algorithm>

namespace cw {

GmresOutcome gmres(const std::function<Eigen::VectorXcd(const Eigen::VectorXcd&)>& apply,
                   const Eigen::VectorXcd& b, const GmresLimits& limits) {
  const int most = limits.products;
  const double norm = b.norm();
  GmresOutcome outcome{Eigen::VectorXcd::Zero(b.size())};
  if (norm == 0.0) return {outcome.x, 0, 0.0};
  // Columns are real vectors of twice the length.
  Eigen::MatrixXd basis(2 * b.size(), std::min(most, 11) + 1);
  const auto as_real = [](const Eigen::VectorXcd& v) {
    return Eigen::Map<const Eigen::VectorXd>(reinterpret_cast<const double*>(v.data()),
                                             2 * v.size());
  };
  const auto column = [&](int k) {
    return Eigen::Map<const Eigen::VectorXcd>(
        reinterpret_cast<const std::complex<double>*>(basis.col(k).data()), b.size());
  };
  Eigen::MatrixXd h = Eigen::MatrixXd::Zero(most + 1, most);  // upper triangular after rotation
  Eigen::VectorXd g = Eigen::VectorXd::Zero(most + 1), cosine(most), sine(most);
  basis.col(0) = as_real(b) / norm;
  g[0] = norm;
  int k = 0;
  while (k < most && std::abs(g[k]) > limits.tolerance * norm) {
    if (k + 1 == basis.cols()) basis.conservativeResize(Eigen::NoChange, std::min(2 * k, most) + 1);
    const Eigen::VectorXcd product = apply(column(k));
    Eigen::VectorXd w = as_real(product);
    for (int pass = 0; pass < 2; ++pass) {
      const Eigen::VectorXd share = basis.leftCols(k + 1).transpose() * w;
      w.noalias() -= basis.leftCols(k + 1) * share;
      h.col(k).head(k + 1) += share;
    }
    double below = w.norm();
    basis.col(k + 1) = below > 0 ? (w / below).eval() : w;
    for (int i = 0; i < k; ++i) {
      const double upper = h(i, k);
      h(i, k) = cosine[i] * upper + sine[i] * h(i + 1, k);
      h(i + 1, k) = -sine[i] * upper + cosine[i] * h(i + 1, k);
    }
    const double length = std::hypot(h(k, k), below);
    cosine[k] = h(k, k) / length;
    sine[k] = below / length;
    h(k, k) = length;
    g[k + 1] = -sine[k] * g[k];
    g[k] *= cosine[k];
    ++k;
    if (below == 0.0) break;
  }
  const Eigen::VectorXd y = h.topLeftCorner(k, k).triangularView<Eigen::Upper>().solve(g.head(k));
  const Eigen::VectorXd x = basis.leftCols(k) * y;
  outcome.x = Eigen::Map<const Eigen::VectorXcd>(
      reinterpret_cast<const std::complex<double>*>(x.data()), b.size());
  outcome.products = k;
  outcome.reduction = std::abs(g[k]) / norm;
  return outcome;
}

}  // namespace cw
