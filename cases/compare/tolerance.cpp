#include "cases/compare/tolerance.hpp"

#include <algorithm>
#include <cmath>
#include <random>

#include "cases/run/run_case.hpp"

namespace cw::cases {

namespace {

constexpr std::size_t parts = tolerance_parts;
constexpr double lower_share = 0.05, upper_share = 0.95;

/// The case of the study: without limit, work at the state's temperature.
Case prepared(const Case& subject, const ToleranceState& state) {
  Case changed = subject;
  supply_of(changed.drive)->supply_limit.reset();
  if (changed.workpiece) changed.workpiece->temperature = state.work;
  changed.commissioning = {};
  return changed;
}

Case deviated(const Case& subject, const Deviation& x) {
  const Tolerance& t = subject.tolerance;
  Case changed = with_wider_gap(
      with_other_steel(subject, std::pow(t.permeability, -x[2]), 1 + t.resistivity * x[3]),
      t.gap * x[1]);
  changed.tank->capacitance *= 1 + t.capacitance * x[0];
  return changed;
}

/// Parts that have any effect.
std::vector<std::size_t> moving(const Case& subject, const ToleranceState& state) {
  const Tolerance& t = subject.tolerance;
  std::vector<std::size_t> all;
  if (t.capacitance > 0) all.push_back(0);
  if (t.gap > 0) all.push_back(1);
  const auto& magnetic =
      subject.workpiece ? subject.workpiece->material.magnetisation : std::nullopt;
  if (magnetic && state.work < magnetic->curie && t.permeability > 1) all.push_back(2);
  if (subject.workpiece && t.resistivity > 0) all.push_back(3);
  return all;
}

/// Solves variants of one case, each starting from the nominal one.
class Solver {
 public:
  Solver(const Case& subject, const ToleranceState& state) : subject_(prepared(subject, state)) {}

  Outcomes operator()(const Deviation& x) {
    const Case changed = deviated(subject_, x);
    const PowerUp power = power_up(changed, std::nullopt, start_, Effort::fast);
    ++solves_;
    if (!power.point.coil)
      throw SolveError("at the ends of the tolerances the tank no longer oscillates");
    if (!start_) start_ = power.point.tank.coil;
    const TankPoint& at = power.point.tank.shown();
    const LoadedCoil& coil = *power.point.coil;
    return {at.frequency.hertz, at.supply_current_A,
            at.coil_current_rms_A * at.coil_current_rms_A * coil.reflected_resistance};
  }
  [[nodiscard]] int solves() const { return solves_; }

 private:
  const Case subject_;
  std::optional<LocalCoil> start_;
  int solves_ = 0;
};

/// A complete second-order polynomial in the deviations.
struct Square {
  double constant = 0.0;
  Deviation slope = {}, bend = {};
  std::array<Deviation, parts> pair = {};

  [[nodiscard]] double operator()(const Deviation& x) const {
    double sum = constant;
    for (std::size_t i = 0; i < parts; ++i) {
      sum += slope[i] * x[i] + bend[i] * x[i] * x[i];
      for (std::size_t j = 0; j < i; ++j) sum += pair[i][j] * x[i] * x[j];
    }
    return sum;
  }
};

using Squares = std::array<Square, outcome_count>;

Deviation at(std::size_t i, double x) {
  Deviation d = {};
  d[i] = x;
  return d;
}

Squares fit(Solver& solver, const std::vector<std::size_t>& of,
            const std::function<void(int, int)>& progress) {
  const auto total = static_cast<int>(1 + 2 * of.size() + of.size() * (of.size() - 1) / 2);
  const auto solve = [&](const Deviation& x) {
    if (progress) progress(solver.solves(), total);
    Outcomes logarithms = solver(x);
    for (double& v : logarithms) v = std::log(std::max(v, 1e-12));
    return logarithms;
  };
  Squares squares;
  const Outcomes middle = solve({});
  for (std::size_t q = 0; q < outcome_count; ++q) squares[q].constant = middle[q];
  for (const std::size_t i : of) {
    const Outcomes up = solve(at(i, 1)), down = solve(at(i, -1));
    for (std::size_t q = 0; q < outcome_count; ++q) {
      squares[q].slope[i] = (up[q] - down[q]) / 2;
      squares[q].bend[i] = (up[q] + down[q]) / 2 - middle[q];
    }
  }
  for (std::size_t a = 0; a < of.size(); ++a)
    for (std::size_t b = 0; b < a; ++b) {
      Deviation x = at(of[a], 1);
      x[of[b]] = 1;
      const Outcomes both = solve(x);
      for (std::size_t q = 0; q < outcome_count; ++q)
        squares[q].pair[of[a]][of[b]] = both[q] - squares[q](x);
    }
  return squares;
}

/// Random heaters, the same ones every time.
std::vector<Deviation> drawn(const std::vector<std::size_t>& of, int heaters) {
  std::mt19937 random(1);
  std::vector<Deviation> all(static_cast<std::size_t>(heaters), Deviation{});
  // Bits are converted to numbers here: the library's distributions differ between compilers.
  for (Deviation& x : all)
    for (const std::size_t i : of) x[i] = 2.0 * static_cast<double>(random()) / 4294967295.0 - 1.0;
  return all;
}

OutcomeBand band_of(std::vector<double> values, double nominal) {
  std::ranges::sort(values);
  const auto place = [&](double share) {
    const double at = share * static_cast<double>(values.size() - 1);
    const auto low = static_cast<std::size_t>(at);
    const double rest = at - static_cast<double>(low);
    return values[low] + rest * (values[std::min(low + 1, values.size() - 1)] - values[low]);
  };
  OutcomeBand band;
  band.nominal = nominal;
  band.low = place(lower_share);
  band.high = place(upper_share);
  return band;
}

OutcomeBand band_of(const Square& square, const std::vector<std::size_t>& of) {
  constexpr int heaters = 20000;
  std::vector<double> values;
  values.reserve(heaters);
  for (const Deviation& x : drawn(of, heaters)) values.push_back(std::exp(square(x)));
  OutcomeBand band = band_of(std::move(values), std::exp(square.constant));
  for (const std::size_t i : of) {
    band.by_part[i] = square.slope[i];
    if (std::abs(square.slope[i]) > std::abs(band.by_part[band.largest])) band.largest = i;
  }
  return band;
}

/// Seconds of the whole heating run; empty if it does not reach the target in three times the time
/// allowed.
std::optional<double> time_to_target(const Case& subject) {
  Case longer = subject;
  if (longer.heat->until) *longer.heat->until *= 3;
  RunOptions options;
  options.effort = Effort::fast;
  const Run run = run_case(longer, options);
  const auto& heat = run.result.heat;
  return heat && heat->reached ? heat->time_to_target : std::nullopt;
}

}  // namespace

std::vector<ToleranceState> tolerance_states(const Case& subject) {
  if (!subject.workpiece) return {{"empty", Temperature::celsius(20.0)}};
  std::vector<ToleranceState> states{{"cold", subject.workpiece->temperature}};
  if (subject.heat && subject.heat->target) states.push_back({"at_target", *subject.heat->target});
  return states;
}

ToleranceBands tolerance_bands(const Case& subject, const ToleranceState& state,
                               const std::function<void(int, int)>& progress) {
  Solver solver(subject, state);
  const std::vector<std::size_t> of = moving(subject, state);
  const Squares squares = fit(solver, of, progress);
  ToleranceBands bands;
  bands.state = state.name;
  bands.solves = solver.solves();
  for (std::size_t q = 0; q < outcome_count; ++q) bands.of[q] = band_of(squares[q], of);
  return bands;
}

TimeBand time_band(const Case& subject, const std::function<void(int, int)>& progress) {
  const std::vector<std::size_t> of = moving(subject, tolerance_states(subject).front());
  const auto total = static_cast<int>(2 + 2 * of.size());
  TimeBand time;
  const auto run = [&](const Case& variant, const std::string& name) {
    if (progress) progress(time.runs, total);
    ++time.runs;
    const auto seconds = time_to_target(variant);
    if (!seconds) time.not_reached.push_back(name);
    return std::log(seconds.value_or(1.0));
  };
  const double written = run(subject, "as written");
  if (!time.not_reached.empty()) return time;
  Square square;
  square.constant = written;
  const double middle = run(deviated(subject, {}), "without sleeves");
  for (const std::size_t i : of) {
    const std::string name = tolerance_words[i];
    const double up = run(deviated(subject, at(i, 1)), name + " at its upper end"),
                 down = run(deviated(subject, at(i, -1)), name + " at its lower end");
    square.slope[i] = (up - down) / 2;
    square.bend[i] = (up + down) / 2 - middle;
  }
  if (time.not_reached.empty()) time.band = band_of(square, of);
  return time;
}

ToleranceBands solved_bands(const Case& subject, const ToleranceState& state, int heaters) {
  Solver solver(subject, state);
  const Outcomes nominal = solver({});
  std::array<std::vector<double>, outcome_count> values;
  for (const Deviation& x : drawn(moving(subject, state), heaters)) {
    const Outcomes solved = solver(x);
    for (std::size_t q = 0; q < outcome_count; ++q) values[q].push_back(solved[q]);
  }
  ToleranceBands bands;
  bands.state = state.name;
  bands.solves = solver.solves();
  for (std::size_t q = 0; q < outcome_count; ++q) bands.of[q] = band_of(values[q], nominal[q]);
  return bands;
}

}  // namespace cw::cases
