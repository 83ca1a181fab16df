#include "solver/field/gmres.hpp"

#include <algorithm>

namespace cw {

namespace {

/// A complex vector as a real one of twice the length.
Eigen::Map<const Eigen::VectorXd> as_real(const Eigen::VectorXcd& v) {
  return {reinterpret_cast<const double*>(v.data()), 2 * v.size()};
}
Eigen::Map<const Eigen::VectorXcd> as_complex(const Eigen::Ref<const Eigen::VectorXd>& v) {
  return {reinterpret_cast<const std::complex<double>*>(v.data()), v.size() / 2};
}

/// The problem in the basis: minimise |g - H y|, where rotations make H upper triangular column by
/// column.
struct Projection {
  Eigen::MatrixXd h;
  Eigen::VectorXd g, cosine, sine;
  int columns = 0;

  Projection(int most, double norm)
      : h(Eigen::MatrixXd::Zero(most + 1, most)),
        g(Eigen::VectorXd::Zero(most + 1)),
        cosine(most),
        sine(most) {
    g[0] = norm;
  }

  [[nodiscard]] double rest() const { return std::abs(g[columns]); }

  /// Adds column `columns` of H; its last entry is `below`.
  void take_column(double below) {
    const int k = columns++;
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
  }

  [[nodiscard]] Eigen::VectorXd solution() const {
    return h.topLeftCorner(columns, columns).triangularView<Eigen::Upper>().solve(g.head(columns));
  }
};

/// Removes from w its components in the basis, twice because of rounding, and adds them to
/// `shares`.
void orthogonalise(const Eigen::Ref<const Eigen::MatrixXd>& basis, Eigen::VectorXd& w,
                   Eigen::Ref<Eigen::VectorXd> shares) {
  for (int pass = 0; pass < 2; ++pass) {
    const Eigen::VectorXd share = basis.transpose() * w;
    w.noalias() -= basis * share;
    shares += share;
  }
}

}  // namespace

GmresOutcome gmres(const std::function<Eigen::VectorXcd(const Eigen::VectorXcd&)>& apply,
                   const Eigen::VectorXcd& b, const GmresLimits& limits) {
  const int most = limits.products;
  const double norm = b.norm();
  if (norm == 0.0) return {Eigen::VectorXcd::Zero(b.size()), 0, 0.0};
  Eigen::MatrixXd basis(2 * b.size(), std::min(most, 11) + 1);
  basis.col(0) = as_real(b) / norm;
  Projection projection(most, norm);
  bool complete = false;
  while (!complete && projection.columns < most && projection.rest() > limits.tolerance * norm) {
    const int k = projection.columns;
    if (k + 1 == basis.cols()) basis.conservativeResize(Eigen::NoChange, std::min(2 * k, most) + 1);
    const Eigen::VectorXcd product = apply(as_complex(basis.col(k)));
    Eigen::VectorXd w = as_real(product);
    orthogonalise(basis.leftCols(k + 1), w, projection.h.col(k).head(k + 1));
    const double below = w.norm();
    complete = below == 0.0;
    if (!complete) w /= below;
    basis.col(k + 1) = w;
    projection.take_column(below);
  }
  const Eigen::VectorXd x = basis.leftCols(projection.columns) * projection.solution();
  return {as_complex(x), projection.columns, projection.rest() / norm};
}

}  // namespace cw
