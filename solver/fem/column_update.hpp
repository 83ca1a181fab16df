#pragma once

#include <complex>
#include <vector>

namespace cw {

/// Columns of a panel and what each is multiplied by.
struct ColumnUpdate {
  const double *re, *im;  ///< of the first column
  int rows;               ///< from one column to the next
  int columns;
  const std::vector<double>&weight_re, &weight_im;  ///< one per column
};

/// column[i] -= sum over k of panel[i, k] weight[k]  for from <= i < to. Most of a factorisation is
/// spent here: made once for every machine and once for those with wide registers, taken as it
/// runs.
void subtract_products(const ColumnUpdate& update, int from, int to, double* column_re,
                       double* column_im);

/// column[i] *= factor  for from <= i < to.
void scale_column(std::complex<double> factor, int from, int to, double* column_re,
                  double* column_im);

}  // namespace cw
