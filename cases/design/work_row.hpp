#pragma once

#include <vector>

#include "solver/heater/heater.hpp"

namespace cw::cases {

/// Heat [J] against temperature, in steps of a few kelvin.
class HeatTable {
 public:
  /// From one temperature to another [K].
  HeatTable(double from, double to);
  void add(const Material& material, double volume);
  /// [K] of this heat [J], and back.
  [[nodiscard]] double temperature(double heat) const;
  [[nodiscard]] double heat(double kelvin) const;

 private:
  double from_;
  std::vector<double> heat_;
};

/// Work as a row of slices along its axis, each as warm all through as its mean. Work of several
/// bodies, and work beside a flat coil, is one slice.
struct WorkRow {
  struct Slice {
    double z, height, area, outer;  ///< [m, m, m2, m]
  };
  explicit WorkRow(const Heater& heater);

  /// Shares of the slices in the power that a coil brings, as the square of its field on the axis;
  /// `shift`: of the work from where the heater has it [m].
  [[nodiscard]] std::vector<double> field_shares(const Coil& coil, double shift) const;

  Heater heater;
  std::vector<Slice> slices;
  std::vector<HeatTable> heat;   ///< of each slice
  std::vector<double> capacity;  ///< of each, on the whole way to the target [J/K]
  double loss_share = 1.0;       ///< of the losses of a bare surface
  double start = 0.0, target = 0.0, surroundings = 0.0;  ///< [K]
  double emissivity = 0.0;
  Stretch stretch;
  bool one = false;  ///< slice for everything

 private:
  void cut(int count);
  void add_bodies();
};

/// The row while it heats.
class WarmRow {
 public:
  explicit WarmRow(const WorkRow& row);

  /// Heats by these powers [W] for a while, less what goes on along the axis and out of the
  /// surface; how long [s], at most `most`.
  double step(const std::vector<double>& power, double most);

  /// What is compared with the target [K]: middle and surface lie behind and ahead of the mean as
  /// far as the power makes them.
  [[nodiscard]] double reading(const std::vector<double>& power) const;

  [[nodiscard]] const std::vector<double>& kelvin() const { return kelvin_; }
  /// Largest change since [K]; infinite where there was nothing before.
  [[nodiscard]] double moved_since(const std::vector<double>& before) const;

 private:
  [[nodiscard]] double conductivity(std::size_t slice) const;
  [[nodiscard]] double lost(std::size_t slice) const;

  const WorkRow& row_;
  std::vector<double> kelvin_, heat_;
};

}  // namespace cw::cases
