#include "solver/fem/column_update.hpp"

#include <array>

namespace cw {

namespace {

/// `Count` columns from the k-th on.
template <int Count>
[[gnu::always_inline]] inline void subtract_some(const ColumnUpdate& u, int k, int from, int to,
                                                 double* __restrict column_re,
                                                 double* __restrict column_im) {
  std::array<const double*, Count> re{}, im{};
  std::array<double, Count> w_re{}, w_im{};
  for (int c = 0; c < Count; ++c) {
    re[c] = u.re + static_cast<std::ptrdiff_t>(k + c) * u.rows;
    im[c] = u.im + static_cast<std::ptrdiff_t>(k + c) * u.rows;
    w_re[c] = u.weight_re[k + c];
    w_im[c] = u.weight_im[k + c];
  }
  for (int i = from; i < to; ++i) {
    double sum_re = column_re[i], sum_im = column_im[i];
    for (int c = 0; c < Count; ++c) {
      sum_re -= re[c][i] * w_re[c] - im[c][i] * w_im[c];
      sum_im -= re[c][i] * w_im[c] + im[c][i] * w_re[c];
    }
    column_re[i] = sum_re;
    column_im[i] = sum_im;
  }
}

[[gnu::always_inline]] inline void subtract_all(const ColumnUpdate& u, int from, int to,
                                                double* column_re, double* column_im) {
  int k = 0;
  for (; k + 4 <= u.columns; k += 4) subtract_some<4>(u, k, from, to, column_re, column_im);
  for (; k < u.columns; ++k) subtract_some<1>(u, k, from, to, column_re, column_im);
}

void subtract_anywhere(const ColumnUpdate& u, int from, int to, double* column_re,
                       double* column_im) {
  subtract_all(u, from, to, column_re, column_im);
}

using Subtract = void (*)(const ColumnUpdate&, int, int, double*, double*);

#if defined(__x86_64__)
[[gnu::target("avx2,fma")]] void subtract_wide(const ColumnUpdate& u, int from, int to,
                                               double* column_re, double* column_im) {
  subtract_all(u, from, to, column_re, column_im);
}

Subtract chosen() {
  return __builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma") ? subtract_wide
                                                                         : subtract_anywhere;
}
#else
Subtract chosen() {
  return subtract_anywhere;
}
#endif

}  // namespace

void subtract_products(const ColumnUpdate& update, int from, int to, double* column_re,
                       double* column_im) {
  static const Subtract subtract = chosen();
  subtract(update, from, to, column_re, column_im);
}

void scale_column(std::complex<double> factor, int from, int to, double* __restrict column_re,
                  double* __restrict column_im) {
  const double re = factor.real(), im = factor.imag();
  for (int i = from; i < to; ++i) {
    const double r = column_re[i];
    column_re[i] = r * re - column_im[i] * im;
    column_im[i] = r * im + column_im[i] * re;
  }
}

}  // namespace cw
