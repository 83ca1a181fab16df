#include "solver/fem/column_update.hpp"

#include <array>
#include <cstddef>
#include <cstring>

namespace cw {

namespace {

/// Four numbers side by side.
using Four [[gnu::vector_size(32)]] = double;

[[gnu::always_inline]] inline void four_at(const double* from, Four& to) {
  std::memcpy(&to, from, sizeof to);
}

/// `Count` columns from the k-th on.
template <int Count>
[[gnu::always_inline]] inline void subtract_some(const PanelColumns& p, int k,
                                                 const double* weight_re, const double* weight_im,
                                                 int from, int to, double* __restrict column_re,
                                                 double* __restrict column_im) {
  std::array<const double*, Count> re{}, im{};
  std::array<double, Count> w_re{}, w_im{};
  for (int c = 0; c < Count; ++c) {
    re[c] = p.re + static_cast<std::ptrdiff_t>(k + c) * p.rows;
    im[c] = p.im + static_cast<std::ptrdiff_t>(k + c) * p.rows;
    w_re[c] = weight_re[k + c];
    w_im[c] = weight_im[k + c];
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

[[gnu::always_inline]] inline void subtract_all(const PanelColumns& p, const double* weight_re,
                                                const double* weight_im, int from, int to,
                                                double* column_re, double* column_im) {
  int k = 0;
  for (; k + 4 <= p.columns; k += 4)
    subtract_some<4>(p, k, weight_re, weight_im, from, to, column_re, column_im);
  for (; k < p.columns; ++k)
    subtract_some<1>(p, k, weight_re, weight_im, from, to, column_re, column_im);
}

[[gnu::always_inline]] inline void sum_all(const PanelColumns& p, const double* column_re,
                                           const double* column_im, int from, int to,
                                           double* sum_re, double* sum_im) {
  for (int k = 0; k < p.columns; ++k) {
    const double *re = p.re + static_cast<std::ptrdiff_t>(k) * p.rows,
                 *im = p.im + static_cast<std::ptrdiff_t>(k) * p.rows;
    Four many_re{}, many_im{}, a, b, x, y;
    int i = from;
    for (; i + 4 <= to; i += 4) {
      four_at(re + i, a);
      four_at(im + i, b);
      four_at(column_re + i, x);
      four_at(column_im + i, y);
      many_re += a * x - b * y;
      many_im += a * y + b * x;
    }
    double one_re = many_re[0] + many_re[1] + many_re[2] + many_re[3],
           one_im = many_im[0] + many_im[1] + many_im[2] + many_im[3];
    for (; i < to; ++i) {
      one_re += re[i] * column_re[i] - im[i] * column_im[i];
      one_im += re[i] * column_im[i] + im[i] * column_re[i];
    }
    sum_re[k] -= one_re;
    sum_im[k] -= one_im;
  }
}

#if defined(__x86_64__)
#define CW_WIDE [[gnu::target("avx2,fma")]]
bool wide() {
  static const bool has = __builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma");
  return has;
}
#else
#define CW_WIDE
bool wide() {
  return false;
}
#endif

CW_WIDE void subtract_wide(const PanelColumns& p, const double* weight_re, const double* weight_im,
                           int from, int to, double* column_re, double* column_im) {
  subtract_all(p, weight_re, weight_im, from, to, column_re, column_im);
}

CW_WIDE void sum_wide(const PanelColumns& p, const double* column_re, const double* column_im,
                      int from, int to, double* sum_re, double* sum_im) {
  sum_all(p, column_re, column_im, from, to, sum_re, sum_im);
}

}  // namespace

void subtract_products(const PanelColumns& panel, const double* weight_re, const double* weight_im,
                       int from, int to, double* column_re, double* column_im) {
  if (wide())
    subtract_wide(panel, weight_re, weight_im, from, to, column_re, column_im);
  else
    subtract_all(panel, weight_re, weight_im, from, to, column_re, column_im);
}

void subtract_sums(const PanelColumns& panel, const double* column_re, const double* column_im,
                   int from, int to, double* sum_re, double* sum_im) {
  if (wide())
    sum_wide(panel, column_re, column_im, from, to, sum_re, sum_im);
  else
    sum_all(panel, column_re, column_im, from, to, sum_re, sum_im);
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
