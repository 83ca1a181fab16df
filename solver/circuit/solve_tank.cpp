#include "solver/circuit/solve_tank.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <utility>
#include <variant>

namespace cw {
namespace {

/// Coil current [A] and frequency that satisfy the tank with a model of the coil, or why there are
/// none.
using ModelPoint = std::variant<CoilPoint, NoRing>;

/// The operating point with the coil's values at `current` [A].
ModelPoint point_at(const TankCircuit& circuit, const LocalCoil& coil, const SupplyCondition& held,
                    double current) {
  const auto curve = [&](Frequency f) { return coil({f, current}); };
  const auto found = zero_reactance(circuit, curve, coil.at.frequency);
  if (const auto* none = std::get_if<NoRing>(&found)) return *none;
  const Frequency f = std::get<Frequency>(found);
  return CoilPoint{f, tank_point(circuit, curve(f), f, held).coil_current_rms_A};
}

/// Fixed point of point_at() in ln I, by the secant method.
ModelPoint solve_model(const TankCircuit& circuit, const LocalCoil& coil,
                       const SupplyCondition& held) {
  double x = std::log(coil.at.current_rms_A);
  double before = 0.0, gap_before = 0.0;
  ModelPoint answer;
  for (int i = 0; i < 60; ++i) {
    answer = point_at(circuit, coil, held, std::exp(x));
    const auto* point = std::get_if<CoilPoint>(&answer);
    if (!point) return answer;
    const double gap = std::log(point->current_rms_A) - x;
    if (std::abs(gap) < 1e-13) return answer;
    double step = gap;
    if (i > 0 && gap != gap_before) step = -gap * (x - before) / (gap - gap_before);
    before = x;
    gap_before = gap;
    x += std::clamp(step, -1.0, 1.0);
    if (x == before) return answer;
  }
  return answer;
}

void require_usable(const CoilImpedance& coil, const CoilPoint& at) {
  const bool usable = std::isfinite(coil.resistance_ohm) && coil.resistance_ohm > 0.0 &&
                      std::isfinite(coil.inductance_H) && coil.inductance_H > 0.0 &&
                      coil.lead_resistance_ohm >= 0.0 &&
                      coil.lead_resistance_ohm <= coil.resistance_ohm;
  if (usable) return;
  throw std::invalid_argument(
      fmt::format("loaded coil at {:.6g} Hz and {:.6g} A rms has R = {:.6g} ohm, of it {:.6g} in "
                  "the leads, and L = {:.6g} H; R and L must be positive and the leads' share "
                  "within R: check the coil's dimensions and conductor",
                  at.frequency.hertz, at.current_rms_A, coil.resistance_ohm,
                  coil.lead_resistance_ohm, coil.inductance_H));
}

/// The local model of the coil, and its updates while the tank is solved.
class CoilInquiry {
 public:
  CoilInquiry(const CoilModel& model, const TankOptions& options)
      : model_(model), options_(options) {
    local_ = options.start.value_or(LocalCoil{.at = {{1e5}, 100.0}});
    // Exponents of a body that saturated in an earlier state are no longer valid. They would never
    // be corrected if the coil is not solved at other currents.
    if (!options.current_matters) local_.resistance_by_current = local_.inductance_by_current = 0.0;
    local_.value = evaluate(local_.at);
  }

  /// Solves coil and tank together; not converged if no call of the coil is left.
  ModelPoint solve(const TankCircuit& circuit, const SupplyCondition& held) {
    while (true) {
      const ModelPoint next = solve_model(circuit, local_, held);
      const CoilPoint at = target(next);
      if (distance(at, local_.at) <= options_.tolerance) return next;
      if (evaluations_ >= options_.max_evaluations) {
        converged_ = false;
        return next;
      }
      local_ = secant_update(local_, at, evaluate(at));
    }
  }

  [[nodiscard]] const LocalCoil& local() const { return local_; }
  [[nodiscard]] int evaluations() const { return evaluations_; }
  [[nodiscard]] bool converged() const { return converged_; }

 private:
  CoilImpedance evaluate(const CoilPoint& at) {
    ++evaluations_;
    const CoilImpedance found = model_(at);
    require_usable(found, at);
    return found;
  }

  /// The next point to solve: the answer, or, for a tank that will not ring, the point where it
  /// would ring without losses, so that this verdict follows from the coil at that point. At most a
  /// factor of three per step.
  [[nodiscard]] CoilPoint target(const ModelPoint& next) const {
    const auto near = [](double value, double here) {
      return std::clamp(value, here / 3.0, here * 3.0);
    };
    CoilPoint to = local_.at;
    if (const auto* point = std::get_if<CoilPoint>(&next)) {
      to.frequency = {near(point->frequency.hertz, to.frequency.hertz)};
      if (options_.current_matters) to.current_rms_A = near(point->current_rms_A, to.current_rms_A);
    } else {
      to.frequency = {near(std::get<NoRing>(next).undamped.hertz, to.frequency.hertz)};
    }
    return to;
  }

  const CoilModel& model_;
  TankOptions options_;
  LocalCoil local_;
  int evaluations_ = 0;
  bool converged_ = true;
};

TankPoint state_at(const TankCircuit& circuit, const LocalCoil& coil, const CoilPoint& at,
                   const SupplyCondition& held) {
  return tank_point(circuit, coil(at), at.frequency, held);
}

std::optional<TankPoint> with_one_can_open(const TankCircuit& circuit, const LocalCoil& coil,
                                           const SupplyCondition& held) {
  if (circuit.tank.strings() < 2) return std::nullopt;
  TankCircuit open = circuit;
  open.tank = one_can_open(circuit.tank);
  const ModelPoint found = solve_model(open, coil, held);
  const auto* at = std::get_if<CoilPoint>(&found);
  if (!at) return std::nullopt;
  return state_at(open, coil, *at, held);
}

}  // namespace

const TankPoint& TankSolution::shown() const {
  const bool stopped = action == SupplyAction::tripped || action == SupplyAction::hiccups;
  return stopped ? demand : running;
}

CoilPoint unloaded_point(const TankCircuit& circuit, double inductance) {
  const double l = inductance, c = circuit.tank.capacitance;
  const double peak = ask(circuit.drive, [](const auto& d) { return d.peak_over_supply; });
  return {{1 / (2 * std::numbers::pi * std::sqrt(l * c))},
          peak / std::sqrt(2.0) * supply_of(circuit.drive)->supply * std::sqrt(c / l)};
}

TankSolution solve_tank(const TankCircuit& circuit, const CoilModel& coil,
                        const TankOptions& options) {
  require_usable(circuit.tank);
  ask(circuit.drive, [](const auto& drive) { require_usable(drive); });
  const DcSupply& supply = *supply_of(circuit.drive);
  CoilInquiry inquiry(coil, options);
  TankSolution s;
  SupplyCondition held;
  ModelPoint found = inquiry.solve(circuit, held);
  if (const auto* at = std::get_if<CoilPoint>(&found)) {
    s.demand = s.running = state_at(circuit, inquiry.local(), *at, held);
    s.action = act(supply, s.demand.supply_current_A);
    if (s.action == SupplyAction::folded) {
      held = {.fixed_current = true, .current_A = *supply.supply_limit};
      found = inquiry.solve(circuit, held);
    }
  }
  if (const auto* at = std::get_if<CoilPoint>(&found)) {
    s.running = state_at(circuit, inquiry.local(), *at, held);
    s.one_can_open = with_one_can_open(circuit, inquiry.local(), held);
  } else {
    s.no_ring = std::get<NoRing>(found);
  }
  const bool stopped =
      s.action == SupplyAction::tripped || s.action == SupplyAction::hiccups || s.no_ring;
  if (stopped) s.running = {};
  s.coil = inquiry.local();
  s.evaluations = inquiry.evaluations();
  s.converged = inquiry.converged();
  return s;
}

TankSolution solve_tank(const TankCircuit& circuit, const LinearCoilModel& coil,
                        const TankOptions& options) {
  TankOptions linear = options;
  linear.current_matters = false;
  return solve_tank(circuit, CoilModel([&coil](const CoilPoint& at) { return coil(at.frequency); }),
                    linear);
}

TankSolution solve_tank(const TankCircuit& circuit, const LocalCoil& coil) {
  TankSolution s = solve_tank(circuit, CoilModel([&coil](const CoilPoint& at) { return coil(at); }),
                              {.start = coil});
  s.coil = coil;
  s.evaluations = 0;
  return s;
}

}  // namespace cw
