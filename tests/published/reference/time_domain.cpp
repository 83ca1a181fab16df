#include "tests/published/reference/time_domain.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <vector>

namespace cw::reference {

namespace {

constexpr double kVacuum = 4e-7 * kPi;

/// Nodes from the surface inwards, half-way faces between; conductance of the gaps and volume of
/// the cells, per surface.
struct Line {
  std::vector<double> gap;     ///< (face area)/(distance) between nodes i and i + 1 [1/m]
  std::vector<double> volume;  ///< of the cell round node i [m]
  std::vector<double> area;    ///< of that face over the surface
};

/// How deep the field reaches: linear skin depth at both ends of the curve, or the depth reached by
/// a full reversal of the flux.
double reach(const TimeDomainBody& body, double omega, double peak) {
  const double secant = body.metal.flux(peak) / peak;
  return 3.0 * std::sqrt(2 * body.resistivity / (omega * secant));
}

Line make_line(const TimeDomainBody& body, double uniform, int cells) {
  std::vector<double> x{0.0};
  const double step = std::min(uniform, body.depth) / cells;
  while (x.back() < body.depth * (1 - 1e-12)) {
    const double growth = x.back() < uniform ? 1.0 : 1.0 + 0.05 * (x.back() - uniform) / step;
    double next = x.back() + step * std::min(growth, 40.0);
    if (next > body.depth - 0.5 * step) next = body.depth;
    x.push_back(next);
  }
  const auto area = [&](double depth) { return body.cylinder ? 1.0 - depth / body.depth : 1.0; };
  // Integral of the area from the surface down.
  const auto inside = [&](double d) { return body.cylinder ? d - 0.5 * d * d / body.depth : d; };
  Line line;
  const std::size_t n = x.size();
  for (std::size_t i = 0; i < n; ++i) {
    const double low = i == 0 ? 0.0 : 0.5 * (x[i - 1] + x[i]);
    const double high = i + 1 == n ? body.depth : 0.5 * (x[i] + x[i + 1]);
    line.volume.push_back(inside(high) - inside(low));
    if (i + 1 == n) break;
    line.area.push_back(area(high));
    line.gap.push_back(area(high) / (x[i + 1] - x[i]));
  }
  return line;
}

class Stepper {
 public:
  Stepper(const TimeDomainBody& body, double hertz, double peak, const TimeDomainGrid& grid)
      : body_(body),
        line_(make_line(body, reach(body, 2 * kPi * hertz, peak), grid.cells)),
        dt_(1.0 / hertz / grid.steps),
        peak_(peak),
        h_(line_.volume.size(), 0.0),
        b_(h_.size(), 0.0),
        before_(h_.size(), 0.0) {}

  /// One step to the surface field `surface`; backward differences of order two.
  void advance(double surface) {
    std::vector<double> old = b_;
    h_[0] = surface;
    for (int k = 0; k < 60; ++k)
      if (newton_step(old) < 1e-11 * peak_) break;
    for (std::size_t i = 0; i < h_.size(); ++i) b_[i] = flux(h_[i]);
    // Power in: flux of E H through the surface, E from the current of the first gap and cell.
    const double rate = (3 * b_[0] - 4 * old[0] + before_[0]) / (2 * dt_);
    electric_ = body_.resistivity * line_.gap[0] * (h_[0] - h_[1]) + line_.volume[0] * rate;
    before_ = std::move(old);
  }

  /// State of this and the step before.
  struct Memory {
    std::vector<double> now, before;
  };
  [[nodiscard]] Memory memory() const { return {b_, before_}; }
  /// Replaces the state by half its difference to the state half a period ago: a periodic state is
  /// odd from half to half. This removes at once the even part, which would take hundreds of
  /// periods to decay.
  void remove_even_part(const Memory& ago) {
    for (std::size_t i = 0; i < b_.size(); ++i) {
      b_[i] = 0.5 * (b_[i] - ago.now[i]);
      before_[i] = 0.5 * (before_[i] - ago.before[i]);
    }
  }

  [[nodiscard]] double electric() const { return electric_; }
  [[nodiscard]] double surface() const { return h_[0]; }
  [[nodiscard]] double heat() const {
    double sum = 0;
    for (std::size_t i = 0; i + 1 < h_.size(); ++i)
      sum += line_.gap[i] * (h_[i] - h_[i + 1]) * (h_[i] - h_[i + 1]);
    return body_.resistivity * sum;
  }

 private:
  [[nodiscard]] double flux(double h) const {
    return h < 0 ? -body_.metal.flux(-h) : body_.metal.flux(h);
  }

  /// Balance of cell i (> 0) at fields h: zero when the flux leaving matches dB/dt.
  void balance(const std::vector<double>& h, const std::vector<double>& old,
               std::vector<double>& g) const {
    for (std::size_t i = 1; i < h.size(); ++i) {
      const double rate = (3 * flux(h[i]) - 4 * old[i] + before_[i]) / (2 * dt_);
      g[i] = line_.volume[i] * rate / body_.resistivity - line_.gap[i - 1] * (h[i - 1] - h[i]) +
             (i + 1 < h.size() ? line_.gap[i] * (h[i] - h[i + 1]) : 0.0);
    }
  }

  /// Newton step on a convex problem (B rises with H), shortened until the balance along the step
  /// has fallen; returns the largest change.
  double newton_step(const std::vector<double>& old) {
    const std::size_t n = h_.size();
    std::vector<double> g(n, 0.0), diagonal(n), upper(n, 0.0), d(n, 0.0), trial(n), after(n, 0.0);
    balance(h_, old, g);
    for (std::size_t i = 1; i < n; ++i)
      diagonal[i] =
          1.5 * line_.volume[i] / (dt_ * body_.resistivity) * body_.metal.slope(std::abs(h_[i])) +
          line_.gap[i - 1] + (i + 1 < n ? line_.gap[i] : 0.0);
    for (std::size_t i = 1; i < n; ++i) {  // tridiagonal elimination, couplings -gap
      const double coupling = i > 1 ? -line_.gap[i - 1] : 0.0;
      const double pivot = diagonal[i] - coupling * (i > 1 ? upper[i - 1] : 0.0);
      upper[i] = i + 1 < n ? -line_.gap[i] / pivot : 0.0;
      d[i] = (-g[i] - coupling * d[i - 1]) / pivot;
    }
    for (std::size_t i = n - 1; i-- > 1;) d[i] -= upper[i] * d[i + 1];
    const auto along = [&](const std::vector<double>& v) {
      double sum = 0;
      for (std::size_t i = 1; i < n; ++i) sum += v[i] * d[i];
      return sum;
    };
    const double start = std::abs(along(g));
    double t = 1.0;
    for (int k = 0; k < 30; ++k, t *= 0.5) {
      for (std::size_t i = 0; i < n; ++i) trial[i] = h_[i] + t * d[i];
      balance(trial, old, after);
      if (std::abs(along(after)) <= 0.9 * start || start == 0.0) break;
    }
    h_ = trial;
    double largest = 0;
    for (const double x : d) largest = std::max(largest, std::abs(t * x));
    return largest;
  }

  const TimeDomainBody& body_;
  Line line_;
  double dt_, peak_;
  std::vector<double> h_, b_, before_;  ///< fields; flux density now and one step before
  double electric_ = 0;
};

}  // namespace

Saturation froehlich(double saturation, double half_field) {
  return {[=](double h) { return kVacuum * h + saturation * h / (h + half_field); },
          [=](double h) {
            return kVacuum + saturation * half_field / ((h + half_field) * (h + half_field));
          }};
}

PeriodicResponse periodic_response(const TimeDomainBody& body, double hertz, double peak_field,
                                   const TimeDomainGrid& grid) {
  Stepper stepper(body, hertz, peak_field, grid);
  const int half = grid.steps / 2;
  double previous = 0;
  for (int period = 1; period <= 400; ++period) {
    double power = 0, heat = 0;
    const Stepper::Memory ago = stepper.memory();
    Complex fundamental = 0;
    for (int k = 1; k <= half; ++k) {
      const double phase = kPi * (k + half * (period - 1)) / half;
      stepper.advance(peak_field * std::sin(phase));
      power += stepper.electric() * stepper.surface() / half;
      heat += stepper.heat() / half;
      // E = Im(E1 exp(j phase)): E1 = 2 j <E exp(-j phase)>.
      fundamental +=
          Complex{0, 2.0} * stepper.electric() * std::exp(Complex{0, -phase}) / double(half);
    }
    if (std::abs(power - previous) < 1e-5 * power)
      return {power, fundamental / peak_field, period, heat / power - 1};
    previous = power;
    stepper.remove_even_part(ago);
  }
  throw std::runtime_error("no periodic state after 400 half periods");
}

}  // namespace cw::reference
