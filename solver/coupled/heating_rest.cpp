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

/// The last few of a series of values.
template <class Value>
void push(std::deque<Value>& last, const Value& value, std::size_t most) {
  last.push_back(value);
  if (last.size() > most) last.pop_front();
}

/// The next guess from the last ones and what was missing from each to its image.
class Mixer {
 public:
  explicit Mixer(RestRounds& rounds) : rounds_(rounds) {}

  Eigen::VectorXd next(const Eigen::VectorXd& x, const Eigen::VectorXd& missing) {
    if (last_x_.size() > 0) {
      push<Eigen::VectorXd>(rounds_.change, x - last_x_, remembered);
      push<Eigen::VectorXd>(rounds_.response, missing - last_missing_, remembered);
    }
    last_x_ = x;
    last_missing_ = missing;
    Eigen::VectorXd step = share * missing;
    if (!rounds_.change.empty()) {
      const Eigen::MatrixXd dx = columns(rounds_.change), df = columns(rounds_.response);
      const Eigen::VectorXd mix = df.colPivHouseholderQr().solve(missing);
      step -= (dx + share * df) * mix;
    }
    const double largest = step.cwiseAbs().maxCoeff();
    if (largest > longest_jump) step *= longest_jump / largest;
    return x + step;
  }

 private:
  static Eigen::MatrixXd columns(const std::deque<Eigen::VectorXd>& vectors) {
    Eigen::MatrixXd all(vectors.front().size(), static_cast<Eigen::Index>(vectors.size()));
    for (std::size_t k = 0; k < vectors.size(); ++k)
      all.col(static_cast<Eigen::Index>(k)) = vectors[k];
    return all;
  }

  RestRounds& rounds_;
  Eigen::VectorXd last_x_, last_missing_;  ///< empty before the first round
};

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
    kelvin = steady_heat(model, load, kelvin).kelvin;
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
                      Eigen::VectorXd kelvin, RestRounds rounds) {
  const ProbeSite site(model, plan.target_probe());
  HeatingRest rest;
  rest.kelvin = std::move(kelvin);
  rest.rounds = std::move(rounds);
  Mixer mixer(rest.rounds);
  Eigen::VectorXd image = rest.kelvin;
  std::deque<Eigen::VectorXd> loads;
  for (;;) {
    const HeaterPoint point = coil.solve(rest.kelvin);
    ++rest.fields;
    if (point.stopped || !(point.work_W > 0)) return rest;
    push(loads, point.load, remembered);
    image = steady_heat(model, point.load, image).kelvin;
    const Eigen::VectorXd missing = image - rest.kelvin;
    rest.change = missing.cwiseAbs().maxCoeff();
    rest.settled = rest.change < rest_band;
    rest.kelvin = rest.settled ? image : mixer.next(rest.kelvin, missing);
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
