#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/thermal/height_cut.hpp"
#include "solver/thermal/thermal_model.hpp"

namespace cw {

/// Where on a body a temperature is read. surface, centre, depth: on its outermost surface, its
/// axis (or innermost wall) or between them, half-way up the stretch. The others: over the stretch,
/// whose ends need not be at nodes.
enum class ProbeKind { surface, centre, depth, mean, coldest, hottest };

/// A reading of one body within a stretch of its height.
struct Probe {
  ProbeKind kind = ProbeKind::coldest;
  RegionId region = 0;
  double low = -1e9, high = 1e9;  ///< [m]; limited to the body
  double depth = 0.0;             ///< of ProbeKind::depth, from the outermost surface [m]
  /// Only for extremes: only where the body touches this one, on both sides.
  std::optional<RegionId> joint = {};
};

/// A probe located on a mesh.
class ProbeSite {
 public:
  /// Throws std::invalid_argument if the body has nothing between low and high, at the depth or in
  /// the joint.
  ProbeSite(const ThermalModel& model, const Probe& probe);

  /// Temperature [K].
  [[nodiscard]] double read(const Eigen::VectorXd& kelvin) const;

  [[nodiscard]] ProbeKind kind() const { return kind_; }
  /// The points of an extreme: the nodes within the stretch, and the points where its ends cut the
  /// edges.
  [[nodiscard]] const std::vector<EdgePlace>& places() const { return places_; }
  /// The unknowns of any other reading.
  [[nodiscard]] const std::vector<int>& unknowns() const { return unknown_; }
  [[nodiscard]] const std::vector<double>& weights() const { return weight_; }

 private:
  ProbeKind kind_;
  std::vector<EdgePlace> places_;
  std::vector<int> unknown_;
  std::vector<double> weight_;  ///< sum 1
};

/// An event that ends an integration.
struct HeatEvent {
  std::string name;  ///< "target", "curie", "solidus", "liquidus"
  Probe probe;
  Temperature level;
  bool rising = true;  ///< false: reached when falling
  /// A level at a melting point is reached when all is melt, not when melting begins.
  bool molten = false;
};

/// An event located on a mesh.
class EventSite {
 public:
  /// `model` must outlive it. Throws as ProbeSite.
  EventSite(const ThermalModel& model, const HeatEvent& event);

  /// The reading minus the level [K], from enthalpies [J/m^3]. For coldest and hottest it follows
  /// the enthalpies of the nodes, so that it also changes during isothermal melting.
  [[nodiscard]] double above(const Eigen::Ref<const Eigen::VectorXd>& enthalpy) const;

 private:
  /// The nodes of a place where its temperature is the level.
  struct AtLevel {
    std::array<double, 3> enthalpy{}, per_capacity{};
  };
  [[nodiscard]] double above_at(std::size_t place,
                                const Eigen::Ref<const Eigen::VectorXd>& enthalpy) const;

  const ThermalModel* model_;
  ProbeSite site_;
  double level_;                   ///< [K]
  bool melts_there_ = false;       ///< the level lies where the body melts
  std::vector<AtLevel> at_level_;  ///< one per place of an extreme
};

}  // namespace cw
