#include "solver/fem/column_update.hpp"

#include <array>
#include <cstring>

#include "solver/fem/product.hpp"
#include "solver/fem/wide_registers.hpp"

namespace cw {

namespace {

/// `width` numbers in one wide register or half of one.
template <class Real, int size>
struct PanelSide {
  using Pack [[gnu::vector_size(size)]] = Real;
  static constexpr int width = size / static_cast<int>(sizeof(Real));

  [[gnu::always_inline]] static void load(const Real* from, Pack& to) {
    std::memcpy(&to, from, sizeof to);
  }
  [[gnu::always_inline]] static Real sum(const Pack& p) {
    if constexpr (width == 8)
      return ((p[0] + p[4]) + (p[2] + p[6])) + ((p[1] + p[5]) + (p[3] + p[7]));
    else if constexpr (width == 4)
      return (p[0] + p[2]) + (p[1] + p[3]);
    else
      return p[0] + p[1];
  }
};

/// to[i] -= sum over `Count` columns of p[i] weight for i < end. __restrict works only for
/// parameters.
template <int Count, class Scalar>
[[gnu::always_inline]] inline void subtract_some(
    const PanelColumns<Scalar>& p, Parts<Scalar> weight, int end, RealOf<Scalar>* __restrict to_re,
    [[maybe_unused]] RealOf<Scalar>* __restrict to_im) {
  using Real = RealOf<Scalar>;
  std::array<const Real*, Count> re{}, im{};
  std::array<Real, Count> w_re{}, w_im{};
  for (int c = 0; c < Count; ++c) {
    const PanelColumns<Scalar> at = p.some(c, 1);
    re[c] = at.re;
    w_re[c] = weight.re[c];
    if constexpr (is_complex<Scalar>) {
      im[c] = at.im;
      w_im[c] = weight.im[c];
    }
  }
  for (int i = 0; i < end; ++i) {
    Real sum_re = to_re[i];
    if constexpr (is_complex<Scalar>) {
      Real sum_im = to_im[i];
      for (int c = 0; c < Count; ++c) {
        sum_re -= re[c][i] * w_re[c] - im[c][i] * w_im[c];
        sum_im -= re[c][i] * w_im[c] + im[c][i] * w_re[c];
      }
      to_im[i] = sum_im;
    } else {
      for (int c = 0; c < Count; ++c) sum_re -= re[c][i] * w_re[c];
    }
    to_re[i] = sum_re;
  }
}

template <class Scalar>
[[gnu::always_inline]] inline void subtract_all(const PanelColumns<Scalar>& p, Parts<Scalar> weight,
                                                int from, int to, Parts<Scalar> column) {
  const PanelColumns<Scalar> rows = p.from_row(from);
  const Parts<Scalar> at = column.from(from);
  int k = 0;
  for (; k + 4 <= p.columns; k += 4)
    subtract_some<4>(rows.some(k, 4), weight.from(k), to - from, at.re, at.im);
  for (; k < p.columns; ++k)
    subtract_some<1>(rows.some(k, 1), weight.from(k), to - from, at.re, at.im);
}

/// Adds to `sum` the sums over i of panel[i, k] x[i] for `Count` columns, in packs of `size` bytes;
/// returns the row at which the last whole pack ends.
template <int size, int Count, class Scalar>
[[gnu::always_inline]] inline int sum_packs(const PanelColumns<Scalar>& p, Parts<Scalar> x,
                                            int from, int to, std::array<Scalar, Count>& sum) {
  using Side = PanelSide<RealOf<Scalar>, size>;
  using Pack = typename Side::Pack;
  std::array<Pack, Count> re{}, im{};
  Pack a, b, u, v;
  int i = from;
  for (; i + Side::width <= to; i += Side::width) {
    Side::load(x.re + i, u);
    if constexpr (is_complex<Scalar>) Side::load(x.im + i, v);
    for (int c = 0; c < Count; ++c) {
      const PanelColumns<Scalar> column = p.some(c, 1);
      Side::load(column.re + i, a);
      if constexpr (is_complex<Scalar>) {
        Side::load(column.im + i, b);
        re[c] += a * u - b * v;
        im[c] += a * v + b * u;
      } else {
        re[c] += a * u;
      }
    }
  }
  for (int c = 0; c < Count; ++c)
    if constexpr (is_complex<Scalar>)
      sum[c] += Scalar{Side::sum(re[c]), Side::sum(im[c])};
    else
      sum[c] += Side::sum(re[c]);
  return i;
}

template <class Scalar>
[[gnu::always_inline]] inline Scalar entry(const PanelColumns<Scalar>& p, int row, int k) {
  const PanelColumns<Scalar> column = p.some(k, 1);
  if constexpr (is_complex<Scalar>)
    return {column.re[row], column.im[row]};
  else
    return column.re[row];
}

template <int Count, class Scalar>
[[gnu::always_inline]] inline std::array<Scalar, Count> sum_some(const PanelColumns<Scalar>& p,
                                                                 Parts<Scalar> x, int from,
                                                                 int to) {
  std::array<Scalar, Count> sum{};
  int i = sum_packs<32, Count>(p, x, from, to, sum);
  if (i < to) i = sum_packs<16, Count>(p, x, i, to, sum);
  for (; i < to; ++i)
    for (int c = 0; c < Count; ++c) sum[c] += product(entry(p, i, c), x.at(i));
  return sum;
}

// Four columns at a time, so that x is read and written only once for them.

template <class Scalar>
[[gnu::always_inline]] inline void lower_all(const PanelColumns<Scalar>& p, Parts<Scalar> x) {
  int k = 0;
  for (; k + 4 <= p.columns; k += 4) {
    for (int c = 0; c < 3; ++c)
      for (int r = c + 1; r < 4; ++r)
        x.set(k + r, x.at(k + r) - product(entry(p, k + r, k + c), x.at(k + c)));
    subtract_all(p.some(k, 4), x.from(k), k + 4, p.rows, x);
  }
  for (; k < p.columns; ++k) subtract_all(p.some(k, 1), x.from(k), k + 1, p.rows, x);
}

template <class Scalar>
[[gnu::always_inline]] inline void upper_all(const PanelColumns<Scalar>& p, Parts<Scalar> x) {
  const int fours = p.columns / 4 * 4;
  for (int k = p.columns - 1; k >= fours; --k)
    x.set(k, x.at(k) - sum_some<1>(p.some(k, 1), x, k + 1, p.rows)[0]);
  for (int k = fours - 4; k >= 0; k -= 4) {
    const std::array<Scalar, 4> sum = sum_some<4>(p.some(k, 4), x, k + 4, p.rows);
    for (int c = 3; c >= 0; --c) {
      Scalar known = x.at(k + c) - sum[c];
      for (int r = c + 1; r < 4; ++r) known -= product(entry(p, k + r, k + c), x.at(k + r));
      x.set(k + c, known);
    }
  }
}

template <class Scalar>
CW_WIDE void subtract_wide(const PanelColumns<Scalar>& p, Parts<Scalar> weight, int from, int to,
                           Parts<Scalar> column) {
  subtract_all(p, weight, from, to, column);
}

template <class Scalar>
CW_WIDE void lower_wide(const PanelColumns<Scalar>& p, Parts<Scalar> x) {
  lower_all(p, x);
}

template <class Scalar>
CW_WIDE void upper_wide(const PanelColumns<Scalar>& p, Parts<Scalar> x) {
  upper_all(p, x);
}

}  // namespace

template <class Scalar>
void subtract_products(const PanelColumns<Scalar>& panel, Parts<Scalar> weight, int from, int to,
                       Parts<Scalar> column) {
  if (has_wide_registers())
    subtract_wide(panel, weight, from, to, column);
  else
    subtract_all(panel, weight, from, to, column);
}

template <class Scalar>
void solve_lower(const PanelColumns<Scalar>& panel, Parts<Scalar> x) {
  if (has_wide_registers())
    lower_wide(panel, x);
  else
    lower_all(panel, x);
}

template <class Scalar>
void solve_upper(const PanelColumns<Scalar>& panel, Parts<Scalar> x) {
  if (has_wide_registers())
    upper_wide(panel, x);
  else
    upper_all(panel, x);
}

template <class Scalar>
void scale_column(Scalar factor, int from, int to, Parts<Scalar> column) {
  using Real = RealOf<Scalar>;
  Real* __restrict to_re = column.re;
  const Real re = std::real(factor);
  if constexpr (is_complex<Scalar>) {
    Real* __restrict to_im = column.im;
    const Real im = factor.imag();
    for (int i = from; i < to; ++i) {
      const Real r = to_re[i];
      to_re[i] = r * re - to_im[i] * im;
      to_im[i] = r * im + to_im[i] * re;
    }
  } else {
    for (int i = from; i < to; ++i) to_re[i] *= re;
  }
}

#define CW_SCALAR(Scalar)                                                               \
  template void subtract_products(const PanelColumns<Scalar>&, Parts<Scalar>, int, int, \
                                  Parts<Scalar>);                                       \
  template void solve_lower(const PanelColumns<Scalar>&, Parts<Scalar>);                \
  template void solve_upper(const PanelColumns<Scalar>&, Parts<Scalar>);                \
  template void scale_column(Scalar, int, int, Parts<Scalar>);
CW_SCALAR(double)
CW_SCALAR(std::complex<double>)
CW_SCALAR(std::complex<float>)

}  // namespace cw
