#include "solver/fem/factorisation.hpp"

#include <Eigen/SparseCholesky>
#include <cmath>

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

struct Factorisation::Work {
  SymmetricMatrix matrix;
  Eigen::SimplicialLDLT<SymmetricMatrix, Eigen::Upper, Eigen::NaturalOrdering<int>> ldlt;
};

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
  for (Eigen::Index k = 0; k < rhs.cols(); ++k) {
    const SymmetricVector b =
        rhs.col(k).unaryExpr([](const std::complex<double>& v) { return SymmetricScalar(v); });
    const SymmetricVector y = work_->ldlt.solve(b);
    x.col(k) = y.unaryExpr([](const SymmetricScalar& s) { return s.v; });
  }
  if (!x.allFinite()) throw SolveError("the field solution is not finite");
  return x;
}

}  // namespace cw
