#include "solver/coupled/heating_rest.hpp"

#include <Eigen/QR>
#include <algorithm>
#include <deque>
#include <numeric>
#include <utility>

#include "solver/thermal/steady.hpp"

namespace cw {

namespace {

constexpr double rest_band = 0.3;  ///< [K]
constexpr std::size_t remembered = 5;
/// Rounds after which the mixing has converged if it ever does. If not, power is discontinuous, if
/// only by the power of one triangle that loses its magnetism.
constexpr int most_mixed = 12;
/// Powers of the last rounds that differ by the factor `jump`, while temperatures are still
/// `far_from_image`, show the same earlier.
constexpr int before_judging = 6;
constexpr double jump = 1.3, far_from_image = 20.0;  ///< [K]
/// Rounds of the mean of jumping loads. It is found once its reading has stayed within a kelvin for
/// some rounds.
constexpr int most_averaged = 60;
constexpr std::size_t steady_for = 10;
constexpr double close_together = 1.0;  ///< [K]
/// Share of the step to the image that a round takes: smaller when the power is steep, so that the
/// first rounds, which have no history to use, do not jump across the Curie point.
constexpr double share = 0.5;
constexpr double longest_jump = 60.0;  ///< largest change of a temperature in a round [K]

/// Guesses, and the difference from each to its image.
class Mixer {
 public:
  Eigen::VectorXd next(const Eigen::VectorXd& x, const Eigen::VectorXd& missing) {
    Eigen::VectorXd step = share * missing;
    if (!x_.empty()) {
      const auto n = static_cast<Eigen::Index>(x_.size());
      Eigen::MatrixXd dx(x.size(), n), df(x.size(), n);
      for (Eigen::Index k = 0; k < n; ++k) {
        dx.col(k) = x - x_[k];
        df.col(k) = missing - missing_[k];
      }
      const Eigen::VectorXd mix = df.colPivHouseholderQr().solve(missing);
      step -= (dx + share * df) * mix;
    }
    const double largest = step.cwiseAbs().maxCoeff();
    if (largest > longest_jump) step *= longest_jump / largest;
    x_.push_back(x);
    missing_.push_back(missing);
    if (x_.size() > remembered) {
      x_.pop_front();
      missing_.pop_front();
    }
    return x + step;
  }

 private:
  std::deque<Eigen::VectorXd> x_, missing_;
};

/// The last few of a series of values.
template <class Value>
void push(std::deque<Value>& last, const Value& value, std::size_t most) {
  last.push_back(value);
  if (last.size() > most) last.pop_front();
}

template <class Value>
Value spread(const std::deque<Value>& values) {
  const auto [low, high] = std::ranges::minmax(values);
  return high - low;
}

bool jumps(const std::deque<Eigen::VectorXd>& loads) {
  const auto [least, most] = std::ranges::minmax(loads, {}, [](const auto& l) { return l.sum(); });
  return most.sum() > jump * least.sum();
}

bool any_melts(const ThermalModel& model, const Eigen::VectorXd& kelvin) {
  const ThermalMesh& mesh = model.mesh();
  return std::any_of(mesh.elements.begin(), mesh.elements.end(), [&](const auto& e) {
    const auto& melting = mesh.body[e.body].material.melting;
    return melting && kelvin[e.unknown[6]] > melting->solidus.kelvin;
  });
}

/// The balance if power is discontinuous. A skin stays at its Curie point because above it takes
/// less power than it loses, and below it takes more; the mean in time of both holds it there. Each
/// round takes the temperatures that the mean load so far would sustain, and adds the load at these
/// temperatures to the mean. This converges ever more slowly (W. R. Mann, Proc. AMS 4 (1953) 506,
/// from memory); the mean of those temperatures, with more weight on late ones, converges sooner.
void average_out(HeatedCoil& coil, const ThermalModel& model, const ProbeSite& site,
                 Eigen::VectorXd load, HeatingRest& rest) {
  constexpr double earlier = 4.0;  ///< number of rounds as which the initial load counts
  Eigen::VectorXd kelvin = rest.kelvin;
  double weight = 0.0;
  std::deque<double> readings;
  for (int k = 1; k <= most_averaged; ++k) {
    kelvin = steady_heat(model, load, {std::max(kelvin.mean(), 300.0)}).kelvin;
    weight += k;
    rest.kelvin += (k / weight) * (kelvin - rest.kelvin);
    rest.melts = any_melts(model, rest.kelvin);
    push(readings, site.read(rest.kelvin), steady_for);
    rest.change = spread(readings);
    rest.settled = readings.size() == steady_for && rest.change < close_together;
    if (rest.melts || rest.settled) return;
    const HeaterPoint point = coil.solve(kelvin);
    ++rest.fields;
    if (point.stopped || !(point.work_W > 0)) return;
    load += (point.load - load) / (k + earlier);
  }
}

}  // namespace

HeatingRest find_rest(HeatedCoil& coil, const ThermalModel& model, const HeatingPlan& plan,
                      Eigen::VectorXd kelvin) {
  const ProbeSite site(model, plan.target_probe());
  HeatingRest rest;
  rest.kelvin = std::move(kelvin);
  Mixer mixer;
  std::deque<Eigen::VectorXd> loads;
  for (;;) {
    const HeaterPoint point = coil.solve(rest.kelvin);
    ++rest.fields;
    if (point.stopped || !(point.work_W > 0)) return rest;
    push(loads, point.load, remembered);
    const SteadyHeat steady = steady_heat(model, point.load, {std::max(rest.kelvin.mean(), 300.0)});
    const Eigen::VectorXd missing = steady.kelvin - rest.kelvin;
    rest.change = missing.cwiseAbs().maxCoeff();
    rest.settled = rest.change < rest_band;
    rest.kelvin = rest.settled ? steady.kelvin : mixer.next(rest.kelvin, missing);
    rest.melts = any_melts(model, rest.kelvin);
    if (rest.settled || rest.melts) break;
    const bool leaps =
        rest.fields >= before_judging && rest.change > far_from_image && jumps(loads);
    if (leaps || rest.fields >= most_mixed) {
      const Eigen::VectorXd all = std::accumulate(loads.begin(), loads.end(),
                                                  Eigen::VectorXd::Zero(point.load.size()).eval());
      average_out(coil, model, site, all / static_cast<double>(loads.size()), rest);
      break;
    }
  }
  rest.reading = site.read(rest.kelvin);
  return rest;
}

}  // namespace cw
