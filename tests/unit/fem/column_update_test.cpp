#include "solver/fem/column_update.hpp"

#include <gtest/gtest.h>

#include <Eigen/Core>
#include <vector>

namespace cw {
namespace {

/// A panel of random columns as it is stored, and as a matrix.
struct Panel {
  Eigen::MatrixXd re, im;
  Panel(int rows, int columns)
      : re(Eigen::MatrixXd::Random(rows, columns)), im(Eigen::MatrixXd::Random(rows, columns)) {}

  [[nodiscard]] PanelColumns stored() const {
    return {re.data(), im.data(), static_cast<int>(re.rows()), static_cast<int>(re.cols())};
  }
  [[nodiscard]] Eigen::MatrixXcd whole() const { return re + std::complex<double>(0, 1) * im; }
};

Eigen::VectorXcd joined(const Eigen::VectorXd& re, const Eigen::VectorXd& im) {
  return re + std::complex<double>(0, 1) * im;
}

constexpr int rows = 23, most_columns = 9;

// Property: for any number of columns and any stretch of rows, what is subtracted from a column is
// the product of matrix and vector; rows beyond the stretch stay.
TEST(ColumnUpdate, SubtractsProducts) {
  for (int columns = 0; columns <= most_columns; ++columns)
    for (int from = 0; from <= rows; from += 3)
      for (int to = from; to <= rows; ++to) {
        const Panel panel(rows, columns);
        const Eigen::VectorXd w_re = Eigen::VectorXd::Random(columns),
                              w_im = Eigen::VectorXd::Random(columns);
        Eigen::VectorXd re = Eigen::VectorXd::Random(rows), im = Eigen::VectorXd::Random(rows);
        Eigen::VectorXcd expected = joined(re, im);
        expected.segment(from, to - from) -=
            panel.whole().middleRows(from, to - from) * joined(w_re, w_im);
        subtract_products(panel.stored(), w_re.data(), w_im.data(), from, to, re.data(), im.data());
        ASSERT_LT((joined(re, im) - expected).cwiseAbs().maxCoeff(), 1e-13) << columns;
      }
}

// Property: the same of the transposed product.
TEST(ColumnUpdate, SubtractsSums) {
  for (int columns = 1; columns <= most_columns; ++columns)
    for (int from = 0; from <= rows; from += 3)
      for (int to = from; to <= rows; ++to) {
        const Panel panel(rows, columns);
        const Eigen::VectorXd re = Eigen::VectorXd::Random(rows),
                              im = Eigen::VectorXd::Random(rows);
        Eigen::VectorXd s_re = Eigen::VectorXd::Random(columns),
                        s_im = Eigen::VectorXd::Random(columns);
        const Eigen::VectorXcd expected =
            joined(s_re, s_im) - panel.whole().middleRows(from, to - from).transpose() *
                                     joined(re, im).segment(from, to - from);
        subtract_sums(panel.stored(), re.data(), im.data(), from, to, s_re.data(), s_im.data());
        ASSERT_LT((joined(s_re, s_im) - expected).cwiseAbs().maxCoeff(), 1e-13) << columns;
      }
}

}  // namespace
}  // namespace cw
