#include "cases/compare/supply_choice.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "cases/read/read_case.hpp"
#include "cases/read/reading.hpp"
#include "postproc/result/in_place.hpp"
#include "postproc/result/result_directory.hpp"
#include "postproc/result/write_result.hpp"
#include "solver/run/heater_limits.hpp"
#include "solver/run/state_result.hpp"

namespace cw::cases {

namespace {

/// The case with another supply voltage, without limit.
Case with_supply(const Case& subject, double voltage) {
  Case changed = subject;
  DcSupply& own = *supply_of(changed.drive);
  own.supply = voltage;
  own.supply_limit.reset();
  own.fuse.reset();
  return changed;
}

void add_state(const SolvedState& state, const StateResult& result, SupplyChoice& choice) {
  const TankPoint& point = state.tank->running;
  if (!choice.rings || point.supply_current_A > choice.demand) {
    choice.demand = point.supply_current_A;
    choice.demand_state = state.name;
  }
  if (!choice.rings || point.loaded_q < choice.least_loaded_q)
    choice.least_loaded_q = point.loaded_q;
  choice.rings = true;
  choice.switch_voltage_peak = std::max(choice.switch_voltage_peak, point.switch_peak_V);
  choice.bank_current_rms = std::max(choice.bank_current_rms, point.capacitor_current_rms_A);
  if (point.can.current_rms_A > 0)
    choice.can_current_rms =
        std::max(choice.can_current_rms.value_or(0.0), point.can.current_rms_A);
  if (result.power.cable)
    choice.cable_loss = std::max(choice.cable_loss.value_or(0.0), *result.power.cable);
  double work = result.power.workpiece.value_or(0.0);
  for (const auto& [name, watts] : result.power.bodies) work += watts;
  if (state.name == "cold") choice.work_cold = work;
  if (state.name == "at_target") choice.work_at_target = work;
}

SupplyChoice choice_at(const Case& subject, double voltage, Effort effort) {
  const Case changed = with_supply(subject, voltage);
  Spent spent;
  SupplyChoice choice;
  choice.voltage = voltage;
  const std::vector<SolvedState> states = solve_states(changed, effort, spent, choice.silent);
  for (const SolvedState& state : states) add_state(state, state_result(changed, state), choice);
  choice.fuse = suggested_fuse(choice.demand);
  for (const LimitResult& limit : heater_limits(changed, states)) {
    if (!limit.fraction) continue;
    if (choice.nearest.part.empty() || limit.verdict > choice.nearest.verdict)
      choice.nearest = limit;  // the first of the list is the nearest to its limit
  }
  return choice;
}

}  // namespace

std::vector<SupplyChoice> compare_supplies(
    const Case& subject, Effort effort,
    const std::function<void(int, int, const std::string&)>& progress) {
  require_supply(subject, "supplies are compared only for a");
  std::set<double> voltages{12, 24, 36, 48, 60};
  const double own = supply_of(subject.drive)->supply;
  voltages.insert(own);
  std::vector<SupplyChoice> choices;
  for (const double voltage : voltages) {
    if (progress)
      progress(static_cast<int>(choices.size()), static_cast<int>(voltages.size()),
               fmt::format("{:g} V", voltage));
    choices.push_back(choice_at(subject, voltage, effort));
    choices.back().own = voltage == own;
  }
  return choices;
}

void write_supplies(const std::vector<SupplyChoice>& choices, const Result& own,
                    const std::filesystem::path& directory) {
  replace_result_directory(directory, [&](const std::filesystem::path& folder) {
    std::filesystem::create_directory(folder / "tables");
    write_file(folder / "tables" / "supply.csv", supply_table(choices));
    // Last: a directory with result.json is complete.
    write_file(folder / "result.json", result_json(own));
  });
}

}  // namespace cw::cases
