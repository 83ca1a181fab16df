#include "solver/limits/limits.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "materials/figures.hpp"
#include "solver/circuit/start_up.hpp"
#include "solver/heater/rings.hpp"

namespace cw {

namespace {

class LimitFinder {
 public:
  LimitFinder(const std::vector<CircuitState>& states, const Heater& heater)
      : states_(states),
        heater_(heater),
        circuit_(tank_circuit(heater)),
        can_(circuit_.tank.can_limits.value_or(CanLimits{})) {}

  std::vector<LimitResult> run() {
    capacitors();
    supply();
    switches();
    chokes();
    start_up();
    gate();
    fuse();
    copper();
    std::vector<LimitResult> sorted;
    merge_limits(sorted, std::move(found_));
    return sorted;
  }

 private:
  using Figure = std::function<double(const CircuitState&)>;

  /// The state in which `figure` is largest.
  const CircuitState& worst(const Figure& figure) const {
    return *std::max_element(
        states_.begin(), states_.end(),
        [&](const CircuitState& a, const CircuitState& b) { return figure(a) < figure(b); });
  }

  /// Adds the figure at its worst; `advice` is called only if the limit is near or exceeded.
  void add(std::string part, const char* quantity, std::optional<double> limit,
           const Figure& figure,
           const std::function<std::string(const CircuitState&, double)>& advice) {
    const CircuitState& state = worst(figure);
    LimitResult r;
    r.part = std::move(part);
    r.quantity = quantity;
    r.value = figure(state);
    r.limit = limit;
    r.at_state = state.name;
    if (limit) {
      r.fraction = r.value / *limit;
      r.verdict = verdict_of(*r.fraction);
    }
    if (limit && *r.fraction >= watch_from) r.advice = advice(state, r.value);
    found_.push_back(std::move(r));
  }

  void capacitors() {
    const auto point = [](const CircuitState& s) -> const TankPoint& { return s.tank->shown(); };
    const Tank& bank = circuit_.tank;
    if (bank.cans) {
      const auto judge = [&](const char* quantity, std::optional<double> limit,
                             double CanLoad::*value) {
        add(
            "capacitor can", quantity, limit,
            [=](const CircuitState& s) { return point(s).can.*value; },
            [=, this](const CircuitState&, double found) {
              return more_cans(found / *limit, watch_from);
            });
      };
      judge("current_rms_A", can_.current, &CanLoad::current_rms_A);
      judge("loss_W", can_.loss, &CanLoad::loss_W);
      judge("reactive_power_var", can_.reactive_power, &CanLoad::reactive_power_var);
      if (bank.strings() > 1)
        add(
            "capacitor can, if another opens", "current_rms_A", can_.current,
            [&](const CircuitState& s) {
              return s.tank->one_can_open ? s.tank->one_can_open->can.current_rms_A : 0.0;
            },
            [&](const CircuitState&, double value) {
              return more_cans(value / *can_.current, watch_from);
            });
    }
    std::optional<double> bank_voltage = can_.voltage;
    if (bank_voltage) *bank_voltage *= bank.cans_in_series;
    add(
        "capacitor bank", "voltage_rms_V", bank_voltage,
        [&](const CircuitState& s) { return point(s).voltage_rms_V; },
        [=](const CircuitState& s, double value) {
          return fmt::format("A supply of {} keeps it at {:.0f} % of its limit.",
                             figure(supply_at(s) * watch_from * *bank_voltage / value, "V"),
                             100 * watch_from);
        });
    add(
        "capacitor bank", "reactive_power_var", std::nullopt,
        [&](const CircuitState& s) { return point(s).reactive_power_var; }, none());
  }

  /// Advice for a bank of the same capacitance with more cans. `share` is a fraction of a limit
  /// that is inversely proportional to the number of cans; it is to fall to `wanted`.
  [[nodiscard]] std::string more_cans(double share, double wanted) const {
    Tank more = circuit_.tank;
    const int series = more.cans_in_series;
    more.cans = series * static_cast<int>(std::ceil(more.strings() * share / wanted));
    return fmt::format(
        "{} cans of {} each{} instead of {} share the same current at {:.0f} % of their limit.",
        *more.cans, figure(more.can_capacitance(), "F"),
        series > 1 ? fmt::format(", in strings of {},", series) : "", *circuit_.tank.cans,
        100 * watch_from);
  }

  static double supply_at(const CircuitState& s) { return s.tank->shown().supply_voltage_V; }

  void supply() {
    add(
        "supply", "demand_A", supply_.supply_limit,
        [](const CircuitState& s) { return s.tank->demand.supply_current_A; },
        [&](const CircuitState& s, double) { return less_demand(s); });
    // A supply that folds back continues at less power, which harms nothing.
    if (supply_.limit_kind == LimitKind::fold)
      found_.back().verdict = std::min(found_.back().verdict, Verdict::watch);
  }

  /// Advice: the capacitance, or else the voltage, that keeps the demand of this state under the
  /// limit. If it is under the limit already: so far under it that the verdict is ok. If the supply
  /// folds back, a smaller demand gains nothing.
  [[nodiscard]] std::string less_demand(const CircuitState& s) const {
    const double limit = *supply_.supply_limit;
    const bool passed = s.tank->demand.supply_current_A >= limit;
    if (passed && supply_.limit_kind == LimitKind::fold)
      return "The voltage folds back, and heating takes longer than with a larger supply.";
    const double aim = passed ? 0.95 : 0.95 * watch_from, wanted = aim * limit;
    const auto demand = [&](double c_share, double v_share) {
      TankCircuit changed = circuit_;
      changed.tank.capacitance *= c_share;
      supply_of(changed.drive)->supply *= v_share;
      const TankSolution t = solve_tank(changed, s.tank->coil);
      return t.no_ring ? 1e300 : t.demand.supply_current_A;
    };
    const auto share = [&](const std::function<double(double)>& at) {
      double low = 0.05, high = 1.0;
      for (int k = 0; k < 40; ++k) {
        const double middle = 0.5 * (low + high);
        (at(middle) > wanted ? high : low) = middle;
      }
      return low;
    };
    const double c = share([&](double x) { return demand(x, 1.0); }),
                 v = share([&](double x) { return demand(1.0, x); });
    if (!passed)
      return fmt::format(
          "{} instead of {}, or {} instead of {}, brings it to {:.0f} % of the limit.",
          figure(c * circuit_.tank.capacitance, "F"), figure(circuit_.tank.capacitance, "F"),
          figure(v * supply_.supply, "V"), figure(supply_.supply, "V"), 100 * aim);
    return fmt::format(
        "The supply stops; {} instead of {}, or {} instead of {}, brings the demand under the "
        "limit.",
        figure(c * circuit_.tank.capacitance, "F"), figure(circuit_.tank.capacitance, "F"),
        figure(v * supply_.supply, "V"), figure(supply_.supply, "V"));
  }

  void switches() {
    if (parts_.transistor == nullptr) return;
    const std::optional<double> rating = parts_.transistor->voltage_limit;
    add(
        "switch", "voltage_peak_V", rating,
        [](const CircuitState& s) { return s.tank->shown().switch_peak_V; },
        [&](const CircuitState& s, double value) {
          return fmt::format(
              "Parts rated {} or more, or a supply of {}, keep it at {:.0f} % of the rating.",
              figure(value / watch_from, "V"),
              figure(supply_at(s) * watch_from * *rating / value, "V"), 100 * watch_from);
        });
    add(
        std::string(parts_.all_switches), "conduction_loss_W", std::nullopt,
        [](const CircuitState& s) { return s.tank->shown().power.switches_W; }, none());
  }

  void chokes() {
    if (parts_.choke == nullptr) return;
    add(
        "feed choke", "current_peak_A", parts_.choke->saturation,
        [](const CircuitState& s) { return s.tank->shown().choke.peak_A; },
        [&](const CircuitState&, double value) {
          return fmt::format("A choke that saturates at {} or more holds it at {:.0f} % of that.",
                             figure(value / watch_from, "A"), 100 * watch_from);
        });
    add(
        "feed choke", "energy_J", std::nullopt,
        [](const CircuitState& s) { return s.tank->shown().choke.energy_J; }, none());
  }

  /// Loaded Q has a lower limit: the fraction is the least workable Q divided by the actual one.
  void start_up() {
    constexpr double least = 3.0;
    LimitResult r;
    const CircuitState& state =
        worst([](const CircuitState& s) { return 1 / s.tank->shown().loaded_q; });
    r.part = "start-up";
    r.quantity = "loaded_q";
    r.value = state.tank->shown().loaded_q;
    r.limit = least;
    r.fraction = least / r.value;
    r.at_state = state.name;
    const StartVerdict verdict = start_verdict(r.value);
    r.verdict = verdict == StartVerdict::fails      ? Verdict::stop
                : verdict == StartVerdict::doubtful ? Verdict::watch
                                                    : Verdict::ok;
    const LatchUp latch = ask(circuit_.drive, [](const auto& drive) { return latch_up(drive); });
    const std::string rise =
        std::isfinite(latch.rise_A_per_us) && latch.rise_A_per_us > 0
            ? fmt::format(
                  " If both switches stay on, the supply current rises by {} every microsecond.",
                  figure(latch.rise_A_per_us, "A"))
            : "";
    r.advice = (r.verdict == Verdict::ok
                    ? std::string("This limit is a minimum.")
                    : std::string("This limit is a minimum: more capacitance with fewer turns, or "
                                  "a larger gap, raises the value.")) +
               rise;
    found_.push_back(std::move(r));
  }

  /// Gate time as a share of the half period. Both switches dissipate most while they change over:
  /// watch above a tenth (common practice, no source), stop at the whole half period.
  void gate() {
    if (parts_.transistor == nullptr || !parts_.transistor->gate_time) return;
    constexpr double usual = 0.1;
    const auto share = [&](const CircuitState& s) {
      return gate_share(s.tank->shown().frequency, *parts_.transistor->gate_time);
    };
    const CircuitState& state = worst(share);
    LimitResult r;
    r.part = "switch";
    r.quantity = "gate_time_over_half_period";
    r.value = share(state);
    r.limit = usual;
    r.fraction = r.value / usual;
    r.at_state = state.name;
    r.verdict = r.value >= 1 ? Verdict::stop : r.value > usual ? Verdict::watch : Verdict::ok;
    if (r.verdict != Verdict::ok)
      r.advice = fmt::format("A gate drive that takes {} or less is fast enough for {}.",
                             figure(usual * state.tank->shown().half_period_s, "s"),
                             figure(state.tank->shown().frequency.hertz, "Hz"));
    found_.push_back(std::move(r));
  }

  /// The fuse in operation, and how soon the current reaches its rating when both switches stay on.
  void fuse() {
    if (!supply_.fuse) return;
    add(
        "fuse", "current_A", supply_.fuse,
        [](const CircuitState& s) { return s.tank->shown().supply_current_A; },
        [&](const CircuitState&, double value) {
          return fmt::format("One of {} or more carries it at {:.0f} % of its rating.",
                             figure(value / watch_from, "A"), 100 * watch_from);
        });
    const LatchUp latch = ask(circuit_.drive, [](const auto& drive) { return latch_up(drive); });
    LimitResult r;
    r.part = parts_.latched;
    r.at_state = states_.front().name;
    if (std::isfinite(latch.time_to_fuse_s)) {
      r.quantity = "time_to_fuse_s";
      r.value = latch.time_to_fuse_s;
      if (latch.time_to_saturation_s < latch.time_to_fuse_s)
        r.advice = fmt::format("The chokes saturate after {}; then the current rises faster.",
                               figure(latch.time_to_saturation_s, "s"));
    } else if (std::isfinite(latch.final_current_A)) {
      r.quantity = "current_A";
      r.value = latch.final_current_A;
      r.verdict = Verdict::watch;
      r.advice =
          fmt::format("The fuse of {} never opens: fit a smaller one.", figure(*supply_.fuse, "A"));
    } else {
      return;  // ideal chokes: the current does not rise
    }
    found_.push_back(std::move(r));
  }

  void copper() {
    const double gap = turn_gap(heater_.coil), perimeter = heater_.coil.conductor.perimeter();
    if (gap > 0)
      add(
          "gap between bare turns", "turn_voltage_peak_V",
          // 1 kV/mm, a rule of thumb of the trade with a factor of four to the breakdown of clean
          // dry air at 1 mm.
          1e6 * gap, [](const CircuitState& s) { return s.turn_voltage_peak; },
          [&](const CircuitState&, double value) {
            return fmt::format("{} mm between turns keep it at {:.0f} % of 1 kV/mm.",
                               figure(1e3 * value / 1e6 / watch_from), 100 * watch_from);
          });
    add(
        "coil", "loss_W", std::nullopt, [](const CircuitState& s) { return s.coil_loss; }, none());
    add(
        "leads", "loss_W", std::nullopt,
        [](const CircuitState& s) { return s.tank->shown().power.leads_W; }, none());
    add(
        "joints", "loss_W", std::nullopt,
        [](const CircuitState& s) { return s.tank->shown().power.joints_W; }, none());
    if (perimeter > 0)
      add(
          "coil and leads", "current_per_perimeter_A_per_m", std::nullopt,
          [&](const CircuitState& s) { return s.tank->shown().coil_current_rms_A / perimeter; },
          none());
  }

  static std::function<std::string(const CircuitState&, double)> none() {
    return [](const CircuitState&, double) { return std::string(); };
  }

  const std::vector<CircuitState>& states_;
  const Heater& heater_;
  const TankCircuit circuit_;
  const DriveParts parts_ = drive_parts(circuit_.drive);
  const DcSupply& supply_ = *parts_.supply;
  const CanLimits can_;
  std::vector<LimitResult> found_;
};

}  // namespace

Verdict verdict_of(double fraction) {
  return fraction >= 1 ? Verdict::stop : fraction >= watch_from ? Verdict::watch : Verdict::ok;
}

std::vector<LimitResult> find_limits(const std::vector<CircuitState>& states,
                                     const Heater& heater) {
  if (states.empty()) return {};
  return LimitFinder(states, heater).run();
}

void merge_limits(std::vector<LimitResult>& into, std::vector<LimitResult> further) {
  for (LimitResult& row : further) into.push_back(std::move(row));
  std::stable_sort(into.begin(), into.end(), [](const LimitResult& a, const LimitResult& b) {
    return a.fraction.value_or(-1) > b.fraction.value_or(-1);
  });
}

}  // namespace cw
