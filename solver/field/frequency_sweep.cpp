#include "solver/field/frequency_sweep.hpp"

#include <fmt/format.h>
#include <Eigen/Eigenvalues>
#include <Eigen/LU>

#include <algorithm>
#include <cmath>
#include <limits>

#include "solver/field/sources.hpp"

namespace cw {

namespace {

using Complex = std::complex<double>;
constexpr double least_tolerance = 1e-9;  ///< rounding errors of the projection are smaller
constexpr int largest_order = 10;  ///< vectors at one shift; more would cost as much as another
                                   ///< shift
constexpr int early_order = 4;     ///< at the first shifts, which others are sure to follow
constexpr int most_shifts = 24;

/// The coil in series as one symmetric problem (K^ + s M^) x = b, s = j w, for 1 A.
/// Massive turns, voltages V_k = s u_k, currents I_k = G_k V_k - s B_k^T A equal to the weights:
///   K^ = [K 0; 0 0],  M^ = [M -B; -B^T G],  b = (0, weights).     x^T M^ x = int sigma (A - u/(2
///   pi r))^2 2 pi r dS
/// Uniform turns: K^ = K, M^ = M, b the weighted sum of their sources.
class SeriesProblem {
 public:
  SeriesProblem(EddySystem& system, const TurnSet& turns)
      : system_(system), massive_(turns.kind == TurnKind::massive) {
    const auto count = static_cast<Eigen::Index>(turns.region.size());
    const Eigen::Map<const Eigen::VectorXd> weight(turns.weight.data(), count);
    Eigen::MatrixXd source(system.unknowns(), count);
    for (Eigen::Index k = 0; k < count; ++k)
      source.col(k) = massive_ ? voltage_source(system, turns.region[k])
                               : current_source(system, turns.region[k]);
    if (!massive_) {
      excitation_ = source * weight;
      return;
    }
    excitation_ = Eigen::VectorXd::Zero(system.unknowns() + count);
    excitation_.tail(count) = weight;
    conductance_.resize(count);
    for (Eigen::Index k = 0; k < count; ++k)
      conductance_[k] = loop_conductance(system, turns.region[k]);
    source_ = std::move(source);
  }

  [[nodiscard]] const Eigen::VectorXd& excitation() const { return excitation_; }

  void factorise(Frequency f) {
    system_.factorise(f);
    if (!massive_) return;
    response_ = system_.solve(source_.cast<Complex>());
    Eigen::MatrixXcd admittance = -imaginary_unit * f.omega() * (source_.transpose() * response_);
    admittance.diagonal() += conductance_.cast<Complex>();
    admittance_.compute(admittance);
  }

  [[nodiscard]] Eigen::VectorXcd solve(const Eigen::VectorXd& rhs) const {
    if (!massive_) return system_.solve(rhs.cast<Complex>());
    const Eigen::Index n = system_.unknowns(), turns = conductance_.size();
    const Complex s = imaginary_unit * system_.frequency().omega();
    Eigen::VectorXcd x = Eigen::VectorXcd::Zero(n + turns);
    if (!rhs.head(n).isZero(0.0)) x.head(n) = system_.solve(rhs.head(n).cast<Complex>());
    x.tail(turns) = admittance_.solve(rhs.tail(turns) / s + source_.transpose() * x.head(n));
    x.head(n) += s * (response_ * x.tail(turns));
    return x;
  }

  [[nodiscard]] Eigen::VectorXcd apply_stiffness(const Eigen::VectorXcd& x) const {
    Eigen::VectorXcd y = Eigen::VectorXcd::Zero(x.size());
    y.head(system_.unknowns()) = system_.apply_stiffness(x.head(system_.unknowns()));
    return y;
  }

  [[nodiscard]] Eigen::VectorXcd apply_mass(const Eigen::VectorXcd& x) const {
    if (!massive_) return system_.apply_mass(x);
    const Eigen::Index n = system_.unknowns(), turns = conductance_.size();
    Eigen::VectorXcd y(n + turns);
    y.head(n) = system_.apply_mass(x.head(n)) - source_ * x.tail(turns);
    y.tail(turns) =
        conductance_.cast<Complex>().cwiseProduct(x.tail(turns)) - source_.transpose() * x.head(n);
    return y;
  }

 private:
  EddySystem& system_;
  bool massive_;
  Eigen::VectorXd excitation_, conductance_;  // b; G [S]
  Eigen::MatrixXd source_;                    // B [S m]
  Eigen::MatrixXcd response_;                 // (K + s M)^-1 B
  Eigen::PartialPivLU<Eigen::MatrixXcd> admittance_;
};

/// Vectors orthonormal in H = K^ + w0 M^, with their products. Columns beyond `size` are reserve.
struct Basis {
  Eigen::Index size = 0;
  Eigen::MatrixXd vectors, stiff, norm;  ///< v, K^ v, H v by columns
  Eigen::MatrixXd stiffness;             ///< v^T K^ v'

  /// Adds v, given its products; false if it already lies in the span. `scale`: H-norm below which
  /// v is rounding.
  bool add(Eigen::VectorXd v, const Eigen::VectorXd& stiff_v, const Eigen::VectorXd& norm_v,
           double scale) {
    grow(v.size());
    const double before = std::sqrt(std::max(0.0, v.dot(norm_v)));
    Eigen::VectorXd share = Eigen::VectorXd::Zero(size);
    for (int pass = 0; pass < 2; ++pass) {
      const Eigen::VectorXd part = norm.leftCols(size).transpose() * v;
      v.noalias() -= vectors.leftCols(size) * part;
      share += part;
    }
    norm.col(size) = norm_v;
    norm.col(size).noalias() -= norm.leftCols(size) * share;
    const double length = std::sqrt(std::max(0.0, v.dot(norm.col(size))));
    if (length <= std::max(1e-9 * before, scale)) return false;
    norm.col(size) /= length;
    vectors.col(size) = v / length;
    stiff.col(size) = stiff_v / length;
    stiff.col(size).noalias() -= stiff.leftCols(size) * (share / length);
    ++size;
    stiffness.conservativeResize(size, size);
    stiffness.row(size - 1).noalias() = stiff.col(size - 1).transpose() * vectors.leftCols(size);
    stiffness.col(size - 1) = stiffness.row(size - 1).transpose();
    return true;
  }

 private:
  void grow(Eigen::Index rows) {
    if (size < vectors.cols()) return;
    for (Eigen::MatrixXd* m : {&vectors, &stiff, &norm}) m->conservativeResize(rows, 2 * size + 16);
  }
};

/// `count` frequencies evenly spaced in the logarithm, ends included.
std::vector<Frequency> logarithmic(Frequency low, Frequency high, int count) {
  std::vector<Frequency> result;
  result.reserve(count);
  for (int i = 0; i < count; ++i)
    result.push_back(
        {low.hertz * std::pow(high.hertz / low.hertz, static_cast<double>(i) / (count - 1))});
  return result;
}

/// First shifts, from the top of the band down: at the upper third of equal intervals of at most 50
/// to 1. (Measured for rods and tubes in a coil: one shift with ten vectors covers such an interval
/// to 1e-3 or better.)
std::vector<Frequency> first_shifts(Frequency low, Frequency high) {
  const double decades = std::log10(high.hertz / low.hertz);
  const int count = std::max(1, static_cast<int>(std::ceil(decades / 1.7)));
  std::vector<Frequency> result;
  result.reserve(count);
  for (int i = 0; i < count; ++i)
    result.push_back({low.hertz * std::pow(10.0, decades * (1 - (i + 0.3) / count))});
  return result;
}

}  // namespace

/// Extends the basis. The residual of the Galerkin solution lies in span{b, M^ V} and is orthogonal
/// to V. This space has one dimension: at every s the residual is a multiple of one real vector r,
/// its value at s = w0. Solving for r at a shift gives both the error of the present model and the
/// next basis vector of that shift.
class FrequencySweep::Builder {
 public:
  Builder(FrequencySweep& sweep, EddySystem& system, double tolerance)
      : sweep_(sweep),
        problem_(system, sweep.turns_),
        tolerance_(std::max(tolerance, least_tolerance)),
        residual_(problem_.excitation()) {}

  /// Works at one shift until the model is accurate everywhere in `grid` (then true) or further
  /// vectors gain little.
  bool work_at(Frequency f, int order, const std::vector<Frequency>& grid, Frequency& worst) {
    problem_.factorise(f);
    sweep_.shifts_.push_back(f);
    sweep_.order_.push_back(0);
    Eigen::VectorXcd x = problem_.solve(residual_);
    double last = std::numeric_limits<double>::infinity();
    while (sweep_.order_.back() < order) {
      const bool exact = !extend(x);
      project();
      if (exact) sweep_.residual_response_ = 0;
      if (exact) return true;
      x = problem_.solve(residual_);
      sweep_.residual_response_ = residual_.dot(x);
      worst = worst_of(grid);
      if (sweep_.error_estimate(worst) <= tolerance_) return true;
      const double bound = sweep_.relative_bound(worst);
      if (bound > least_gain * last) break;
      last = bound;
    }
    extend(x);
    project();
    return false;
  }

  void finish() { sweep_.modes_ = basis_.vectors.leftCols(basis_.size) * rotation_; }

 private:
  static constexpr double least_gain = 0.8;

  [[nodiscard]] Frequency worst_of(const std::vector<Frequency>& grid) const {
    return *std::max_element(grid.begin(), grid.end(), [this](Frequency a, Frequency b) {
      return sweep_.relative_bound(a) < sweep_.relative_bound(b);
    });
  }

  bool extend(const Eigen::VectorXcd& x) {
    const double w0 = sweep_.reference_;
    // K^ x = r - j w M^ x would save a product but lose a digit of Z.
    const Eigen::VectorXcd stiff = problem_.apply_stiffness(x),
                           norm = stiff + w0 * problem_.apply_mass(x);
    const double rounding = 1e-13 * std::sqrt(std::max(0.0, x.real().dot(norm.real())) +
                                              std::max(0.0, x.imag().dot(norm.imag())));
    const bool fresh_re = basis_.add(x.real(), stiff.real(), norm.real(), rounding);
    const bool fresh_im = basis_.add(x.imag(), stiff.imag(), norm.imag(), rounding);
    ++sweep_.order_.back();
    return fresh_re && fresh_im;
  }

  void project() {
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(basis_.stiffness);
    rotation_ = eigen.eigenvectors();
    sweep_.kappa_ = eigen.eigenvalues().cwiseMax(0.0).cwiseMin(1.0);
    const Eigen::VectorXd share =
        basis_.vectors.leftCols(basis_.size).transpose() * problem_.excitation();
    sweep_.coupling_ = rotation_.transpose() * share;
    residual_ = problem_.excitation() - basis_.norm.leftCols(basis_.size) * share;
  }

  FrequencySweep& sweep_;
  SeriesProblem problem_;
  double tolerance_;
  Basis basis_;
  Eigen::MatrixXd rotation_;
  Eigen::VectorXd residual_;
};

FrequencySweep::FrequencySweep(EddySystem& system, const TurnSet& turns, Frequency low,
                               Frequency high, double tolerance)
    : system_(system), turns_(turns), reference_(std::sqrt(low.omega() * high.omega())) {
  if (!(low.hertz > 0 && high.hertz >= low.hertz && std::isfinite(high.hertz)))
    throw SolveError(fmt::format(
        "the frequency band runs from {} Hz to {} Hz; it must start above 0 and not fall",
        low.hertz, high.hertz));
  if (turns.kind == TurnKind::uniform)
    for (std::size_t k = 0; k < turns.region.size(); ++k)
      dc_resistance_ += turns.weight[k] * turns.weight[k] * turns.resistance[k];
  const std::vector<Frequency> grid = logarithmic(low, high, 121), first = first_shifts(low, high);
  Builder builder(*this, system, tolerance);
  Frequency next;
  for (std::size_t i = 0; i < most_shifts; ++i)
    if (builder.work_at(i < first.size() ? first[i] : next,
                        i + 1 < first.size() ? early_order : largest_order, grid, next)) {
      builder.finish();
      return;
    }
  throw SolveError(fmt::format(
      "the frequency sweep from {} Hz to {} Hz did not reach a relative error of {} in {} solves",
      low.hertz, high.hertz, tolerance, most_shifts));
}

Eigen::VectorXcd FrequencySweep::amplitudes(Frequency f) const {
  if (!(f.hertz > 0 && std::isfinite(f.hertz)))
    throw SolveError(fmt::format("the frequency is {} Hz; it must be positive", f.hertz));
  const double x = f.omega() / reference_;
  return coupling_.cast<Complex>().cwiseQuotient(kappa_ + imaginary_unit * x *
                                                              (1 - kappa_.array()).matrix());
}

std::complex<double> FrequencySweep::impedance(Frequency f) const {
  // b^T x without conjugation; the real part is a sum of positive terms.
  const Complex inductance = coupling_.cast<Complex>().cwiseProduct(amplitudes(f)).sum();
  return imaginary_unit * f.omega() * inductance + dc_resistance_;
}

FieldSolution FrequencySweep::field(Frequency f) const {
  const Eigen::VectorXcd x = modes_ * amplitudes(f);
  FieldSolution field;
  field.frequency = f;
  field.media = system_.media();
  field.potential = system_.to_nodes(x.head(system_.unknowns()));
  field.loop_voltage.assign(field.media.size(), 0.0);
  field.impressed.assign(field.media.size(), 0.0);
  for (std::size_t k = 0; k < turns_.region.size(); ++k)
    if (turns_.kind == TurnKind::massive)
      field.loop_voltage[turns_.region[k]] =
          imaginary_unit * f.omega() * x[system_.unknowns() + static_cast<Eigen::Index>(k)];
    else
      field.impressed[turns_.region[k]] =
          turns_.weight[k] / section_area(system_.mesh(), turns_.region[k]);
  return field;
}

double FrequencySweep::relative_bound(Frequency f) const {
  const Complex impedance_here = impedance(f);
  // Factor between the residual and r: 1 at s = w0, zero at the shifts s = +-j w_i, with poles at
  // those of the model.
  const double w = f.omega(), x = w / reference_;
  double multiple = 1;
  for (std::size_t i = 0; i < shifts_.size(); ++i) {
    const double at = shifts_[i].omega() / reference_;
    multiple *= std::pow((at - x) * (at + x) / (1 + at * at), 2 * order_[i]);
  }
  for (const double k : kappa_) multiple /= k * k + x * x * (1 - k) * (1 - k);
  // g(w) = r^T (K + j w M)^-1 r is a sum of c^2 / (k + j w m), all positive; known at w' it is
  // bounded at w by |g(w)| <= Re g(w') - (w'/w) Im g(w'), because (cos + sin / y)^2 (cos^2 + y^2
  // sin^2) >= 1 with y = w / w'.
  const double response =
      residual_response_.real() - residual_response_.imag() * shifts_.back().omega() / w;
  return w * multiple * response / std::max(impedance_here.real(), 1e-6 * std::abs(impedance_here));
}

double FrequencySweep::error_estimate(Frequency f) const {
  const double relative =
      relative_bound(f);  // relative to the resistance of the model; needed: to the true one
  return relative < 1 ? relative / (1 - relative) : std::numeric_limits<double>::infinity();
}

}  // namespace cw
