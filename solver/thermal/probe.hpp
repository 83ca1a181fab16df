#pragma once

#include <string>
#include <vector>

#include "solver/thermal/thermal_model.hpp"

namespace cw {

/// Where on a body a temperature is read: on its outermost surface or its axis (innermost wall)
/// half-way up the stretch, or over the stretch.
enum class ProbeKind { surface, centre, mean, coldest, hottest };

/// A reading of one body within a stretch of its height.
struct Probe {
  ProbeKind kind = ProbeKind::coldest;
  RegionId region = 0;
  double low = -1e9, high = 1e9;  ///< [m]; cut to the body
};

/// A probe found on a mesh.
class ProbeSite {
 public:
  /// Throws std::invalid_argument when the body has nothing between low and high.
  ProbeSite(const ThermalModel& model, const Probe& probe);

  /// Temperature [K].
  [[nodiscard]] double read(const Eigen::VectorXd& kelvin) const;
  /// How far the reading is from `level` [K], positive above; for coldest and hottest by the
  /// enthalpy of each node, so that it also moves through isothermal melting. With `molten` a level
  /// at a melting point is reached when all is melt, else when melting begins.
  [[nodiscard]] double above(double level, bool molten, const ThermalModel& model,
                             const Eigen::VectorXd& enthalpy, const Eigen::VectorXd& kelvin) const;

 private:
  ProbeKind kind_;
  std::vector<int> unknown_;
  std::vector<double> weight_;  ///< sum 1; for coldest and hottest unused
};

/// Something to stop at.
struct HeatEvent {
  std::string name;  ///< "target", "curie", "solidus", "liquidus"
  Probe probe;
  Temperature level;
  bool rising = true;   ///< false: reached when falling
  bool molten = false;  ///< see ProbeSite::above
};

}  // namespace cw
