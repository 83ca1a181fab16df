#pragma once

#include <span>

#include "solver/circuit/filaments.hpp"
#include "solver/field/flux_at.hpp"
#include "solver/heater/rings.hpp"
#include "solver/outcome/result.hpp"
#include "solver/run/solve_states.hpp"

namespace cw {

/// Flux density of coil, load and lead loop together.
/// The leads leave the coil radially at mid-height, the pair's plane holding the axis; the loop
/// closes at the far end over the capacitors, and through the coil's own axial current. Which way
/// round it lies is not known: the larger field of both is given.
class StrayField {
 public:
  StrayField(const Heater& subject, const SolvedState& state);
  /// On the axis, `distance` [m] beyond an end of the coil, the stronger end: |B| [T] rms.
  [[nodiscard]] double on_axis(double distance) const;
  /// At mid-height, `distance` [m] from the coil's outside, a quarter and half a turn round from
  /// the leads, the stronger of both. Nearer to the leads their copper is what to keep away from.
  [[nodiscard]] double beside(double distance) const;
  /// At a place (r, z), round the axis as in beside(): |B| [T] rms.
  [[nodiscard]] double at(Point place) const;

 private:
  [[nodiscard]] double strength(double radius, double azimuth, double z) const;

  FluxAt coil_;
  std::vector<Filament> leads_;
  double current_;
  CoilExtent extent_;
};

/// Stray field of the state in which it reaches farthest. Empty below 0.1 A or outside the
/// frequencies of the levels.
std::optional<ExposureResult> heater_exposure(const Heater& subject,
                                              std::span<const SolvedState> states);

}  // namespace cw
