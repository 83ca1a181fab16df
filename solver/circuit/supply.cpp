#include "solver/circuit/supply.hpp"

#include <fmt/core.h>

#include <cmath>
#include <stdexcept>

namespace cw {

SupplyAction act(const Supply& supply, double demand_A) {
  if (!supply.limit_A || demand_A <= *supply.limit_A) return SupplyAction::within_limit;
  switch (supply.limit_kind) {
    case SupplyLimit::trip:
      return SupplyAction::tripped;
    case SupplyLimit::hiccup:
      return SupplyAction::hiccups;
    case SupplyLimit::fold:
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

void require_usable(const Supply& supply) {
  if (!std::isfinite(supply.voltage_V) || supply.voltage_V <= 0.0) {
    throw std::invalid_argument(
        fmt::format("supply voltage is {:.6g} V; it must be positive: write supply = \"36 V\"",
                    supply.voltage_V));
  }
  for (const double resistance : {supply.internal_resistance_ohm, supply.cable_resistance_ohm}) {
    if (std::isfinite(resistance) && resistance >= 0.0) continue;
    throw std::invalid_argument(
        fmt::format("resistance of battery or cable is {:.6g} ohm; it must be zero or more: write "
                    "a resistance such as \"5 mohm\"",
                    resistance));
  }
  if (supply.limit_A && !(*supply.limit_A > 0.0)) {
    throw std::invalid_argument(fmt::format(
        "supply limit is {:.6g} A; it must be positive: write supply_limit = \"32 A\", or leave "
        "it out",
        *supply.limit_A));
  }
}

}  // namespace cw
