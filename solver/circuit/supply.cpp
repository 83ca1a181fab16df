#include "solver/circuit/supply.hpp"

#include <fmt/core.h>

#include <cmath>
#include <stdexcept>

namespace cw {

SupplyAction act(const DcSupply& drive, double demand_A) {
  if (!drive.supply_limit || demand_A <= *drive.supply_limit) return SupplyAction::within_limit;
  switch (drive.limit_kind) {
    case LimitKind::trip:
      return SupplyAction::tripped;
    case LimitKind::hiccup:
      return SupplyAction::hiccups;
    case LimitKind::fold:
      break;
  }
  return SupplyAction::folded;
}

double cable_resistance(double one_way_length, double section, double resistivity) {
  if (!(one_way_length >= 0.0) || !(section > 0.0) || !(resistivity > 0.0)) {
    throw std::invalid_argument(fmt::format(
        "cable of {:.6g} m, section {:.6g} m2, resistivity {:.6g} ohm m; the length must be zero "
        "or more, section and resistivity positive: write a cable such as 2 m of 16 mm2",
        one_way_length, section, resistivity));
  }
  return 2.0 * resistivity * one_way_length / section;
}

double cable_resistance(const std::optional<Cable>& cable) {
  constexpr double copper = 1e-6 / 58;  // 1/58 ohm mm2/m: IEC 60028 (from memory)
  if (!cable) return 0.0;
  return cable->resistance ? *cable->resistance
                           : cable_resistance(*cable->length, *cable->section, copper);
}

double battery_resistance(const DcSupply& drive) {
  return drive.battery_resistance.value_or(0.0);
}

void require_usable_supply(const DcSupply& drive) {
  if (!std::isfinite(drive.supply) || drive.supply <= 0.0) {
    throw std::invalid_argument(fmt::format(
        "supply voltage is {:.6g} V; it must be positive: write supply = \"36 V\"", drive.supply));
  }
  for (const double resistance : {battery_resistance(drive), cable_resistance(drive.cable)}) {
    if (std::isfinite(resistance) && resistance >= 0.0) continue;
    throw std::invalid_argument(
        fmt::format("resistance of battery or cable is {:.6g} ohm; it must be zero or more: write "
                    "a resistance such as \"5 mohm\"",
                    resistance));
  }
  if (drive.supply_limit && !(*drive.supply_limit > 0.0)) {
    throw std::invalid_argument(fmt::format(
        "supply limit is {:.6g} A; it must be positive: write supply_limit = \"32 A\", or leave "
        "it out",
        *drive.supply_limit));
  }
}

}  // namespace cw
