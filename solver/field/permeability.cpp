#include "solver/field/permeability.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <bit>
#include <cmath>

#include "solver/fem/factorisation.hpp"

namespace cw {

namespace {

// Fields of the table [A/m]: every metal is linear below them and air-like above.
constexpr double lowest_field = 1e-4, highest_field = 1e9;
constexpr int points = 360;

/// Limits slopes where a cubic would overshoot (Fritsch and Carlson's circle of radius 3).
void keep_monotone(const std::vector<double>& x, const std::vector<double>& y,
                   std::vector<double>& slope) {
  for (std::size_t i = 0; i + 1 < x.size(); ++i) {
    const double secant = (y[i + 1] - y[i]) / (x[i + 1] - x[i]);
    const double a = slope[i] / secant, b = slope[i + 1] / secant;
    const double size = std::hypot(a, b);
    if (size <= 3.0) continue;
    slope[i] = 3.0 / size * a * secant;
    slope[i + 1] = 3.0 / size * b * secant;
  }
}

}  // namespace

EffectiveReluctivity::EffectiveReluctivity(const FluxCurve& flux, PermeabilityLaw law)
    : EffectiveReluctivity([&](double h) { return effective_flux(flux, h, law); }) {}

EffectiveReluctivity::EffectiveReluctivity(const FluxCurve& effective_flux) {
  const double step = std::log(highest_field / lowest_field) / (points - 1);
  for (int i = 0; i < points; ++i) {
    const double h = lowest_field * std::exp(step * i), b = effective_flux(h);
    if (!(b > 0.999 * mu0 * h) || (i > 0 && std::log(b) <= log_flux_.back()))
      throw SolveError(
          fmt::format("the magnetisation curve gives B = {:.6g} T at H = {:.6g} A/m; B must rise "
                      "with H and not "
                      "fall below mu0 H",
                      b, h));
    log_field_.push_back(std::log(h));
    log_flux_.push_back(std::log(b));
  }
  // Fourth-order differences along ln H; the ends are linear.
  slope_.assign(points, 1.0);
  for (int i = 2; i + 2 < points; ++i)
    slope_[i] = 12 * step /
                (8 * (log_flux_[i + 1] - log_flux_[i - 1]) - (log_flux_[i + 2] - log_flux_[i - 2]));
  for (double& s : slope_) s = std::max(s, 0.0);
  keep_monotone(log_flux_, log_field_, slope_);
  saturated_ = std::exp(log_flux_.back()) - mu0 * std::exp(log_field_.back());
  tabulate();
}

namespace {

/// Index of a number from its binary exponent and the first six bits after the point.
std::uint64_t place_of(double x) {
  return std::bit_cast<std::uint64_t>(x) >> 46U;
}
double begin_of(std::uint64_t place) {
  return std::bit_cast<double>(place << 46U);
}

}  // namespace

/// Cubics over B^2 with the values and slopes of the knots, so that solving a field needs no
/// logarithm and no exponential.
void EffectiveReluctivity::tabulate() {
  const auto knot = [this](std::size_t i) {
    const double x = std::exp(2 * log_flux_[i]), nu = std::exp(log_field_[i] - log_flux_[i]);
    return std::array<double, 3>{x, nu, 0.5 * nu * (slope_[i] - 1.0) / x};
  };
  for (std::size_t i = 0; i + 1 < log_flux_.size(); ++i) {
    const auto [x0, nu0, slope0] = knot(i);
    const auto [x1, nu1, slope1] = knot(i + 1);
    const double width = x1 - x0, rise = nu1 - nu0, a = width * slope0, b = width * slope1;
    piece_.push_back({x0, 1.0 / width, {nu0, a, 3 * rise - 2 * a - b, a + b - 2 * rise}});
  }
  const double end = std::exp(2 * log_flux_.back());
  first_place_ = place_of(piece_.front().from) + 1;
  std::uint16_t i = 0;
  for (std::uint64_t k = first_place_; k < place_of(end); ++k) {
    while (i + 1U < piece_.size() && piece_[i + 1U].from <= begin_of(k)) ++i;
    piece_at_.push_back(i);
  }
}

EffectiveReluctivity::Value EffectiveReluctivity::at_log(double log_flux) const {
  if (log_flux <= log_flux_.front()) return {std::exp(log_field_.front() - log_flux_.front()), 1.0};
  if (log_flux >= log_flux_.back()) {
    const double b = std::exp(log_flux), h = (b - saturated_) / mu0;
    return {h / b, b / (mu0 * h)};
  }
  const auto after = std::upper_bound(log_flux_.begin(), log_flux_.end(), log_flux);
  const auto i = static_cast<std::size_t>(after - log_flux_.begin()) - 1;
  const double width = log_flux_[i + 1] - log_flux_[i], t = (log_flux - log_flux_[i]) / width;
  const double secant = (log_field_[i + 1] - log_field_[i]) / width;
  const double a = 3 * secant - 2 * slope_[i] - slope_[i + 1];
  const double b = slope_[i] + slope_[i + 1] - 2 * secant;
  const double log_field = log_field_[i] + width * t * (slope_[i] + t * (a + t * b));
  return {std::exp(log_field - log_flux), slope_[i] + t * (2 * a + 3 * b * t)};
}

EffectiveReluctivity::Value EffectiveReluctivity::at(double flux_rms_squared, double share) const {
  if (share <= 0.0) return {1.0 / mu0, 1.0};
  const double x = 2.0 * flux_rms_squared / (share * share);
  const std::uint64_t k = place_of(x) - first_place_;  // wraps to a huge number if x lies before
                                                       // the first one
  if (k >= piece_at_.size()) return at_log(0.5 * std::log(x));
  std::size_t i = piece_at_[k];
  while (i + 1 < piece_.size() && x >= piece_[i + 1].from) ++i;
  const Piece& p = piece_[i];
  const auto& c = p.coefficient;
  const double t = (x - p.from) * p.per_width;
  const double nu = c[0] + t * (c[1] + t * (c[2] + t * c[3]));
  const double rise = (c[1] + t * (2 * c[2] + 3 * t * c[3])) * p.per_width;  // dnu/dx
  return {nu, 1.0 + 2.0 * x * rise / nu};
}

double EffectiveReluctivity::relative_permeability(double field_rms, double share) const {
  if (share <= 0.0) return 1.0;
  const double log_field = 0.5 * std::log(2.0 * field_rms * field_rms) - std::log(share);
  if (log_field <= log_field_.front())
    return std::exp(log_flux_.front() - log_field_.front()) / mu0;
  if (log_field >= log_field_.back()) return 1.0 + saturated_ / (mu0 * std::exp(log_field));
  const auto after = std::upper_bound(log_field_.begin(), log_field_.end(), log_field);
  const auto i = static_cast<std::size_t>(after - log_field_.begin()) - 1;
  double low = log_flux_[i], high = log_flux_[i + 1];
  for (int k = 0; k < 50; ++k) {
    const double middle = 0.5 * (low + high);
    (middle + std::log(at_log(middle).nu) < log_field ? low : high) = middle;
  }
  return 1.0 / (mu0 * at_log(low).nu);
}

double saturated_skin_depth(const EffectiveReluctivity& law, double share, double conductivity,
                            Frequency f, double field_rms) {
  return skin_depth(conductivity, law.relative_permeability(field_rms, share), f);
}

}  // namespace cw
