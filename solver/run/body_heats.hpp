#pragma once

#include "solver/outcome/heat_result.hpp"
#include "solver/thermal/thermal_model.hpp"

namespace cw {

/// Temperatures of every body and temperature differences across every joint at each moment, stored
/// as plain numbers beside other readings.
class BodyHeats {
 public:
  explicit BodyHeats(const ThermalModel& model);

  /// Appends those at one moment, with these temperatures [K] and enthalpies [J/m^3].
  void append(const Eigen::VectorXd& kelvin, const Eigen::VectorXd& enthalpy,
              std::vector<double>& readings) const;

  /// The bodies at a moment, in the order of the thermal mesh, from the numbers that append() made.
  [[nodiscard]] std::vector<BodyHeat> bodies(std::span<const double> appended) const;
  /// The joints, with the differences at the last moment and the largest over all moments.
  [[nodiscard]] std::vector<JointHeat> joints(const std::vector<std::span<const double>>& moments,
                                              const std::vector<std::string>& names) const;

 private:
  /// A node of a body: the volume that belongs to the body [m^3], enthalpies of its solid and melt.
  struct Node {
    int unknown;
    double volume, solid, melt;
  };
  struct Pair {
    std::size_t one, other;  ///< bodies
    std::vector<const ContactEdge*> edges;
  };
  [[nodiscard]] double molten(const std::vector<Node>& nodes,
                              const Eigen::VectorXd& enthalpy) const;

  std::vector<std::vector<Node>> nodes_;  ///< by body
  std::vector<char> melts_;               ///< by body
  std::vector<Pair> pairs_;
};

}  // namespace cw
