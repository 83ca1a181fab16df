#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/heater/warming.hpp"

namespace cw {

/// Ratings of one can from its data sheet; rms.
struct CanLimits {
  std::optional<double> current;         ///< [A]
  std::optional<double> voltage;         ///< [V]
  std::optional<double> loss;            ///< heat it may dissipate [W]
  std::optional<double> reactive_power;  ///< [var]
};

/// Everything between capacitors and leads.
struct Joints {
  double resistance = 0.0;  ///< [ohm]
  double inductance = 0.0;  ///< [H]
};

enum class ConductorKind { board, bar };

/// A conductor in the tank's current path: board copper or busbar.
struct PathConductor {
  std::string name;
  ConductorKind kind = ConductorKind::bar;
  double width = 0.0, thickness = 0.0, length = 0.0;  ///< [m]
  std::optional<double> solder, strap;                ///< thickness of solder or strap on top [m]
  int in_parallel = 1;
  std::optional<double> rise;  ///< permitted temperature rise [K]
};

/// The capacitor bank.
struct Tank {
  double capacitance = 0.0;  ///< of the whole bank [F]
  std::optional<double>
      dissipation_factor;  ///< tan delta; left out: lossless, and the report says so
  double esr = 0.0;  ///< series resistance of the whole bank, added to that of tan delta [ohm]
  double esl = 0.0;  ///< own series inductance of the whole bank [H]
  std::optional<int> cans;  ///< equal cans, all in all
  int cans_in_series = 1;   ///< of each string; `cans` is a multiple of it
  std::optional<CanLimits> can_limits;
  std::optional<Warming> can_warming;  ///< of one can
  Joints joints;
  std::vector<PathConductor> conductors;  ///< between bank and leads

  /// Strings of cans side by side: what the current is shared among; 0 where `cans` is not known.
  [[nodiscard]] int strings() const { return cans.value_or(0) / cans_in_series; }
  /// Of one can [F]. Needs `cans`.
  [[nodiscard]] double can_capacitance() const { return capacitance * cans_in_series / strings(); }
};

}  // namespace cw
