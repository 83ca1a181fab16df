#include "solver/fem/factorisation.hpp"

#include <algorithm>
#include <cmath>

#include "solver/fem/product.hpp"

namespace cw {

namespace {

using Complex = std::complex<double>;

/// Numbers in two arrays of reals, the second empty where the scalar is real.
template <class Scalar>
class Numbers {
  using Real = RealOf<Scalar>;

 public:
  void resize(std::size_t n) {
    re_.resize(n);
    if (is_complex<Scalar>) im_.resize(n);
  }
  void assign_zero(std::size_t n) {
    re_.assign(n, Real{});
    if (is_complex<Scalar>) im_.assign(n, Real{});
  }
  [[nodiscard]] Parts<Scalar> from(std::size_t k) {
    return Parts<Scalar>{re_.data(), im_.data()}.from(static_cast<std::ptrdiff_t>(k));
  }

 private:
  std::vector<Real> re_, im_;
};

template <class Scalar>
void fill_zero(Parts<Scalar> to, std::size_t n) {
  std::fill_n(to.re, n, RealOf<Scalar>{});
  if constexpr (is_complex<Scalar>) std::fill_n(to.im, n, RealOf<Scalar>{});
}

template <class Scalar>
void copy(Parts<Scalar> from, std::size_t n, Parts<Scalar> to) {
  std::copy_n(from.re, n, to.re);
  if constexpr (is_complex<Scalar>) std::copy_n(from.im, n, to.im);
}

template <class Scalar>
bool all_zero(Parts<Scalar> p, int n) {
  const auto zero = [](RealOf<Scalar> v) { return v == 0; };
  bool yes = std::all_of(p.re, p.re + n, zero);
  if constexpr (is_complex<Scalar>) yes = yes && std::all_of(p.im, p.im + n, zero);
  return yes;
}

bool usable(double pivot) {
  return pivot > 0 && std::isfinite(pivot);
}
template <class Real>
bool usable(std::complex<Real> pivot) {
  const Real size = std::norm(pivot);
  return size > 0 && std::isfinite(size);
}

std::size_t square(const FrontTree::Front& f) {
  return static_cast<std::size_t>(f.left()) * f.left();
}

/// The elimination: panels in place, the matrices that fronts pass to their parents on a stack.
template <class Scalar>
class Elimination {
 public:
  Elimination(const FrontTree& tree, Parts<Scalar> panels, std::vector<Scalar>& inverse_pivot)
      : tree_(tree), panels_(panels), inverse_pivot_(inverse_pivot) {
    stack_.resize(tree.stack);
  }

  void run() {
    for (const FrontTree::Front& f : tree_.fronts) {
      const std::size_t size = square(f);
      const Parts<Scalar> own = stack_.from(top_);
      fill_zero(own, size);
      std::size_t bottom = top_;
      while (!waiting_.empty() && parent_of(*waiting_.back()) == &f) {
        bottom -= square(*waiting_.back());
        take_over(*waiting_.back(), bottom, f, own);
        waiting_.pop_back();
      }
      eliminate(f, own);
      if (bottom < top_)
        copy(own, size, stack_.from(bottom));  // down to where those of its
                                               // children were
      top_ = bottom + size;
      if (f.left() > 0) waiting_.push_back(&f);
    }
  }

 private:
  [[nodiscard]] const FrontTree::Front* parent_of(const FrontTree::Front& f) const {
    return &tree_.fronts[static_cast<std::size_t>(f.parent)];
  }

  [[nodiscard]] Parts<Scalar> column_of(const FrontTree::Front& f, int k) const {
    return panels_.from(static_cast<std::ptrdiff_t>(f.at + static_cast<std::size_t>(k) * f.stride));
  }

  /// Adds the matrix of `child`, at `from` of the stack, to panel and square of its parent.
  void take_over(const FrontTree::Front& child, std::size_t from, const FrontTree::Front& f,
                 Parts<Scalar> left) {
    const int* place = tree_.in_parent.data() + child.row_at + child.pivots;
    const int n = child.left();
    for (int j = 0; j < n; ++j) {
      const Parts<Scalar> given = stack_.from(from + static_cast<std::size_t>(j) * n);
      const bool own = place[j] < f.pivots;
      const int shift = own ? 0 : f.pivots;
      const Parts<Scalar> to =
          own ? column_of(f, place[j])
              : left.from(static_cast<std::ptrdiff_t>(place[j] - f.pivots) * f.left());
      for (int i = j; i < n; ++i) {
        to.re[place[i] - shift] += given.re[i];
        if constexpr (is_complex<Scalar>) to.im[place[i] - shift] += given.im[i];
      }
    }
  }

  void eliminate(const FrontTree::Front& f, Parts<Scalar> left) {
    const Parts<Scalar> first = column_of(f, 0);
    PanelColumns<Scalar> before{first.re, first.im, f.stride, 0};
    weight_.resize(f.pivots);
    const Parts<Scalar> weight = weight_.from(0);
    for (int j = 0; j < f.rows; ++j) {
      before.columns = std::min(j, f.pivots);
      for (int k = 0; k < before.columns; ++k) {
        const Parts<Scalar> column = column_of(f, k);
        weight.set(k, product(column.at(k), column.at(j)));
      }
      if (j >= f.pivots) {
        // Rows are counted from the top of the panel; rows of the square from its own top.
        const auto shift = static_cast<std::ptrdiff_t>(j - f.pivots) * f.left() - f.pivots;
        subtract_products(before, weight, j, f.rows, left.from(shift));
        continue;
      }
      const Parts<Scalar> column = column_of(f, j);
      subtract_products(before, weight, j, f.rows, column);
      const Scalar pivot = column.at(j);
      if (!usable(pivot))
        throw SolveError(
            "the matrix could not be factorised: a pivot is zero (a region without size or with a "
            "non-finite property?)");
      const Scalar inverse = Scalar(1) / pivot;
      inverse_pivot_[f.first + j] = inverse;
      scale_column(inverse, j + 1, f.rows, column);
    }
  }

  const FrontTree& tree_;
  Parts<Scalar> panels_;
  std::vector<Scalar>& inverse_pivot_;
  Numbers<Scalar> stack_, weight_;
  std::size_t top_ = 0;
  std::vector<const FrontTree::Front*> waiting_;  ///< fronts whose matrices are still on the stack
};

/// The factors of a matrix.
template <class Scalar>
struct Panels {
  const std::vector<RealOf<Scalar>>&re, &im;
  const std::vector<Scalar>& inverse_pivot;

  [[nodiscard]] PanelColumns<Scalar> of(const FrontTree::Front& f) const {
    return {re.data() + f.at, is_complex<Scalar> ? im.data() + f.at : nullptr, f.stride, f.pivots};
  }
};

/// L D L^T x = b for one column, in place, rows in order of elimination.
template <class Scalar>
void solve_column(const FrontTree& tree, const Panels<Scalar>& panels, Parts<Scalar> x) {
  Numbers<Scalar> local_numbers;
  for (const FrontTree::Front& f : tree.fronts) {
    const Parts<Scalar> own = x.from(f.first);
    if (all_zero(own, f.pivots)) continue;
    local_numbers.assign_zero(f.stride);
    const Parts<Scalar> local = local_numbers.from(0);
    copy(own, f.pivots, local);
    solve_lower(panels.of(f), local);
    copy(local, f.pivots, own);
    const int* row = tree.row.data() + f.row_at;
    for (int i = f.pivots; i < f.rows; ++i) {
      x.re[row[i]] += local.re[i];
      if constexpr (is_complex<Scalar>) x.im[row[i]] += local.im[i];
    }
  }
  for (std::size_t s = tree.fronts.size(); s-- > 0;) {
    const FrontTree::Front& f = tree.fronts[s];
    local_numbers.assign_zero(f.stride);
    const Parts<Scalar> local = local_numbers.from(0), own = x.from(f.first);
    const int* row = tree.row.data() + f.row_at;
    for (int k = 0; k < f.pivots; ++k)
      local.set(k, product(panels.inverse_pivot[f.first + k], own.at(k)));
    for (int i = f.pivots; i < f.rows; ++i) local.set(i, x.at(row[i]));
    solve_upper(panels.of(f), local);
    copy(local, f.pivots, own);
  }
}

/// One row of a block of columns.
struct RowOfBlock {
  static constexpr int width = 4;
  using Values = Eigen::Array<double, width, 1>;
  Values re = Values::Zero(), im = Values::Zero();

  void subtract(double l_re, double l_im, const RowOfBlock& other) {
    re -= l_re * other.re - l_im * other.im;
    im -= l_re * other.im + l_im * other.re;
  }
  void multiply(Complex factor) {
    const Values before = re;
    re = factor.real() * re - factor.imag() * im;
    im = factor.real() * im + factor.imag() * before;
  }
  [[nodiscard]] bool zero() const { return (re == 0).all() && (im == 0).all(); }
};

/// L D L^T x = b for a block of columns at once, in place, rows in order of elimination.
void solve_block(const FrontTree& tree, const Panels<Complex>& panels, std::vector<RowOfBlock>& x) {
  std::vector<RowOfBlock> local;
  for (const FrontTree::Front& f : tree.fronts) {
    const auto own = x.begin() + f.first;
    if (std::all_of(own, own + f.pivots, [](const auto& r) { return r.zero(); })) continue;
    local.assign(own, own + f.pivots);
    local.resize(f.rows);
    for (int k = 0; k < f.pivots; ++k) {
      const PanelColumns<Complex> column = panels.of(f).some(k, 1);
      const RowOfBlock known = local[k];
      for (int i = k + 1; i < f.rows; ++i) local[i].subtract(column.re[i], column.im[i], known);
    }
    std::copy_n(local.begin(), f.pivots, own);
    for (int i = f.pivots; i < f.rows; ++i) {
      auto& to = x[tree.row[f.row_at + i]];
      to.subtract(-1.0, 0.0, local[i]);
    }
  }
  for (std::size_t s = tree.fronts.size(); s-- > 0;) {
    const FrontTree::Front& f = tree.fronts[s];
    local.resize(f.rows);
    for (int i = 0; i < f.rows; ++i) local[i] = x[tree.row[f.row_at + i]];
    for (int k = f.pivots - 1; k >= 0; --k) {
      const PanelColumns<Complex> column = panels.of(f).some(k, 1);
      RowOfBlock sum = local[k];
      sum.multiply(panels.inverse_pivot[f.first + k]);
      for (int i = k + 1; i < f.rows; ++i) sum.subtract(column.re[i], column.im[i], local[i]);
      local[k] = sum;
    }
    std::copy_n(local.begin(), f.pivots, x.begin() + f.first);
  }
}

void solve_many(const FrontTree& tree, const Panels<Complex>& panels, const Eigen::MatrixXcd& rhs,
                Eigen::MatrixXcd& x) {
  std::vector<RowOfBlock> block(tree.size);
  for (Eigen::Index first = 0; first < rhs.cols(); first += RowOfBlock::width) {
    const auto count = std::min<Eigen::Index>(RowOfBlock::width, rhs.cols() - first);
    for (int i = 0; i < tree.size; ++i) {
      block[i] = {};
      for (Eigen::Index k = 0; k < count; ++k) {
        const Complex v = rhs(tree.order[i], first + k);
        block[i].re[k] = v.real();
        block[i].im[k] = v.imag();
      }
    }
    solve_block(tree, panels, block);
    for (int i = 0; i < tree.size; ++i)
      for (Eigen::Index k = 0; k < count; ++k)
        x(tree.order[i], first + k) = {block[i].re[k], block[i].im[k]};
  }
  if (!x.allFinite()) throw SolveError("a solution is not finite");
}

}  // namespace

template <class Scalar>
FactorisationOf<Scalar>::FactorisationOf(const Pattern& pattern)
    : FactorisationOf(std::make_shared<FrontTree>(pattern)) {}

template <class Scalar>
FactorisationOf<Scalar>::FactorisationOf(std::shared_ptr<const FrontTree> tree)
    : tree_(std::move(tree)) {}

template <class Scalar>
void FactorisationOf<Scalar>::compute(std::span<const double> stiffness,
                                      std::span<const double> mass, double omega) {
  re_.assign(tree_->values, Real{});
  for (std::size_t k = 0; k < stiffness.size(); ++k)
    re_[tree_->places[k]] = static_cast<Real>(stiffness[k]);
  if constexpr (is_complex<Scalar>) {
    im_.assign(tree_->values, Real{});
    for (std::size_t k = 0; k < mass.size(); ++k)
      im_[tree_->places[k]] = static_cast<Real>(omega * mass[k]);
  }
  inverse_pivot_.resize(tree_->size);
  Elimination<Scalar>(*tree_, {re_.data(), im_.data()}, inverse_pivot_).run();
}

template <class Scalar>
auto FactorisationOf<Scalar>::solve(const Columns& rhs) const -> Columns {
  Columns x(rhs.rows(), rhs.cols());
  if constexpr (std::is_same_v<Scalar, Complex>) {
    if (rhs.cols() > 1) {
      solve_many(*tree_, {re_, im_, inverse_pivot_}, rhs, x);
      return x;
    }
  }
  for (Eigen::Index k = 0; k < rhs.cols(); ++k) solve_one(rhs, k, x);
  return x;
}

template <class Scalar>
void FactorisationOf<Scalar>::solve_one(const Columns& rhs, Eigen::Index column, Columns& x) const {
  Numbers<Scalar> numbers;
  numbers.resize(tree_->size);
  const Parts<Scalar> local = numbers.from(0);
  for (int i = 0; i < tree_->size; ++i)
    local.set(i, static_cast<Scalar>(rhs(tree_->order[i], column)));
  solve_column<Scalar>(*tree_, {re_, im_, inverse_pivot_}, local);
  for (int i = 0; i < tree_->size; ++i)
    x(tree_->order[i], column) = static_cast<Outer>(local.at(i));
  if (!x.col(column).allFinite()) throw SolveError("a solution is not finite");
}

template class FactorisationOf<double>;
template class FactorisationOf<std::complex<double>>;
template class FactorisationOf<std::complex<float>>;

}  // namespace cw
