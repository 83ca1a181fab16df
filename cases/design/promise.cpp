#include "cases/design/promise.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "cases/design/work_row.hpp"
#include "solver/limits/limits.hpp"

namespace cw::cases {

namespace {

/// Weight of each of the temperatures at which the work was solved, at this one [K].
std::vector<double> warmth_at(double kelvin, const std::vector<WorkAt>& levels) {
  std::vector<double> share(levels.size(), 0.0);
  std::size_t k = 0;
  while (k + 1 < levels.size() && levels[k + 1].temperature.kelvin < kelvin) ++k;
  const double low = levels[k].temperature.kelvin;
  if (k + 1 == levels.size() || kelvin <= low) {
    share[k] = 1.0;
    return share;
  }
  share[k + 1] = (kelvin - low) / (levels[k + 1].temperature.kelvin - low);
  share[k] = 1.0 - share[k + 1];
  return share;
}

/// One heating on models alone.
class Course {
 public:
  Course(const WorkRow& row, const TankCircuit& circuit, const Coil& coil, const CoilKernel& kernel,
         const WorkReference& reference)
      : row_(row),
        circuit_(circuit),
        coil_(coil),
        kernel_(kernel),
        reference_(reference),
        point_(unloaded_point(circuit, kernel.empty_inductance)),
        now_(row) {}

  Promise run(double shift, double longest) {
    weights_ = row_.field_shares(coil_, shift);
    keep_empty();
    double time = 0.0;
    while (time < longest) {
      if (now_.moved_since(solved_at_) > worth_solving && !solve()) break;
      time += now_.step(power_, longest / 100);
      promise_.end = {now_.reading(power_)};
      if (promise_.end.kelvin < row_.target) continue;
      promise_.time = time;
      break;
    }
    if (promise_.rings) kept_.push_back(tank_);
    judge();
    return promise_;
  }

 private:
  static constexpr double worth_solving = 15.0;  ///< change of temperature [K]

  void keep_empty() {
    const auto empty = [&](const CoilPoint& p) {
      const double by_skin = std::sqrt(p.frequency.hertz / kernel_.near.hertz);
      return CoilImpedance{kernel_.empty_resistance * by_skin, kernel_.empty_inductance,
                           kernel_.lead_share * kernel_.empty_resistance * by_skin};
    };
    kept_.push_back(tank_on(circuit_, empty, point_));
  }

  /// The tank with the work as warm as it is now. False where it does not ring, or the supply
  /// switches off.
  bool solve() {
    std::vector<double> warmth(reference_.at.size(), 0.0);
    std::vector<std::vector<double>> own;
    for (std::size_t i = 0; i < weights_.size(); ++i) {
      own.push_back(warmth_at(now_.kelvin()[i], reference_.at));
      for (std::size_t k = 0; k < warmth.size(); ++k) warmth[k] += weights_[i] * own[i][k];
    }
    const auto loaded = [&](const CoilPoint& p) {
      return coil_by_reference(kernel_, reference_, warmth, p);
    };
    const bool first = solved_at_.empty();
    tank_ = tank_on(circuit_, loaded, point_);
    if (tank_.no_ring || tank_.running.coil_current_rms_A <= 0.0) {
      promise_.rings = false;
      return false;
    }
    const TankPoint& at = tank_.running;
    point_ = {at.frequency, at.coil_current_rms_A};
    share_power(own, point_.current_rms_A * point_.current_rms_A *
                         work_by_reference(kernel_, reference_, warmth, point_));
    if (first || at.power.total_W > promise_.supply_power) keep_hardest();
    promise_.supply_power = std::max(promise_.supply_power, at.power.total_W);
    promise_.supply_current = std::max(promise_.supply_current, at.supply_current_A);
    solved_at_ = now_.kelvin();
    return true;
  }

  /// The empty coil, the cold work, and where most is drawn.
  void keep_hardest() {
    constexpr std::size_t first_two = 2;
    if (kept_.size() > first_two) kept_.resize(first_two);
    kept_.push_back(tank_);
  }

  void share_power(const std::vector<std::vector<double>>& own, double total) {
    power_.assign(weights_.size(), 0.0);
    double sum = 0.0;
    for (std::size_t i = 0; i < weights_.size(); ++i) {
      power_[i] = weights_[i] * work_by_reference(kernel_, reference_, own[i], point_);
      sum += power_[i];
    }
    for (double& p : power_) p *= total / sum;
  }

  void judge() {
    Heater heater = row_.heater;
    heater.coil = coil_;
    heater.tank = circuit_.tank;
    heater.drive = std::visit([](const auto& drive) { return Drive(drive); }, circuit_.drive);
    std::vector<CircuitState> states;
    for (const TankSolution& k : kept_) {
      if (k.no_ring) continue;
      const double current = k.shown().coil_current_rms_A;
      states.push_back(
          {"", &k, current * current * kernel_.copper.at(k.shown().frequency, kernel_.near), 0.0});
    }
    if (states.empty()) return;
    for (const LimitResult& limit : find_limits(states, heater))
      if (const double share = counted_share(limit); share > 0.0)
        promise_.shares[limit_key(limit)] = share;
  }

  const WorkRow& row_;
  const TankCircuit& circuit_;
  const Coil& coil_;
  const CoilKernel& kernel_;
  const WorkReference& reference_;
  CoilPoint point_;
  WarmRow now_;
  Promise promise_;
  TankSolution tank_;
  std::vector<TankSolution> kept_;
  std::vector<double> weights_, power_, solved_at_;
};

}  // namespace

std::string limit_key(const LimitResult& limit) {
  return limit.part + ", " + limit.quantity;
}

double counted_share(const LimitResult& limit) {
  // A supply at its limit that goes on, at less power, harms nothing.
  const bool harmless = limit.quantity == "demand_A" && limit.verdict != Verdict::stop;
  return harmless ? 0.0 : limit.fraction.value_or(0.0);
}

QuickHeating::QuickHeating(const Heater& heater) : row_(std::make_unique<WorkRow>(heater)) {}
QuickHeating::~QuickHeating() = default;
QuickHeating::QuickHeating(QuickHeating&&) noexcept = default;

Promise QuickHeating::promise(const TankCircuit& circuit, const Coil& coil,
                              const CoilKernel& kernel, const WorkReference& reference,
                              const CourseBounds& bounds) const {
  return Course(*row_, circuit, coil, kernel, reference).run(bounds.shift, bounds.longest);
}

}  // namespace cw::cases
