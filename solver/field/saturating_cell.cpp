#include "solver/field/saturating_cell.hpp"

#include <cmath>
#include <cstring>

#include "solver/fem/wide_registers.hpp"

namespace cw {

namespace {

/// Four numbers in one register.
using Four [[gnu::vector_size(32)]] = double;

[[gnu::always_inline]] inline void load(const double* from, Four& to) {
  std::memcpy(&to, from, sizeof to);
}
[[gnu::always_inline]] inline void store(const Four& from, double* to) {
  std::memcpy(to, &from, sizeof from);
}

/// F^T B: half of how |B|^2 changes with the nodal values, real parts, then imaginary.
[[gnu::always_inline]] inline void flux_change(const double* f, const double* b, double* c) {
  for (int i = 0; i < 6; ++i) {
    c[i] = f[2 * i] * b[0] + f[2 * i + 1] * b[1];
    c[6 + i] = f[2 * i] * b[2] + f[2 * i + 1] * b[3];
  }
}

/// Sum over the points of weight c c^T, 12 x 12: in three parts of four columns, each of which
/// stays in registers.
[[gnu::always_inline]] inline void sum_outer(const std::array<CellValues, 12>& c,
                                             const std::array<double, 12>& weight, double* matrix) {
  Four x0, x1, x2;
  for (int j = 0; j < 12; j += 4) {
    std::array<std::array<Four, 3>, 4> sum{};
    for (std::size_t q = 0; q < 12; ++q) {
      load(c[q].data(), x0);
      load(c[q].data() + 4, x1);
      load(c[q].data() + 8, x2);
      for (int k = 0; k < 4; ++k) {
        const double outer = weight[q] * c[q][j + k];
        sum[k][0] += outer * x0;
        sum[k][1] += outer * x1;
        sum[k][2] += outer * x2;
      }
    }
    for (int k = 0; k < 4; ++k)
      for (int part = 0; part < 3; ++part) store(sum[k][part], matrix + 12 * (j + k) + 4 * part);
  }
}

/// The matrix from the differences in reluctivity times volume, and from the weights of the changes
/// of |B|^2, at each point.
[[gnu::always_inline]] inline void fill(const SaturatingCell& cell,
                                        const std::array<double, 12>& difference,
                                        const std::array<double, 12>& weight, double* matrix) {
  std::array<CellValues, 12> change;
  std::array<double, 36> block{};
  for (std::size_t q = 0; q < 12; ++q) {
    const double* f = cell.flux[q].data();
    flux_change(f, cell.flux_density[q].data(), change[q].data());
    for (int j = 0; j < 6; ++j) {
      const double r = difference[q] * f[2 * j], z = difference[q] * f[2 * j + 1];
      for (int i = 0; i < 6; ++i) block[6 * j + i] += r * f[2 * i] + z * f[2 * i + 1];
    }
  }
  sum_outer(change, weight, matrix);
  for (int j = 0; j < 6; ++j)
    for (int i = 0; i < 6; ++i) {
      matrix[12 * j + i] += block[6 * j + i];
      matrix[12 * (6 + j) + 6 + i] += block[6 * j + i];
    }
}

CW_WIDE void fill_wide(const SaturatingCell& cell, const std::array<double, 12>& difference,
                       const std::array<double, 12>& weight, double* matrix) {
  fill(cell, difference, weight, matrix);
}

[[gnu::always_inline]] inline void evaluate_all(SaturatingCell& cell,
                                                const EffectiveReluctivity* law,
                                                const CellValues& a, CellValues& y) {
  y.fill(0.0);
  for (std::size_t q = 0; q < 12; ++q) {
    const double* f = cell.flux[q].data();
    std::array<double, 4> b{};
    for (int i = 0; i < 6; ++i) {
      b[0] += f[2 * i] * a[i];
      b[1] += f[2 * i + 1] * a[i];
      b[2] += f[2 * i] * a[6 + i];
      b[3] += f[2 * i + 1] * a[6 + i];
    }
    cell.flux_density[q] = Eigen::Map<const Eigen::Matrix2d>(b.data());
    if (law != nullptr) {
      const auto value = reluctivity_in(*law, b[0] * b[0] + b[1] * b[1] + b[2] * b[2] + b[3] * b[3],
                                        cell.medium[q].magnetisation, cell.mean_magnetisation);
      cell.nu[q] = value.nu;
      cell.slope[q] = value.slope;
    }
    CellValues c;
    flux_change(f, b.data(), c.data());
    const double weight = cell.nu[q] * cell.volume[q];
    for (int i = 0; i < 12; ++i) y[i] += weight * c[i];
  }
}

CW_WIDE void evaluate_wide(SaturatingCell& cell, const EffectiveReluctivity* law,
                           const CellValues& a, CellValues& y) {
  evaluate_all(cell, law, a, y);
}

[[gnu::always_inline]] inline void multiply(const double* matrix, const CellValues& d,
                                            CellValues& y) {
  y.fill(0.0);
  for (int j = 0; j < 12; ++j)
    for (int i = 0; i < 12; ++i) y[i] += matrix[12 * j + i] * d[j];
}

CW_WIDE void multiply_wide(const double* matrix, const CellValues& d, CellValues& y) {
  multiply(matrix, d, y);
}

}  // namespace

EffectiveReluctivity::Value reluctivity_in(const EffectiveReluctivity& law, double flux_rms_squared,
                                           double magnetisation, double mean) {
  constexpr double of_mean = 0.75;
  constexpr double alike = 1e-3;
  const auto here = law.at(flux_rms_squared, magnetisation);
  if (std::abs(mean - magnetisation) <= alike * mean) return here;
  const auto around = law.at(flux_rms_squared, mean);
  const double nu = std::lerp(here.nu, around.nu, of_mean);
  return {nu, std::lerp(here.nu * here.slope, around.nu * around.slope, of_mean) / nu};
}

CellValues cell_values(const SaturatingCell& cell, const Eigen::VectorXcd& x) {
  CellValues a{};
  for (int i = 0; i < 6; ++i)
    if (cell.dof[i] >= 0) {
      a[i] = x[cell.dof[i]].real();
      a[6 + i] = x[cell.dof[i]].imag();
    }
  return a;
}

void add_to(const SaturatingCell& cell, const CellValues& values, Eigen::VectorXcd& into) {
  for (int i = 0; i < 6; ++i)
    if (cell.dof[i] >= 0) into[cell.dof[i]] += std::complex<double>{values[i], values[6 + i]};
}

CellValues evaluate(SaturatingCell& cell, const EffectiveReluctivity* law, const CellValues& a) {
  CellValues y;
  if (has_wide_registers())
    evaluate_wide(cell, law, a, y);
  else
    evaluate_all(cell, law, a, y);
  return y;
}

std::array<double, 12> middle_reluctivity(const SaturatingCell& cell) {
  std::array<double, 12> nu;
  for (std::size_t q = 0; q < 12; ++q) nu[q] = 0.5 * cell.nu[q] * (1.0 + cell.slope[q]);
  return nu;
}

ElementMatrix<6> reluctance(const SaturatingCell& cell, const std::array<double, 12>& nu) {
  ElementMatrix<6> k = ElementMatrix<6>::Zero();
  for (std::size_t q = 0; q < 12; ++q)
    k += nu[q] * cell.volume[q] * (cell.flux[q].transpose() * cell.flux[q]);
  return k;
}

void find_remainder(const SaturatingCell& cell, const std::array<double, 12>& nu,
                    CellRemainder& remainder) {
  constexpr double little = 1e-4;  // relative to the reluctivity: too small to slow down Newton's
                                   // method
  std::array<double, 12> difference{}, weight{};
  remainder.none = true;
  for (std::size_t q = 0; q < 12; ++q) {
    const double size = cell.flux_density[q].squaredNorm(), excess = cell.slope[q] - 1.0;
    const double away = cell.nu[q] - nu[q];
    difference[q] = away * cell.volume[q];
    if (size > 0) weight[q] = cell.nu[q] * excess * cell.volume[q] / size;
    remainder.none =
        remainder.none && std::abs(away) <= little * cell.nu[q] && std::abs(excess) <= little;
  }
  if (remainder.none) return;
  if (has_wide_registers())
    fill_wide(cell, difference, weight, remainder.matrix.data());
  else
    fill(cell, difference, weight, remainder.matrix.data());
}

void add_remainder(const SaturatingCell& cell, const CellRemainder& remainder,
                   const Eigen::VectorXcd& d, Eigen::VectorXcd& into) {
  if (remainder.none) return;
  CellValues y;
  if (has_wide_registers())
    multiply_wide(remainder.matrix.data(), cell_values(cell, d), y);
  else
    multiply(remainder.matrix.data(), cell_values(cell, d), y);
  add_to(cell, y, into);
}

}  // namespace cw
