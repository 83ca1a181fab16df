#include "solver/fem/column_update.hpp"

#include <gtest/gtest.h>

#include <vector>

namespace cw {
namespace {

template <class Scalar>
using Vector = Eigen::Vector<Scalar, Eigen::Dynamic>;
template <class Scalar>
using Matrix = Eigen::Matrix<Scalar, Eigen::Dynamic, Eigen::Dynamic>;

/// Random numbers as they are stored.
template <class Scalar>
struct Stored {
  std::vector<RealOf<Scalar>> re, im;

  explicit Stored(const Matrix<Scalar>& values) {
    for (Eigen::Index k = 0; k < values.size(); ++k) {
      re.push_back(std::real(values.data()[k]));
      im.push_back(std::imag(values.data()[k]));
    }
  }
  [[nodiscard]] Parts<Scalar> parts() { return {re.data(), im.data()}; }
  [[nodiscard]] Vector<Scalar> values() {
    Vector<Scalar> v(static_cast<Eigen::Index>(re.size()));
    for (Eigen::Index k = 0; k < v.size(); ++k) v[k] = parts().at(k);
    return v;
  }
};

template <class Scalar>
class ColumnUpdate : public testing::Test {
 protected:
  static constexpr int rows = 23, most_columns = 9;
  static constexpr double rounding =
      1e3 * static_cast<double>(std::numeric_limits<RealOf<Scalar>>::epsilon());

  static void expect_same(const Vector<Scalar>& a, const Vector<Scalar>& b, int columns) {
    ASSERT_LT((a - b).norm(), rounding * (1 + b.norm())) << columns;
  }
  static PanelColumns<Scalar> columns_of(Stored<Scalar>& panel, int columns) {
    return {panel.parts().re, panel.parts().im, rows, columns};
  }
};

using Scalars = testing::Types<double, std::complex<double>, std::complex<float>>;
TYPED_TEST_SUITE(ColumnUpdate, Scalars);

/// What is expected is worked out in double precision.
template <class Scalar>
using Wide = std::conditional_t<is_complex<Scalar>, std::complex<double>, double>;
template <class Derived>
auto wide(const Eigen::MatrixBase<Derived>& values) {
  return values.template cast<Wide<typename Derived::Scalar>>().eval();
}

// Property: for any number of columns and any range of rows, the product of matrix and vector is
// subtracted from a column; rows outside the range stay.
TYPED_TEST(ColumnUpdate, SubtractsProducts) {
  for (int columns = 0; columns <= this->most_columns; ++columns)
    for (int from = 0; from <= this->rows; from += 3)
      for (int to = from; to <= this->rows; ++to) {
        const Matrix<TypeParam> panel = Matrix<TypeParam>::Random(this->rows, columns);
        const Vector<TypeParam> weight = Vector<TypeParam>::Random(columns);
        const Vector<TypeParam> before = Vector<TypeParam>::Random(this->rows);
        Stored<TypeParam> p(panel), w(weight), column(before);
        Vector<Wide<TypeParam>> expected = wide(before);
        expected.segment(from, to - from) -= wide(panel).middleRows(from, to - from) * wide(weight);
        subtract_products(this->columns_of(p, columns), w.parts(), from, to, column.parts());
        this->expect_same(column.values(), expected.template cast<TypeParam>(), columns);
      }
}

// Property: forward and backward substitution through a panel use its unit triangle and the rows
// below, and not the entries above the diagonal and on it.
TYPED_TEST(ColumnUpdate, SolvesWithPanels) {
  for (int columns = 1; columns <= this->most_columns; ++columns) {
    const Matrix<TypeParam> panel = Matrix<TypeParam>::Random(this->rows, columns);
    const Matrix<Wide<TypeParam>> top = wide(panel).topRows(columns),
                                  below = wide(panel).bottomRows(this->rows - columns);
    const Vector<TypeParam> x = Vector<TypeParam>::Random(this->rows);
    Stored<TypeParam> p(panel), forward(x), backward(x);
    Vector<Wide<TypeParam>> expected = wide(x);
    for (int k = 0; k < columns; ++k)
      for (int i = k + 1; i < columns; ++i) expected[i] -= top(i, k) * expected[k];
    expected.tail(this->rows - columns) -= below * expected.head(columns);
    solve_lower(this->columns_of(p, columns), forward.parts());
    this->expect_same(forward.values(), expected.template cast<TypeParam>(), columns);
    expected = wide(x);
    expected.head(columns) -= below.transpose() * wide(x).tail(this->rows - columns);
    for (int k = columns - 1; k >= 0; --k)
      for (int i = 0; i < k; ++i) expected[i] -= top(k, i) * expected[k];
    solve_upper(this->columns_of(p, columns), backward.parts());
    this->expect_same(backward.values(), expected.template cast<TypeParam>(), columns);
  }
}

// Property: rows of a column between two places are multiplied, the others stay.
TYPED_TEST(ColumnUpdate, ScalesPartOfAColumn) {
  const Vector<TypeParam> before = Vector<TypeParam>::Random(this->rows);
  Stored<TypeParam> column(before);
  const TypeParam factor = Vector<TypeParam>::Random(1)[0];
  Vector<Wide<TypeParam>> expected = wide(before);
  expected.segment(5, 13) *= static_cast<Wide<TypeParam>>(factor);
  scale_column(factor, 5, 18, column.parts());
  this->expect_same(column.values(), expected.template cast<TypeParam>(), 1);
}

}  // namespace
}  // namespace cw
