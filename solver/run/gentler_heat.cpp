#include "solver/run/gentler_heat.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "materials/figures.hpp"

namespace cw {

namespace {

/// Of a limit, where a part is brought to.
constexpr double aim = 0.95;
constexpr double lowest_share = 0.25;

/// The power of the supply voltage that a figure follows, about; 0: a lower voltage does not help.
int follows_voltage(const std::string& quantity) {
  for (const char* linear :
       {"current_rms_A", "voltage_rms_V", "voltage_peak_V", "turn_voltage_peak_V", "current_peak_A",
        "current_A", "demand_A", "flux_density_peak_T"})
    if (quantity == linear) return 1;
  for (const char* square : {"loss_W", "reactive_power_var", "rise_in_kelvin",
                             "steady_rise_in_kelvin", "junction_rise_in_kelvin"})
    if (quantity == square) return 2;
  return 0;
}

/// Supply limits at which the voltage folds back are no harm: the heating run has gone through
/// them.
struct Helped {
  bool folds;
  bool operator()(const LimitResult& limit) const {
    if (folds && limit.quantity == "demand_A") return false;
    return limit.verdict == Verdict::stop && limit.fraction && follows_voltage(limit.quantity) > 0;
  }
};

/// Share of the supply voltage that keeps every limit, about.
double share_of_voltage(const std::vector<LimitResult>& limits, const Helped& helped) {
  double share = 1.0;
  for (const LimitResult& limit : limits)
    if (helped(limit))
      share =
          std::min(share, std::pow(aim / *limit.fraction, 1.0 / follows_voltage(limit.quantity)));
  return share;
}

bool still_passed(const Result& gentler, const LimitResult& limit) {
  return std::any_of(gentler.limits.begin(), gentler.limits.end(), [&](const LimitResult& l) {
    return l.part == limit.part && l.quantity == limit.quantity && l.verdict == Verdict::stop;
  });
}

std::string outcome(const HeatResult& own, const HeatResult& gentler) {
  if (!gentler.time_to_target)
    return gentler.stall && own.target && *gentler.stall < *own.target
               ? fmt::format("the heating then stalls at {} degC.",
                             figure(gentler.stall->in_celsius()))
               : std::string("the target is then not reached in the time allowed.");
  const std::string takes = fmt::format("the heat takes {}", figure(*gentler.time_to_target, "s"));
  if (!own.time_to_target) return takes + ".";
  const double more = *gentler.time_to_target - *own.time_to_target;
  return more < 0.5 ? "the heat takes no longer."
                    : fmt::format("{}: accept {} more.", takes, figure(more, "s"));
}

/// To three figures, downwards: the very number that a reader of the advice writes into his case.
double rounded_down(double volts) {
  const double unit = std::pow(10.0, std::floor(std::log10(volts)) - 2);
  return std::stod(fmt::format("{:.3g}", unit * std::floor(volts / unit + 1e-9)));
}

}  // namespace

void advise_of_time(const Heater& subject, Effort effort, Result& result) {
  const auto* drive = std::get_if<PushPullDrive>(&subject.drive);
  if (drive == nullptr || !result.heat || !result.heat->target) return;
  if (!result.heat->reached && result.heat->ended != "supply") return;
  const Helped helped{drive->limit_kind == LimitKind::fold};
  if (std::none_of(result.limits.begin(), result.limits.end(), helped)) return;
  Heater gentler = subject;
  auto& supply = std::get<PushPullDrive>(gentler.drive).supply;
  const double own = supply;
  double share = share_of_voltage(result.limits, helped);
  HeaterRunOptions options;
  options.effort = effort;
  constexpr int most_rounds = 2;  // the load saturates: a figure does not quite follow its power
  for (int k = 0; k < most_rounds && share >= lowest_share; ++k) {
    supply = rounded_down(share * own);
    const Run run = run_heater(gentler, options);
    const double further = share_of_voltage(run.result.limits, helped);
    share *= further;
    if (further < 1.0 || !run.result.heat) continue;
    for (LimitResult& limit : result.limits)
      if (helped(limit) && !still_passed(run.result, limit))
        limit.advice += fmt::format(
            " Or {} instead of {}: every limit that follows the voltage is "
            "kept, and {}",
            figure(supply, "V"), figure(own, "V"), outcome(*result.heat, *run.result.heat));
    return;
  }
}

}  // namespace cw
