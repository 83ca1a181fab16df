#include "tests/published/reference/coupled_rod.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

namespace cw::reference {

namespace {

using Complex = std::complex<double>;
using std::numbers::pi;
constexpr double mu0 = 4e-7 * pi;

/// Relative effective permeability of J = Js H/(H + a) at a peak field, by the midpoint rule over
/// a quarter period.
double permeability(double peak, double js, double a) {
  if (js <= 0.0) return 1.0;
  constexpr int points = 24;
  double sum = 0.0;
  for (int k = 0; k < points; ++k) {
    const double s = std::sin(pi / 2 * (k + 0.5) / points);
    const double h = peak * s, b = mu0 * h + js * h / (h + a);
    sum += b * b / points;
  }
  return std::sqrt(2 * sum) / (mu0 * peak);
}

struct Grid {
  int n;
  double step;
  [[nodiscard]] double face(int i) const { return i * step; }  ///< inner face of cell i
  [[nodiscard]] double centre(int i) const { return (i + .5) * step; }
  [[nodiscard]] double area(int i) const { return 2 * pi * centre(i) * step; }
};

/// H at the cell centres for given permeabilities: (1/r) (r rho H')' = j w mu H, H = `rms` at the
/// surface half a cell beyond the last centre; complex tridiagonal elimination.
std::vector<Complex> field(const Grid& g, const CoupledRod& rod, const std::vector<double>& rho,
                           const std::vector<double>& mu) {
  const double w = 2 * pi * rod.hertz;
  std::vector<Complex> diagonal(g.n), right(g.n, 0.0);
  std::vector<double> upper(g.n, 0.0);
  for (int i = 0; i < g.n; ++i) {
    diagonal[i] += Complex{0, w * mu0 * mu[i]} * g.centre(i) * g.step;
    if (i + 1 < g.n) {
      const double c = g.face(i + 1) * 0.5 * (rho[i] + rho[i + 1]) / g.step;
      upper[i] = -c;
      diagonal[i] += c;
      diagonal[i + 1] += c;
    } else {
      const double c = g.face(g.n) * rho[i] / (0.5 * g.step);
      diagonal[i] += c;
      right[i] = c * rod.rms;
    }
  }
  for (int i = 1; i < g.n; ++i) {
    const Complex f = upper[i - 1] / diagonal[i - 1];
    diagonal[i] -= f * upper[i - 1];
    right[i] -= f * right[i - 1];
  }
  std::vector<Complex> h(g.n);
  for (int i = g.n - 1; i >= 0; --i)
    h[i] = (right[i] - (i + 1 < g.n ? upper[i] * h[i + 1] : Complex{})) / diagonal[i];
  return h;
}

class Marching {
 public:
  Marching(const CoupledRod& rod, int cells)
      : rod_(rod),
        grid_{cells, rod.radius / cells},
        kelvin_(cells, rod.start),
        mu_(cells, 50.0),
        heat_(cells, 0.0) {}

  /// Permeability and field by damped repetition; heat per volume rho |dH/dr|^2 from the faces.
  void solve_field() {
    const int n = grid_.n;
    std::vector<double> rho(n);
    for (int i = 0; i < n; ++i) rho[i] = rod_.resistivity(kelvin_[i]);
    std::vector<Complex> h;
    for (int round = 0; round < 200; ++round) {
      h = field(grid_, rod_, rho, mu_);
      double change = 0.0;
      for (int i = 0; i < n; ++i) {
        const double peak = std::max(1.0, std::numbers::sqrt2 * std::abs(h[i]));
        const double next =
            permeability(peak, rod_.saturation(kelvin_[i]), rod_.half_field(kelvin_[i]));
        change = std::max(change, std::abs(next - mu_[i]) / mu_[i]);
        mu_[i] = std::exp(0.5 * (std::log(mu_[i]) + std::log(next)));
      }
      if (change < 1e-3) break;
    }
    std::fill(heat_.begin(), heat_.end(), 0.0);
    for (int i = 0; i < n; ++i) {
      const bool last = i + 1 == n;
      const double width = last ? 0.5 * grid_.step : grid_.step;
      const Complex slope = ((last ? Complex{rod_.rms} : h[i + 1]) - h[i]) / width;
      const double resistivity = last ? rho[i] : 0.5 * (rho[i] + rho[i + 1]);
      const double watts = resistivity * std::norm(slope) * 2 * pi * grid_.face(i + 1) * width;
      heat_[i] += last ? watts : 0.5 * watts;
      if (!last) heat_[i + 1] += 0.5 * watts;
    }
  }

  /// Explicit steps of conduction.
  void advance(double length) {
    const int n = grid_.n;
    double fastest = 0.0;
    for (int i = 0; i < n; ++i)
      fastest = std::max(fastest, rod_.conductivity(kelvin_[i]) / rod_.heat_capacity(kelvin_[i]));
    const int steps =
        static_cast<int>(std::ceil(length * fastest / (0.4 * grid_.step * grid_.step)));
    std::vector<double> flow(n + 1, 0.0);
    for (int s = 0; s < steps; ++s) {
      for (int i = 1; i < n; ++i)
        flow[i] = 2 * pi * grid_.face(i) * rod_.conductivity(0.5 * (kelvin_[i - 1] + kelvin_[i])) *
                  (kelvin_[i - 1] - kelvin_[i]) / grid_.step;
      for (int i = 0; i < n; ++i) {
        const double watts = heat_[i] + flow[i] - flow[i + 1];
        kelvin_[i] += length / steps * watts / (grid_.area(i) * rod_.heat_capacity(kelvin_[i]));
      }
    }
  }

  [[nodiscard]] RodMoment moment(double time) const {
    double power = 0.0;
    for (const double w : heat_) power += w;
    const int n = grid_.n;
    return {time, 1.5 * kelvin_[n - 1] - 0.5 * kelvin_[n - 2], kelvin_[0], power};
  }

 private:
  const CoupledRod& rod_;
  Grid grid_;
  std::vector<double> kelvin_, mu_, heat_;  ///< heat [W/m] by cell
};

}  // namespace

std::vector<RodMoment> heat_rod(const CoupledRod& rod, int cells, double update, double until) {
  Marching march(rod, cells);
  std::vector<RodMoment> history;
  for (double t = 0.0; t < until; t += update) {
    march.solve_field();
    history.push_back(march.moment(t));
    march.advance(update);
  }
  history.push_back(march.moment(until));
  return history;
}

}  // namespace cw::reference
