#include "solver/fem/front_tree.hpp"

#include <gtest/gtest.h>

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <random>
#include <set>
#include <string>
#include <utility>

namespace cw {
namespace {

/// A symmetric matrix with the diagonal and these couplings.
Pattern pattern_with(int size, const std::vector<std::pair<int, int>>& couplings) {
  std::vector<std::vector<int>> columns(size);
  for (int i = 0; i < size; ++i) columns[i].push_back(i);
  for (const auto& [a, b] : couplings) columns[std::max(a, b)].push_back(std::min(a, b));
  return pattern_of(std::move(columns));
}

/// Neighbours on a rectangular grid, numbered at random.
Pattern grid(int width, int height) {
  std::vector<int> number(width * height);
  for (int i = 0; i < width * height; ++i) number[i] = i;
  std::shuffle(number.begin(), number.end(), std::mt19937{7});
  std::vector<std::pair<int, int>> couplings;
  for (int y = 0; y < height; ++y)
    for (int x = 0; x < width; ++x) {
      const int here = number[y * width + x];
      if (x > 0) couplings.emplace_back(here, number[y * width + x - 1]);
      if (y > 0) couplings.emplace_back(here, number[(y - 1) * width + x]);
    }
  return pattern_with(width * height, couplings);
}

Pattern random_pattern(int size, int couplings, unsigned seed) {
  std::mt19937 draw{seed};
  std::uniform_int_distribution<int> any(0, size - 1);
  std::vector<std::pair<int, int>> pairs;
  for (int k = 0; k < couplings; ++k) pairs.emplace_back(any(draw), any(draw));
  return pattern_with(size, pairs);
}

/// A star whose centre comes last, a full matrix, a diagonal matrix, a chain, separate components,
/// grids and random ones.
std::vector<std::pair<std::string, Pattern>> patterns() {
  std::vector<std::pair<int, int>> star, full, chain;
  for (int i = 0; i < 30; ++i) {
    star.emplace_back(i, 30);
    for (int j = 0; j < i; ++j) full.emplace_back(i, j);
    if (i > 0) chain.emplace_back(i - 1, i);
  }
  std::vector<std::pair<std::string, Pattern>> all{{"one", pattern_with(1, {})},
                                                   {"star", pattern_with(31, star)},
                                                   {"full", pattern_with(30, full)},
                                                   {"diagonal", pattern_with(20, {})},
                                                   {"chain", pattern_with(30, chain)},
                                                   {"parts", pattern_with(60, chain)},
                                                   {"grid", grid(14, 9)}};
  for (unsigned seed = 1; seed <= 8; ++seed)
    all.emplace_back("random " + std::to_string(seed),
                     random_pattern(90, 40 * static_cast<int>(seed), seed));
  return all;
}

/// Where the factor is not zero, by elimination on the dense matrix in this order; columns by
/// place.
std::vector<std::set<int>> dense_fill(const Pattern& pattern, const std::vector<int>& order) {
  std::vector<int> place(pattern.size);
  for (int k = 0; k < pattern.size; ++k) place[order[k]] = k;
  std::vector<std::set<int>> below(pattern.size);
  for (int column = 0; column < pattern.size; ++column)
    for (int k = pattern.column_start[column]; k < pattern.column_start[column + 1]; ++k) {
      const auto [first, second] = std::minmax(place[column], place[pattern.row[k]]);
      if (first != second) below[first].insert(second);
    }
  for (const auto& rows : below)
    for (const int a : rows)
      for (const int b : rows)
        if (a < b) below[a].insert(b);
  return below;
}

std::size_t entries(const std::vector<std::set<int>>& columns) {
  std::size_t sum = 0;
  for (const auto& rows : columns) sum += rows.size();
  return sum;
}

std::vector<int> rows_of(const FrontTree& tree, const FrontTree::Front& front) {
  const auto begin = tree.row.begin() + static_cast<std::ptrdiff_t>(front.row_at);
  return {begin, begin + front.rows};
}

class FrontTrees : public testing::TestWithParam<std::pair<std::string, Pattern>> {
 protected:
  const Pattern& pattern() { return GetParam().second; }
};

// Every unknown is eliminated once, the fronts divide the columns in order, and children come
// before their parents.
TEST_P(FrontTrees, DivideTheColumns) {
  const FrontTree tree(pattern());
  ASSERT_EQ(tree.size, pattern().size);
  std::vector<int> sorted = tree.order;
  std::ranges::sort(sorted);
  for (int k = 0; k < tree.size; ++k) EXPECT_EQ(sorted[k], k);
  int next = 0;
  for (std::size_t s = 0; s < tree.fronts.size(); ++s) {
    const FrontTree::Front& f = tree.fronts[s];
    EXPECT_EQ(f.first, next);
    EXPECT_GT(f.pivots, 0);
    next += f.pivots;
    EXPECT_EQ(f.parent < 0, f.left() == 0);
    if (f.parent >= 0) {
      EXPECT_GT(f.parent, static_cast<int>(s));
    }
  }
  EXPECT_EQ(next, tree.size);
}

// The order adds no entry to the factor that the given numbering does not have: it is the same
// elimination, in another order of independent parts.
TEST_P(FrontTrees, AddNoFill) {
  std::vector<int> as_given(pattern().size);
  for (int k = 0; k < pattern().size; ++k) as_given[k] = k;
  const FrontTree tree(pattern());
  EXPECT_EQ(entries(dense_fill(pattern(), tree.order)), entries(dense_fill(pattern(), as_given)));
}

// The rows of a front are its own columns, then, rising, all rows in which elimination of the dense
// matrix leaves an entry in one of them, and no others.
TEST_P(FrontTrees, HaveTheRowsOfTheFactor) {
  const FrontTree tree(pattern());
  const auto fill = dense_fill(pattern(), tree.order);
  int columns = 0;
  for (const FrontTree::Front& f : tree.fronts) {
    columns += f.pivots;
    std::set<int> wanted;
    for (int column = f.first; column < f.first + f.pivots; ++column) {
      wanted.insert(column);
      wanted.insert(fill[column].begin(), fill[column].end());
    }
    EXPECT_EQ(rows_of(tree, f), std::vector<int>(wanted.begin(), wanted.end())) << f.first;
  }
  EXPECT_EQ(columns, pattern().size);
}

// The rows that a front passes on are rows of its parent, and the first of them is among the
// parent's own columns.
TEST_P(FrontTrees, LeaveTheirRowsToParents) {
  const FrontTree tree(pattern());
  for (const FrontTree::Front& f : tree.fronts) {
    const std::vector<int> rows = rows_of(tree, f);
    if (f.left() == 0) continue;
    const FrontTree::Front& parent = tree.fronts[f.parent];
    const std::vector<int> above = rows_of(tree, parent);
    EXPECT_GE(rows[f.pivots], parent.first);
    EXPECT_LT(rows[f.pivots], parent.first + parent.pivots);
    for (int k = f.pivots; k < f.rows; ++k)
      EXPECT_EQ(above.at(tree.in_parent[f.row_at + k]), rows[k]);
  }
}

// Panels are contiguous, in columns of whole registers of eight, and each entry of the pattern has
// its own position there: read back from the panels they form the matrix.
TEST_P(FrontTrees, PanelsHoldTheMatrix) {
  const FrontTree tree(pattern());
  ASSERT_EQ(tree.places.size(), pattern().entries());
  Eigen::MatrixXd given = Eigen::MatrixXd::Zero(tree.size, tree.size), found = given;
  std::vector<double> values(tree.values, 0.0);
  for (int column = 0; column < tree.size; ++column)
    for (int k = pattern().column_start[column]; k < pattern().column_start[column + 1]; ++k) {
      ASSERT_LT(tree.places[k], tree.values);
      values[tree.places[k]] = 1.0 + k;
      given(pattern().row[k], column) = given(column, pattern().row[k]) = 1.0 + k;
    }
  std::size_t end = 0;
  for (const FrontTree::Front& f : tree.fronts) {
    EXPECT_EQ(f.at, end);
    EXPECT_EQ(f.stride % 8, 0);
    EXPECT_GE(f.stride, f.rows);
    EXPECT_LT(f.stride, f.rows + 8);
    end += static_cast<std::size_t>(f.pivots) * f.stride;
    const std::vector<int> rows = rows_of(tree, f);
    for (int j = 0; j < f.pivots; ++j)
      for (int i = j; i < f.rows; ++i) {
        const int a = tree.order[rows[i]], b = tree.order[f.first + j];
        found(a, b) = found(b, a) = values[f.at + static_cast<std::size_t>(j) * f.stride + i];
      }
  }
  EXPECT_EQ(tree.values, end);
  EXPECT_EQ(found, given);
}

// The stated size of the stack equals the largest size that occurs if the fronts are processed in
// order, each taking the squares of its children and leaving its own.
TEST_P(FrontTrees, StackHoldsWhatIsLeft) {
  const FrontTree tree(pattern());
  std::size_t largest = 0;
  for (std::size_t s = 0; s < tree.fronts.size(); ++s) {
    std::size_t held = 0;
    for (std::size_t c = 0; c <= s; ++c) {
      const auto left = static_cast<std::size_t>(tree.fronts[c].left());
      const int taken = tree.fronts[c].parent;
      if (taken < 0 || taken >= static_cast<int>(s)) held += left * left;
    }
    largest = std::max(largest, held);
  }
  EXPECT_EQ(tree.stack, largest);
}

/// L D L^T of a positive definite matrix by the tree, in dense algebra: panels add the squares of
/// their children, eliminate their columns and pass the rest on. A right-hand side is processed
/// along with it, forward and then backward.
Eigen::VectorXd solve_by_tree(const FrontTree& tree, const Eigen::MatrixXd& matrix,
                              const Eigen::VectorXd& rhs) {
  std::vector<Eigen::MatrixXd> front(tree.fronts.size());
  for (std::size_t s = 0; s < tree.fronts.size(); ++s) {
    const FrontTree::Front& f = tree.fronts[s];
    const std::vector<int> rows = rows_of(tree, f);
    front[s] = Eigen::MatrixXd::Zero(f.rows, f.rows);
    for (int i = 0; i < f.rows; ++i)
      for (int j = 0; j < f.pivots; ++j)
        front[s](i, j) = front[s](j, i) = matrix(tree.order[rows[i]], tree.order[rows[j]]);
    for (std::size_t c = 0; c < s; ++c) {
      const FrontTree::Front& child = tree.fronts[c];
      if (child.parent != static_cast<int>(s)) continue;
      const int* place = &tree.in_parent[child.row_at];
      for (int i = child.pivots; i < child.rows; ++i)
        for (int j = child.pivots; j < child.rows; ++j)
          front[s](place[i], place[j]) += front[c](i, j);
    }
    const auto own = front[s].topLeftCorner(f.pivots, f.pivots).llt();
    front[s].bottomRightCorner(f.left(), f.left()) -=
        front[s].bottomLeftCorner(f.left(), f.pivots) *
        own.solve(front[s].topRightCorner(f.pivots, f.left()));
  }
  Eigen::VectorXd x(tree.size), result(tree.size);
  for (int k = 0; k < tree.size; ++k) x[k] = rhs[tree.order[k]];
  const auto part = [&](const FrontTree::Front& f) {
    const std::vector<int> rows = rows_of(tree, f);
    return std::vector<int>(rows.begin() + f.pivots, rows.end());
  };
  for (std::size_t s = 0; s < tree.fronts.size(); ++s) {
    const FrontTree::Front& f = tree.fronts[s];
    const auto own = front[s].topLeftCorner(f.pivots, f.pivots).llt();
    x(part(f)) -=
        front[s].bottomLeftCorner(f.left(), f.pivots) * own.solve(x.segment(f.first, f.pivots));
  }
  for (std::size_t s = tree.fronts.size(); s-- > 0;) {
    const FrontTree::Front& f = tree.fronts[s];
    const auto own = front[s].topLeftCorner(f.pivots, f.pivots).llt();
    const Eigen::VectorXd known = front[s].topRightCorner(f.pivots, f.left()) * x(part(f));
    x.segment(f.first, f.pivots) = own.solve(x.segment(f.first, f.pivots) - known);
  }
  for (int k = 0; k < tree.size; ++k) result[tree.order[k]] = x[k];
  return result;
}

// Elimination front by front according to the tree solves a random positive definite matrix of the
// pattern like Eigen's dense Cholesky.
TEST_P(FrontTrees, EliminateAsADenseSolverDoes) {
  const int n = pattern().size;
  std::mt19937 draw{3};
  std::uniform_real_distribution<double> entry(-1, 1);
  Eigen::MatrixXd a = Eigen::MatrixXd::Zero(n, n);
  for (int column = 0; column < n; ++column)
    for (int k = pattern().column_start[column]; k < pattern().column_start[column + 1]; ++k)
      a(pattern().row[k], column) = a(column, pattern().row[k]) = entry(draw);
  for (int i = 0; i < n; ++i) a(i, i) = 1 + a.row(i).cwiseAbs().sum();  // dominant: definite
  const Eigen::VectorXd rhs = Eigen::VectorXd::LinSpaced(n, 1, 2), dense = a.llt().solve(rhs);
  EXPECT_LT((solve_by_tree(FrontTree(pattern()), a, rhs) - dense).norm(), 1e-12 * dense.norm());
}

INSTANTIATE_TEST_SUITE_P(Patterns, FrontTrees, testing::ValuesIn(patterns()),
                         [](const auto& pattern) {
                           std::string name = pattern.param.first;
                           std::ranges::replace(name, ' ', '_');
                           return name;
                         });

// Columns that are alike are one front: each part of a matrix of two full blocks, so small that
// they would be joined if the second were the parent of the first.
TEST(FrontTree, JoinsColumnsThatAreAlike) {
  std::vector<std::pair<int, int>> blocks;
  for (int i = 0; i < 8; ++i)
    for (int j = 0; j < i; ++j)
      if (i < 4 || j >= 4) blocks.emplace_back(i, j);
  const FrontTree tree(pattern_with(8, blocks));
  ASSERT_EQ(tree.fronts.size(), 2U);
  for (const FrontTree::Front& f : tree.fronts) {
    EXPECT_EQ(f.pivots, 4);
    EXPECT_EQ(f.rows, 4);
    EXPECT_EQ(f.parent, -1);
  }
}

}  // namespace
}  // namespace cw
