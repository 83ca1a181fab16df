#pragma once

#include <Eigen/Core>
#include <complex>
#include <cstddef>

namespace cw {

template <class Scalar>
using RealOf = typename Eigen::NumTraits<Scalar>::Real;
template <class Scalar>
inline constexpr bool is_complex = Eigen::NumTraits<Scalar>::IsComplex != 0;

/// A contiguous array of numbers with real and imaginary parts stored apart, so that loops run over
/// reals. `im` is null for a real scalar.
template <class Scalar>
struct Parts {
  RealOf<Scalar>*re = nullptr, *im = nullptr;

  [[nodiscard]] Parts from(std::ptrdiff_t k) const {
    if constexpr (is_complex<Scalar>) return {re + k, im + k};
    return {re + k, nullptr};
  }
  [[nodiscard]] Scalar at(std::ptrdiff_t k) const {
    if constexpr (is_complex<Scalar>) return {re[k], im[k]};
    return re[k];
  }
  void set(std::ptrdiff_t k, Scalar value) const {
    re[k] = std::real(value);
    if constexpr (is_complex<Scalar>) im[k] = value.imag();
  }
};

/// Columns of a panel, read-only.
template <class Scalar>
struct PanelColumns {
  const RealOf<Scalar>*re, *im;  ///< of the first column
  int rows;                      ///< distance between columns
  int columns;

  /// The same columns from this row on.
  [[nodiscard]] PanelColumns from_row(int row) const {
    return {re + row, is_complex<Scalar> ? im + row : nullptr, rows, columns};
  }
  /// `count` columns from the k-th on.
  [[nodiscard]] PanelColumns some(int k, int count) const {
    const std::ptrdiff_t shift = static_cast<std::ptrdiff_t>(k) * rows;
    return {re + shift, is_complex<Scalar> ? im + shift : nullptr, rows, count};
  }
};

// Factorisation and solution spend most of their time in the first three functions. Each is
// compiled twice, for every machine and for those with wide registers; the program chooses at run
// time. Scalars: double, std::complex of double and of float.

/// column[i] -= sum over k of panel[i, k] weight[k]  for from <= i < to.
template <class Scalar>
void subtract_products(const PanelColumns<Scalar>& panel, Parts<Scalar> weight, int from, int to,
                       Parts<Scalar> column);

/// Forward through a panel whose first `columns` rows are unit lower triangular, L11 over L21: on
/// entry x holds b over c, on exit y = L11^-1 b over c - L21 y.
template <class Scalar>
void solve_lower(const PanelColumns<Scalar>& panel, Parts<Scalar> x);

/// Backward through it: on entry x holds b over c, on exit L11^-T (b - L21^T c) over c.
template <class Scalar>
void solve_upper(const PanelColumns<Scalar>& panel, Parts<Scalar> x);

/// column[i] *= factor  for from <= i < to.
template <class Scalar>
void scale_column(Scalar factor, int from, int to, Parts<Scalar> column);

}  // namespace cw
