#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/outcome/result.hpp"

namespace cw {

/// One heater at one supply voltage, with no limit of the supply. Worst over the states unless a
/// state is named.
struct SupplyChoice {
  double voltage = 0.0;  ///< set voltage, or open-circuit voltage of the battery [V]
  bool own = false;      ///< the voltage of the case
  bool rings = false;    ///< false: in no state; all below is then empty
  double demand = 0.0;   ///< largest supply current [A]
  std::string demand_state;
  /// Into workpiece and bodies in those states [W].
  std::optional<double> work_cold, work_at_target;
  double switch_voltage_peak = 0.0;       ///< [V]
  std::optional<double> can_current_rms;  ///< of one can [A]; empty: number not known
  double bank_current_rms = 0.0;          ///< [A]
  double least_loaded_q = 0.0;
  std::optional<double> fuse;        ///< suggested_fuse() for `demand` [A]
  std::optional<double> cable_loss;  ///< [W]; empty where no cable was given
  LimitResult nearest;               ///< the part nearest to its limit, without supply and fuse
  std::vector<std::string> silent;   ///< a sentence for each state in which the tank will not ring
};

/// The next size of fuse or breaker above 1.25 times the demand: 5, 7.5, 10, 15, 20, 25, 30, 40,
/// 50, 60, 80, 100 A; empty above that. Common practice, no source: local code decides.
std::optional<double> suggested_fuse(double demand);

/// One row per voltage, then what gives out first at each: at most 80 columns.
std::string supply_text(const std::string& title, const std::vector<SupplyChoice>& choices);

/// tables/supply.csv: one line per voltage.
std::string supply_table(const std::vector<SupplyChoice>& choices);

}  // namespace cw
