#include "solver/coupled/heating_rest.hpp"

#include <Eigen/QR>
#include <algorithm>
#include <deque>
#include <numeric>
#include <optional>

#include "solver/thermal/steady.hpp"

namespace cw {

namespace {

constexpr int most_rounds = 30;
constexpr double rest_band = 0.3;  ///< [K]
/// Steel at its Curie point changes from magnetic to not bit by bit, and back at other
/// temperatures: the balance then wanders within a few kelvin for good. So many readings as close
/// together as this are as good as one.
constexpr std::size_t wandering = 8;
constexpr double close_together = 4.0;  ///< [K]
constexpr std::size_t remembered = 5;
/// Share of the way to the image that a round goes: less when the power is steep, so that the first
/// rounds, with nothing to learn from, do not jump across the Curie point.
constexpr double share = 0.5;
constexpr double longest_jump = 60.0;  ///< of any temperature in a round [K]

/// Guesses and what is missing from each to its image.
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

/// The mean of the last readings, once they lie close together [K].
std::optional<double> wanders_about(const std::deque<double>& readings) {
  if (readings.size() < wandering) return std::nullopt;
  const auto [low, high] = std::minmax_element(readings.begin(), readings.end());
  if (*high - *low > close_together) return std::nullopt;
  return std::accumulate(readings.begin(), readings.end(), 0.0) / wandering;
}

bool any_melts(const ThermalModel& model, const Eigen::VectorXd& kelvin) {
  const ThermalMesh& mesh = model.mesh();
  return std::any_of(mesh.elements.begin(), mesh.elements.end(), [&](const auto& e) {
    const auto& melting = mesh.body[e.body].material.melting;
    return melting && kelvin[e.unknown[6]] > melting->solidus.kelvin;
  });
}

}  // namespace

HeatingRest find_rest(HeatedCoil& coil, const ThermalModel& model, const HeatingPlan& plan,
                      Eigen::VectorXd kelvin) {
  const ProbeSite site(model, plan.target_probe());
  HeatingRest rest;
  rest.kelvin = std::move(kelvin);
  Mixer mixer;
  std::deque<double> readings;
  while (rest.fields < most_rounds) {
    const HeaterPoint point = coil.solve(rest.kelvin);
    ++rest.fields;
    if (point.stopped || !(point.work_W > 0)) return rest;
    const SteadyHeat steady = steady_heat(model, point.load, {std::max(rest.kelvin.mean(), 300.0)});
    const Eigen::VectorXd missing = steady.kelvin - rest.kelvin;
    rest.change = missing.cwiseAbs().maxCoeff();
    rest.settled = rest.change < rest_band;
    rest.kelvin = rest.settled ? steady.kelvin : mixer.next(rest.kelvin, missing);
    rest.melts = any_melts(model, rest.kelvin);
    if (rest.settled || rest.melts) break;
    readings.push_back(site.read(rest.kelvin));
    if (readings.size() > wandering) readings.pop_front();
    if (const auto about = wanders_about(readings)) {
      rest.settled = true;
      rest.reading = *about;
      return rest;
    }
  }
  rest.reading = site.read(rest.kelvin);
  return rest;
}

}  // namespace cw
