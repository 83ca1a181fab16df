#include "solver/fem/factorisation.hpp"

#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>
#include <vector>

namespace cw {

/// A complex number whose conjugate is itself: with it Eigen's LDL^H becomes the LDL^T of a
/// symmetric matrix.
struct SymmetricScalar {
  std::complex<double> v;
  SymmetricScalar() = default;
  SymmetricScalar(double x) : v(x) {}                // NOLINT: Eigen converts literals
  SymmetricScalar(std::complex<double> x) : v(x) {}  // NOLINT
  SymmetricScalar& operator+=(const SymmetricScalar& o) {
    v += o.v;
    return *this;
  }
  SymmetricScalar& operator-=(const SymmetricScalar& o) {
    v -= o.v;
    return *this;
  }
  SymmetricScalar& operator*=(const SymmetricScalar& o) {
    *this = *this * o;
    return *this;
  }
  SymmetricScalar& operator/=(const SymmetricScalar& o) {
    *this = *this / o;
    return *this;
  }
  friend SymmetricScalar operator+(const SymmetricScalar& a, const SymmetricScalar& b) {
    return {a.v + b.v};
  }
  friend SymmetricScalar operator-(const SymmetricScalar& a, const SymmetricScalar& b) {
    return {a.v - b.v};
  }
  friend SymmetricScalar operator-(const SymmetricScalar& a) { return {-a.v}; }
  friend SymmetricScalar operator*(const SymmetricScalar& a, const SymmetricScalar& b) {
    // Written out: std::complex checks every product for infinities.
    return {std::complex<double>{a.v.real() * b.v.real() - a.v.imag() * b.v.imag(),
                                 a.v.real() * b.v.imag() + a.v.imag() * b.v.real()}};
  }
  friend SymmetricScalar operator/(const SymmetricScalar& a, const SymmetricScalar& b) {
    const double size = b.v.real() * b.v.real() + b.v.imag() * b.v.imag();
    return a * SymmetricScalar{std::complex<double>{b.v.real() / size, -b.v.imag() / size}};
  }
  friend bool operator==(const SymmetricScalar& a, const SymmetricScalar& b) { return a.v == b.v; }
  friend bool operator!=(const SymmetricScalar& a, const SymmetricScalar& b) { return a.v != b.v; }
  friend bool operator<=(const SymmetricScalar&, const SymmetricScalar&) {
    return false;
  }  // dead branch in Eigen
};
inline SymmetricScalar sqrt(const SymmetricScalar& a) {
  return {std::sqrt(a.v)};
}  // dead branch in Eigen

}  // namespace cw

namespace Eigen {
template <>
struct NumTraits<cw::SymmetricScalar> : GenericNumTraits<cw::SymmetricScalar> {
  using Real = cw::SymmetricScalar;
  using NonInteger = cw::SymmetricScalar;
  using Literal = cw::SymmetricScalar;
  using Nested = cw::SymmetricScalar;
  enum {
    IsComplex = 0,
    IsInteger = 0,
    IsSigned = 1,
    RequireInitialization = 0,
    ReadCost = 2,
    AddCost = 2,
    MulCost = 6
  };
};
}  // namespace Eigen

namespace cw {

using SymmetricMatrix = Eigen::SparseMatrix<SymmetricScalar>;
using SymmetricVector = Eigen::Matrix<SymmetricScalar, Eigen::Dynamic, 1>;

using SymmetricLdlt =
    Eigen::SimplicialLDLT<SymmetricMatrix, Eigen::Upper, Eigen::NaturalOrdering<int>>;

struct Factorisation::Work {
  SymmetricMatrix matrix;
  SymmetricLdlt ldlt;
};

namespace {

/// One row of a block of columns.
struct RowOfBlock {
  static constexpr int width = 4;
  Eigen::Array<double, width, 1> re, im;

  void subtract(const std::complex<double>& factor, const RowOfBlock& other) {
    re -= factor.real() * other.re - factor.imag() * other.im;
    im -= factor.real() * other.im + factor.imag() * other.re;
  }
};

/// L D L^T x = b for a block of columns at once, in place: reading the factor from memory is what a
/// solution costs, and it serves the whole block.
void solve_block(const SymmetricLdlt& ldlt, std::vector<RowOfBlock>& x) {
  const auto& l = ldlt.matrixL().nestedExpression();  // below the diagonal, which is 1
  const auto* start = l.outerIndexPtr();
  const auto* row = l.innerIndexPtr();
  const SymmetricScalar* value = l.valuePtr();
  const SymmetricVector d = ldlt.vectorD();  // returns a copy
  const auto n = static_cast<int>(l.cols());
  for (int j = 0; j < n; ++j) {
    const RowOfBlock known = x[j];
    for (int k = start[j]; k < start[j + 1]; ++k) x[row[k]].subtract(value[k].v, known);
  }
  for (int j = n - 1; j >= 0; --j) {
    const std::complex<double> scale = 1.0 / d[j].v;
    RowOfBlock sum{scale.real() * x[j].re - scale.imag() * x[j].im,
                   scale.real() * x[j].im + scale.imag() * x[j].re};
    for (int k = start[j]; k < start[j + 1]; ++k) sum.subtract(value[k].v, x[row[k]]);
    x[j] = sum;
  }
}

}  // namespace

Factorisation::Factorisation(const Pattern& pattern) : work_(std::make_unique<Work>()) {
  SymmetricMatrix& m = work_->matrix;
  m.resize(pattern.size, pattern.size);
  m.resizeNonZeros(static_cast<Eigen::Index>(pattern.entries()));
  std::copy(pattern.column_start.begin(), pattern.column_start.end(), m.outerIndexPtr());
  std::copy(pattern.row.begin(), pattern.row.end(), m.innerIndexPtr());
  std::fill_n(m.valuePtr(), pattern.entries(), SymmetricScalar(1.0));
  work_->ldlt.analyzePattern(m);
}

Factorisation::~Factorisation() = default;
Factorisation::Factorisation(Factorisation&&) noexcept = default;
Factorisation& Factorisation::operator=(Factorisation&&) noexcept = default;

void Factorisation::compute(std::span<const double> stiffness, std::span<const double> mass,
                            double omega) {
  SymmetricScalar* value = work_->matrix.valuePtr();
  for (std::size_t i = 0; i < stiffness.size(); ++i)
    value[i] = std::complex<double>{stiffness[i], omega * mass[i]};
  work_->ldlt.factorize(work_->matrix);
  if (work_->ldlt.info() != Eigen::Success)
    throw SolveError(
        "the field matrix could not be factorised: a pivot is zero (a region without size or with "
        "a "
        "non-finite property?)");
}

Eigen::MatrixXcd Factorisation::solve(const Eigen::MatrixXcd& rhs) const {
  Eigen::MatrixXcd x(rhs.rows(), rhs.cols());
  if (rhs.cols() == 1) {
    const SymmetricVector b =
        rhs.col(0).unaryExpr([](const std::complex<double>& v) { return SymmetricScalar(v); });
    const SymmetricVector y = work_->ldlt.solve(b);
    x.col(0) = y.unaryExpr([](const SymmetricScalar& s) { return s.v; });
  } else {
    std::vector<RowOfBlock> block(static_cast<std::size_t>(rhs.rows()));
    for (Eigen::Index first = 0; first < rhs.cols(); first += RowOfBlock::width) {
      const Eigen::Index count = std::min<Eigen::Index>(RowOfBlock::width, rhs.cols() - first);
      for (Eigen::Index i = 0; i < rhs.rows(); ++i) {
        RowOfBlock& to = block[i];
        to = {decltype(to.re)::Zero(), decltype(to.re)::Zero()};
        to.re.head(count) = rhs.row(i).segment(first, count).real().transpose().array();
        to.im.head(count) = rhs.row(i).segment(first, count).imag().transpose().array();
      }
      solve_block(work_->ldlt, block);
      for (Eigen::Index i = 0; i < rhs.rows(); ++i)
        for (Eigen::Index k = 0; k < count; ++k) x(i, first + k) = {block[i].re[k], block[i].im[k]};
    }
  }
  if (!x.allFinite()) throw SolveError("the field solution is not finite");
  return x;
}

}  // namespace cw
