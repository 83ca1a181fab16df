#include "solver/fem/factorisation.hpp"

#include <algorithm>
#include <cmath>

#include "solver/fem/column_update.hpp"

namespace cw {

namespace {

using Complex = std::complex<double>;

/// Written out: std::complex checks every product for infinities.
Complex product(Complex a, Complex b) {
  return {a.real() * b.real() - a.imag() * b.imag(), a.real() * b.imag() + a.imag() * b.real()};
}

/// The elimination at work: panels in place, what fronts leave to their parents on a stack.
class Elimination {
 public:
  Elimination(const FrontTree& tree, std::vector<double>& re, std::vector<double>& im,
              std::vector<Complex>& inverse_pivot)
      : tree_(tree),
        re_(re),
        im_(im),
        inverse_pivot_(inverse_pivot),
        stack_re_(tree.stack),
        stack_im_(tree.stack) {}

  void run() {
    for (const FrontTree::Front& f : tree_.fronts) {
      const std::size_t square = static_cast<std::size_t>(f.left()) * f.left();
      double *own_re = stack_re_.data() + top_, *own_im = stack_im_.data() + top_;
      std::fill_n(own_re, square, 0.0);
      std::fill_n(own_im, square, 0.0);
      std::size_t bottom = top_;
      while (!waiting_.empty() && parent_of(*waiting_.back()) == &f) {
        bottom -= static_cast<std::size_t>(waiting_.back()->left()) * waiting_.back()->left();
        take_over(*waiting_.back(), bottom, f, top_);
        waiting_.pop_back();
      }
      eliminate(f, own_re, own_im);
      if (bottom < top_) {  // down to where its children's lay
        std::copy_n(own_re, square, stack_re_.data() + bottom);
        std::copy_n(own_im, square, stack_im_.data() + bottom);
      }
      top_ = bottom + square;
      if (f.left() > 0) waiting_.push_back(&f);
    }
  }

 private:
  [[nodiscard]] const FrontTree::Front* parent_of(const FrontTree::Front& f) const {
    return &tree_.fronts[static_cast<std::size_t>(f.parent)];
  }

  /// Adds what `child` has left at `from` of the stack to panel and square (at `to`) of its parent.
  void take_over(const FrontTree::Front& child, std::size_t from, const FrontTree::Front& f,
                 std::size_t to) {
    const int* place = tree_.in_parent.data() + child.row_at + child.pivots;
    const int n = child.left();
    for (int j = 0; j < n; ++j) {
      const double *re = stack_re_.data() + from + static_cast<std::size_t>(j) * n,
                   *im = stack_im_.data() + from + static_cast<std::size_t>(j) * n;
      const bool own = place[j] < f.pivots;
      const int shift = own ? 0 : f.pivots;
      const std::size_t column =
          own ? f.at + static_cast<std::size_t>(place[j]) * f.rows
              : to + static_cast<std::size_t>(place[j] - f.pivots) * f.left();
      double *to_re = (own ? re_ : stack_re_).data() + column,
             *to_im = (own ? im_ : stack_im_).data() + column;
      for (int i = j; i < n; ++i) {
        to_re[place[i] - shift] += re[i];
        to_im[place[i] - shift] += im[i];
      }
    }
  }

  void eliminate(const FrontTree::Front& f, double* left_re, double* left_im) {
    double *re = re_.data() + f.at, *im = im_.data() + f.at;
    PanelColumns before{re, im, f.rows, 0};
    weight_re_.resize(f.pivots);
    weight_im_.resize(f.pivots);
    for (int j = 0; j < f.rows; ++j) {
      const bool own = j < f.pivots;
      const int columns = std::min(j, f.pivots);
      for (int k = 0; k < columns; ++k) {
        const std::size_t at = static_cast<std::size_t>(k) * f.rows;
        const Complex w = product({re[at + k], im[at + k]}, {re[at + j], im[at + j]});
        weight_re_[k] = w.real();
        weight_im_[k] = w.imag();
      }
      before.columns = columns;
      if (!own) {
        const std::size_t at = static_cast<std::size_t>(j - f.pivots) * f.left();
        subtract_products(before, weight_re_.data(), weight_im_.data(), j, f.rows,
                          left_re + at - f.pivots, left_im + at - f.pivots);
        continue;
      }
      double *column_re = re + static_cast<std::size_t>(j) * f.rows,
             *column_im = im + static_cast<std::size_t>(j) * f.rows;
      subtract_products(before, weight_re_.data(), weight_im_.data(), j, f.rows, column_re,
                        column_im);
      const Complex pivot{column_re[j], column_im[j]};
      const double size = std::norm(pivot);
      if (!(size > 0) || !std::isfinite(size))
        throw SolveError(
            "the field matrix could not be factorised: a pivot is zero (a region without size or "
            "with a non-finite property?)");
      const Complex inverse{pivot.real() / size, -pivot.imag() / size};
      inverse_pivot_[f.first + j] = inverse;
      scale_column(inverse, j + 1, f.rows, column_re, column_im);
    }
  }

  const FrontTree& tree_;
  std::vector<double>&re_, &im_;
  std::vector<Complex>& inverse_pivot_;
  std::vector<double> stack_re_, stack_im_;
  std::size_t top_ = 0;
  std::vector<const FrontTree::Front*> waiting_;  ///< have left something to their parents
  std::vector<double> weight_re_, weight_im_;
};

/// L D L^T x = b for one column, in place, rows in order of elimination, parts apart.
void solve_column(const FrontTree& tree, const std::vector<double>& re,
                  const std::vector<double>& im, const std::vector<Complex>& inverse_pivot,
                  std::vector<double>& x_re, std::vector<double>& x_im) {
  std::vector<double> local_re, local_im;
  const auto columns_of = [&](const FrontTree::Front& f, int first, int count) {
    const std::size_t at = f.at + static_cast<std::size_t>(first) * f.rows;
    return PanelColumns{re.data() + at, im.data() + at, f.rows, count};
  };
  for (const FrontTree::Front& f : tree.fronts) {
    double *own_re = x_re.data() + f.first, *own_im = x_im.data() + f.first;
    const auto zero = [](double v) { return v == 0; };
    if (std::all_of(own_re, own_re + f.pivots, zero) &&
        std::all_of(own_im, own_im + f.pivots, zero))
      continue;
    for (int k = 0; k + 1 < f.pivots; ++k) {
      const double known_re = own_re[k], known_im = own_im[k];
      subtract_products(columns_of(f, k, 1), &known_re, &known_im, k + 1, f.pivots, own_re, own_im);
    }
    local_re.assign(f.rows, 0.0);
    local_im.assign(f.rows, 0.0);
    subtract_products(columns_of(f, 0, f.pivots), own_re, own_im, f.pivots, f.rows, local_re.data(),
                      local_im.data());
    for (int i = f.pivots; i < f.rows; ++i) {
      const int row = tree.row[f.row_at + i];
      x_re[row] += local_re[i];
      x_im[row] += local_im[i];
    }
  }
  std::vector<double> own_re, own_im;
  for (auto f = tree.fronts.rbegin(); f != tree.fronts.rend(); ++f) {
    local_re.resize(f->rows);
    local_im.resize(f->rows);
    for (int i = 0; i < f->rows; ++i) {
      local_re[i] = x_re[tree.row[f->row_at + i]];
      local_im[i] = x_im[tree.row[f->row_at + i]];
    }
    own_re.resize(f->pivots);
    own_im.resize(f->pivots);
    for (int k = 0; k < f->pivots; ++k) {
      const Complex scaled = product(inverse_pivot[f->first + k], {local_re[k], local_im[k]});
      own_re[k] = scaled.real();
      own_im[k] = scaled.imag();
    }
    subtract_sums(columns_of(*f, 0, f->pivots), local_re.data(), local_im.data(), f->pivots,
                  f->rows, own_re.data(), own_im.data());
    for (int k = f->pivots - 1; k >= 0; --k)
      subtract_sums(columns_of(*f, k, 1), own_re.data(), own_im.data(), k + 1, f->pivots,
                    own_re.data() + k, own_im.data() + k);
    std::copy_n(own_re.begin(), f->pivots, x_re.begin() + f->first);
    std::copy_n(own_im.begin(), f->pivots, x_im.begin() + f->first);
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
void solve_block(const FrontTree& tree, const std::vector<double>& re,
                 const std::vector<double>& im, const std::vector<Complex>& inverse_pivot,
                 std::vector<RowOfBlock>& x) {
  std::vector<RowOfBlock> local;
  for (const FrontTree::Front& f : tree.fronts) {
    const auto own = x.begin() + f.first;
    if (std::all_of(own, own + f.pivots, [](const auto& r) { return r.zero(); })) continue;
    local.assign(own, own + f.pivots);
    local.resize(f.rows);
    for (int k = 0; k < f.pivots; ++k) {
      const std::size_t at = f.at + static_cast<std::size_t>(k) * f.rows;
      const RowOfBlock known = local[k];
      for (int i = k + 1; i < f.rows; ++i) local[i].subtract(re[at + i], im[at + i], known);
    }
    std::copy_n(local.begin(), f.pivots, own);
    for (int i = f.pivots; i < f.rows; ++i) {
      auto& to = x[tree.row[f.row_at + i]];
      to.subtract(-1.0, 0.0, local[i]);
    }
  }
  for (auto f = tree.fronts.rbegin(); f != tree.fronts.rend(); ++f) {
    local.resize(f->rows);
    for (int i = 0; i < f->rows; ++i) local[i] = x[tree.row[f->row_at + i]];
    for (int k = f->pivots - 1; k >= 0; --k) {
      const std::size_t at = f->at + static_cast<std::size_t>(k) * f->rows;
      RowOfBlock sum = local[k];
      sum.multiply(inverse_pivot[f->first + k]);
      for (int i = k + 1; i < f->rows; ++i) sum.subtract(re[at + i], im[at + i], local[i]);
      local[k] = sum;
    }
    std::copy_n(local.begin(), f->pivots, x.begin() + f->first);
  }
}

}  // namespace

Factorisation::Factorisation(const Pattern& pattern)
    : Factorisation(std::make_shared<FrontTree>(pattern)) {}

Factorisation::Factorisation(std::shared_ptr<const FrontTree> tree) : tree_(std::move(tree)) {}

void Factorisation::compute(std::span<const double> stiffness, std::span<const double> mass,
                            double omega) {
  re_.assign(tree_->values, 0.0);
  im_.assign(tree_->values, 0.0);
  inverse_pivot_.resize(tree_->size);
  for (std::size_t k = 0; k < stiffness.size(); ++k) {
    re_[tree_->places[k]] = stiffness[k];
    im_[tree_->places[k]] = omega * mass[k];
  }
  Elimination(*tree_, re_, im_, inverse_pivot_).run();
}

Eigen::MatrixXcd Factorisation::solve(const Eigen::MatrixXcd& rhs) const {
  Eigen::MatrixXcd x(rhs.rows(), rhs.cols());
  if (rhs.cols() == 1)
    solve_one(rhs, x);
  else
    solve_many(rhs, x);
  if (!x.allFinite()) throw SolveError("the field solution is not finite");
  return x;
}

void Factorisation::solve_one(const Eigen::MatrixXcd& rhs, Eigen::MatrixXcd& x) const {
  std::vector<double> re(tree_->size), im(tree_->size);
  for (int i = 0; i < tree_->size; ++i) {
    const Complex v = rhs(tree_->order[i], 0);
    re[i] = v.real();
    im[i] = v.imag();
  }
  solve_column(*tree_, re_, im_, inverse_pivot_, re, im);
  for (int i = 0; i < tree_->size; ++i) x(tree_->order[i], 0) = {re[i], im[i]};
}

void Factorisation::solve_many(const Eigen::MatrixXcd& rhs, Eigen::MatrixXcd& x) const {
  std::vector<RowOfBlock> block(tree_->size);
  for (Eigen::Index first = 0; first < rhs.cols(); first += RowOfBlock::width) {
    const auto count = std::min<Eigen::Index>(RowOfBlock::width, rhs.cols() - first);
    for (int i = 0; i < tree_->size; ++i) {
      block[i] = {};
      for (Eigen::Index k = 0; k < count; ++k) {
        const Complex v = rhs(tree_->order[i], first + k);
        block[i].re[k] = v.real();
        block[i].im[k] = v.imag();
      }
    }
    solve_block(*tree_, re_, im_, inverse_pivot_, block);
    for (int i = 0; i < tree_->size; ++i)
      for (Eigen::Index k = 0; k < count; ++k)
        x(tree_->order[i], first + k) = {block[i].re[k], block[i].im[k]};
  }
}

}  // namespace cw
