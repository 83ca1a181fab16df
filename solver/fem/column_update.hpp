#pragma once

#include <complex>

namespace cw {

/// Columns of a panel, real and imaginary parts apart.
struct PanelColumns {
  const double *re, *im;  ///< of the first column
  int rows;               ///< from one column to the next
  int columns;
};

// Most of a factorisation and of a solution is spent in the first two: they are there once for
// every machine and once for those with wide registers, which is taken where the program runs on
// one.

/// column[i] -= sum over k of panel[i, k] weight[k]  for from <= i < to.
void subtract_products(const PanelColumns& panel, const double* weight_re, const double* weight_im,
                       int from, int to, double* column_re, double* column_im);

/// sum[k] -= sum over i of panel[i, k] column[i]  for from <= i < to.
void subtract_sums(const PanelColumns& panel, const double* column_re, const double* column_im,
                   int from, int to, double* sum_re, double* sum_im);

/// column[i] *= factor  for from <= i < to.
void scale_column(std::complex<double> factor, int from, int to, double* column_re,
                  double* column_im);

}  // namespace cw
