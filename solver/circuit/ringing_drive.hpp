#pragma once

#include "solver/circuit/push_pull.hpp"

namespace cw {

/// Interface of a topology whose tank determines the frequency, as free functions beside its
/// struct.
template <class D>
concept RingingTopology = DriveTopology<D> && std::derived_from<D, DcSupply> &&
    requires(const D& d, double x, Frequency f, const DrivePoint& p) {
  { D::peak_over_supply } -> std::convertible_to<double>;
  { drive_at_voltage(d, x) } -> std::same_as<DrivePoint>;     // at a conductance of the tank [S]
  { drive_at_current(d, x, x) } -> std::same_as<DrivePoint>;  // and a supply current [A]
  { drive_losses(d, x) } -> std::same_as<DriveLosses>;        // at a supply current [A]
  { drive_admittance(d, f) } -> std::same_as<std::complex<double>>;  // of its parts, at the bank
  { switch_peak(d, p) } -> std::same_as<double>;                     // [V]
  { choke_load(d, p, f) } -> std::same_as<ChokeLoad>;
  { latch_up(d) } -> std::same_as<LatchUp>;
  { harmonic_error(d, x, x) } -> std::same_as<HarmonicError>;  // at a loaded Q and a coil [H]
  require_usable(d);
};

/// Those topologies of Drive whose tank determines the frequency.
using RingingDrive = std::variant<PushPullDrive>;

}  // namespace cw
