#include "solver/field/frequency_sweep.hpp"

#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "solver/field/sources.hpp"

namespace cw {

namespace {

using Complex = std::complex<double>;
constexpr Complex j{0, 1};
constexpr double least_tolerance = 1e-9;  ///< rounding of the projection stays below
constexpr int largest_order = 6;          ///< vectors at one shift
constexpr int most_shifts = 24;

/// The coil in series as one symmetric problem (K^ + s M^) x = b, s = j w, for 1 A.
/// Massive turns, voltages V_k = s u_k, currents I_k = G_k V_k - s B_k^T A equal to the weights:
///   K^ = [K 0; 0 0],  M^ = [M -B; -B^T G],  b = (0, weights).     x^T M^ x = int sigma (A - u/(2 pi r))^2 2 pi r dS
/// Uniform turns: K^ = K, M^ = M, b the weighted sum of their sources.
class SeriesProblem {
 public:
  SeriesProblem(EddySystem& system, const TurnSet& turns) : system_(system), massive_(turns.kind == TurnKind::massive) {
    const auto count = static_cast<Eigen::Index>(turns.region.size());
    const Eigen::Map<const Eigen::VectorXd> weight(turns.weight.data(), count);
    Eigen::MatrixXd source(system.unknowns(), count);
    for (Eigen::Index k = 0; k < count; ++k)
      source.col(k) = massive_ ? voltage_source(system, turns.region[k]) : current_source(system, turns.region[k]);
    if (!massive_) {
      excitation_ = source * weight;
      return;
    }
    excitation_ = Eigen::VectorXd::Zero(system.unknowns() + count);
    excitation_.tail(count) = weight;
    conductance_.resize(count);
    for (Eigen::Index k = 0; k < count; ++k) conductance_[k] = loop_conductance(system, turns.region[k]);
    source_ = std::move(source);
  }

  [[nodiscard]] const Eigen::VectorXd& excitation() const { return excitation_; }

  void factorise(Frequency f) {
    system_.factorise(f);
    if (!massive_) return;
    response_ = system_.solve(source_.cast<Complex>());
    Eigen::MatrixXcd admittance = -j * f.omega() * (source_.transpose() * response_);
    admittance.diagonal() += conductance_.cast<Complex>();
    admittance_.compute(admittance);
  }

  [[nodiscard]] Eigen::VectorXcd solve(const Eigen::VectorXd& rhs) const {
    if (!massive_) return system_.solve(rhs.cast<Complex>());
    const Eigen::Index n = system_.unknowns(), turns = conductance_.size();
    const Complex s = j * system_.frequency().omega();
    Eigen::VectorXcd x = Eigen::VectorXcd::Zero(n + turns);
    if (!rhs.head(n).isZero(0.0)) x.head(n) = system_.solve(rhs.head(n).cast<Complex>());
    x.tail(turns) = admittance_.solve(rhs.tail(turns) / s + source_.transpose() * x.head(n));
    x.head(n) += s * (response_ * x.tail(turns));
    return x;
  }

  [[nodiscard]] Eigen::VectorXcd apply_mass(const Eigen::VectorXcd& x) const {
    if (!massive_) return system_.apply_mass(x);
    const Eigen::Index n = system_.unknowns(), turns = conductance_.size();
    Eigen::VectorXcd y(n + turns);
    y.head(n) = system_.apply_mass(x.head(n)) - source_ * x.tail(turns);
    y.tail(turns) = conductance_.cast<Complex>().cwiseProduct(x.tail(turns)) - source_.transpose() * x.head(n);
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

/// Vectors orthonormal in H = K^ + w0 M^, with their products.
struct Basis {
  Eigen::MatrixXd vectors, stiff, norm;  ///< v, K^ v, H v by columns

  /// Adds v, given its products; false when it lies in the span already. `scale`: H-norm below which v is rounding.
  bool add(Eigen::VectorXd v, Eigen::VectorXd stiff_v, Eigen::VectorXd norm_v, double scale) {
    const double before = std::sqrt(std::max(0.0, v.dot(norm_v)));
    for (int pass = 0; pass < 2 && vectors.cols() > 0; ++pass) {
      const Eigen::VectorXd share = norm.transpose() * v;
      v -= vectors * share;
      stiff_v -= stiff * share;
      norm_v -= norm * share;
    }
    const double length = std::sqrt(std::max(0.0, v.dot(norm_v)));
    if (length <= std::max(1e-9 * before, scale)) return false;
    append(vectors, v / length);
    append(stiff, stiff_v / length);
    append(norm, norm_v / length);
    return true;
  }

 private:
  static void append(Eigen::MatrixXd& m, const Eigen::VectorXd& column) {
    m.conservativeResize(column.size(), m.cols() + 1);
    m.rightCols(1) = column;
  }
};

/// `count` frequencies evenly spaced in the logarithm, ends included.
std::vector<Frequency> logarithmic(Frequency low, Frequency high, int count) {
  std::vector<Frequency> result;
  for (int i = 0; i < count; ++i)
    result.push_back({low.hertz * std::pow(high.hertz / low.hertz, static_cast<double>(i) / (count - 1))});
  return result;
}

/// First shifts: the middles of equal stretches of the band, about one a decade.
std::vector<Frequency> first_shifts(Frequency low, Frequency high) {
  const double decades = std::log10(high.hertz / low.hertz);
  const int count = std::max(1, static_cast<int>(std::ceil(decades)));
  std::vector<Frequency> result;
  for (int i = 0; i < count; ++i) result.push_back({low.hertz * std::pow(10.0, decades * (i + 0.5) / count)});
  return result;
}

}  // namespace

/// Grows the basis. The residual of the Galerkin solution lies in span{b, M^ V} and is orthogonal to V, one
/// dimension in all: at every s it is a multiple of one real vector r, its value at s = w0. Solving for r at a shift
/// gives at once the error of the present model and the next basis vector of that shift.
class FrequencySweep::Builder {
 public:
  Builder(FrequencySweep& sweep, EddySystem& system) : sweep_(sweep), problem_(system, sweep.turns_) {
    residual_ = problem_.excitation();
  }

  /// Works at one shift until the model is good everywhere in `grid` (then true) or further vectors gain little.
  bool work_at(Frequency f, double tolerance, const std::vector<Frequency>& grid, Frequency& worst) {
    problem_.factorise(f);
    sweep_.shifts_.push_back(f);
    sweep_.order_.push_back(0);
    Eigen::VectorXcd x = problem_.solve(residual_);
    double last = std::numeric_limits<double>::infinity();
    while (sweep_.order_.back() < largest_order) {
      const bool exact = !extend(x);
      project();
      if (exact) {
        sweep_.residual_response_ = 0;
        return true;
      }
      x = problem_.solve(residual_);
      sweep_.residual_response_ = residual_.dot(x);
      const double estimate = sweep_.largest_estimate(grid, worst);
      if (getenv("SWEEP_TRACE")) fprintf(stderr, "shift %g order %d est %.3e at %g\n", f.hertz, sweep_.order_.back(), estimate, worst.hertz);
      if (estimate <= tolerance) return true;
      if (estimate > least_gain * last) break;
      last = estimate;
    }
    extend(x);
    project();
    return false;
  }

  void finish() { sweep_.modes_ = basis_.vectors * rotation_; }

 private:
  static constexpr double least_gain = 0.4;

  bool extend(const Eigen::VectorXcd& x) {
    const double w = sweep_.shifts_.back().omega(), w0 = sweep_.reference_;
    // K^ x = r - j w M^ x saves a product.
    const Eigen::VectorXcd mass = problem_.apply_mass(x);
    const Eigen::VectorXd stiff_re = residual_ + w * mass.imag(), stiff_im = -w * mass.real();
    const Eigen::VectorXd norm_re = stiff_re + w0 * mass.real(), norm_im = stiff_im + w0 * mass.imag();
    const double rounding =
        1e-13 * std::sqrt(std::max(0.0, x.real().dot(norm_re)) + std::max(0.0, x.imag().dot(norm_im)));
    const bool fresh_re = basis_.add(x.real(), stiff_re, norm_re, rounding);
    const bool fresh_im = basis_.add(x.imag(), stiff_im, norm_im, rounding);
    ++sweep_.order_.back();
    return fresh_re && fresh_im;
  }

  void project() {
    const Eigen::MatrixXd stiffness = basis_.vectors.transpose() * basis_.stiff;
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(0.5 * (stiffness + stiffness.transpose()));
    rotation_ = eigen.eigenvectors();
    sweep_.kappa_ = eigen.eigenvalues().cwiseMax(0.0).cwiseMin(1.0);
    const Eigen::VectorXd share = basis_.vectors.transpose() * problem_.excitation();
    sweep_.coupling_ = rotation_.transpose() * share;
    residual_ = problem_.excitation() - basis_.norm * share;
  }

  FrequencySweep& sweep_;
  SeriesProblem problem_;
  Basis basis_;
  Eigen::MatrixXd rotation_;
  Eigen::VectorXd residual_;
};

FrequencySweep::FrequencySweep(EddySystem& system, const TurnSet& turns, Frequency low, Frequency high,
                               double tolerance)
    : system_(system), turns_(turns), reference_(std::sqrt(low.omega() * high.omega())) {
  if (!(low.hertz > 0 && high.hertz >= low.hertz && std::isfinite(high.hertz)))
    throw SolveError(fmt::format("the frequency band runs from {} Hz to {} Hz; it must start above 0 and not fall",
                                 low.hertz, high.hertz));
  if (turns.kind == TurnKind::uniform)
    for (std::size_t k = 0; k < turns.region.size(); ++k)
      dc_resistance_ += turns.weight[k] * turns.weight[k] * turns.resistance[k];
  const std::vector<Frequency> grid = logarithmic(low, high, 121), first = first_shifts(low, high);
  Builder builder(*this, system);
  Frequency next;
  for (std::size_t i = 0; i < most_shifts; ++i)
    if (builder.work_at(i < first.size() ? first[i] : next, std::max(tolerance, least_tolerance), grid, next)) {
      builder.finish();
      return;
    }
  throw SolveError(fmt::format("the frequency sweep from {} Hz to {} Hz did not reach a relative error of {} in {} solves",
                               low.hertz, high.hertz, tolerance, most_shifts));
}

Eigen::VectorXcd FrequencySweep::amplitudes(Frequency f) const {
  if (!(f.hertz > 0 && std::isfinite(f.hertz)))
    throw SolveError(fmt::format("the frequency is {} Hz; it must be positive", f.hertz));
  const double x = f.omega() / reference_;
  return coupling_.cast<Complex>().cwiseQuotient(kappa_ + j * x * (1 - kappa_.array()).matrix());
}

std::complex<double> FrequencySweep::impedance(Frequency f) const {
  // b^T x without conjugation; the real part is a sum of positive terms.
  const Complex inductance = coupling_.cast<Complex>().cwiseProduct(amplitudes(f)).sum();
  return j * f.omega() * inductance + dc_resistance_;
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
      field.loop_voltage[turns_.region[k]] = j * f.omega() * x[system_.unknowns() + static_cast<Eigen::Index>(k)];
    else
      field.impressed[turns_.region[k]] = turns_.weight[k] / section_area(system_.mesh(), turns_.region[k]);
  return field;
}

double FrequencySweep::error_estimate(Frequency f) const {
  const Complex impedance_here = impedance(f);
  // Multiple of r that the residual is: 1 at s = w0, zero at the shifts s = +-j w_i, poles at those of the model.
  const double w = f.omega(), x = w / reference_;
  double multiple = 1;
  for (std::size_t i = 0; i < shifts_.size(); ++i) {
    const double at = shifts_[i].omega() / reference_;
    multiple *= std::pow((at - x) * (at + x) / (1 + at * at), 2 * order_[i]);
  }
  for (const double k : kappa_) multiple /= k * k + x * x * (1 - k) * (1 - k);
  // g(w) = r^T (K + j w M)^-1 r is a sum of c^2 / (k + j w m), all positive; known at w' it is bounded at w by
  // |g(w)| <= Re g(w') - (w'/w) Im g(w'), because (cos + sin / y)^2 (cos^2 + y^2 sin^2) >= 1 with y = w / w'.
  const double bound = w * multiple *
                       (std::abs(residual_response_.real()) + std::abs(residual_response_.imag()) * shifts_.back().omega() / w);
  if (bound == 0) return 0;
  const double resistance = std::max(impedance_here.real(), 1e-6 * std::abs(impedance_here)) - bound;
  return resistance > 0 ? bound / resistance : std::numeric_limits<double>::infinity();
}

double FrequencySweep::largest_estimate(const std::vector<Frequency>& at, Frequency& where) const {
  double largest = -1;
  for (const Frequency f : at)
    if (const double e = error_estimate(f); e > largest) {
      largest = e;
      where = f;
    }
  return largest;
}

}  // namespace cw
