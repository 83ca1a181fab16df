#pragma once

#include <span>

#include "solver/circuit/filaments.hpp"
#include "solver/field/flux_at.hpp"
#include "solver/heater/rings.hpp"
#include "solver/outcome/result.hpp"
#include "solver/run/solve_states.hpp"

namespace cw {

/// Flux density of coil, load and lead loop together.
/// The leads leave the coil radially at mid-height, and the plane of the pair contains the axis.
/// The loop closes at the far end over the capacitors, and through the coil's own axial current.
/// Its orientation is not known: the larger field of both is given.
class StrayField {
 public:
  StrayField(const Heater& subject, const SolvedState& state);
  /// On the axis, `distance` [m] beyond an end of the coil, the stronger end: |B| [T] rms.
  [[nodiscard]] double on_axis(double distance) const;
  /// At mid-height, `distance` [m] from the coil's outside, a quarter and half a turn round from
  /// the leads: the larger of both. Nearer to the leads, the distance to their copper decides.
  [[nodiscard]] double beside(double distance) const;
  /// At a point (r, z), with the angles of beside(): |B| [T] rms.
  [[nodiscard]] double at(Point place) const;

 private:
  [[nodiscard]] double strength(double radius, double azimuth, double z) const;

  FluxAt coil_;
  std::vector<Filament> leads_;
  double current_;
  CoilExtent extent_;
};

/// Stray field of the state in which it reaches farthest. Empty below 0.1 A, and at frequencies for
/// which there are no levels.
std::optional<ExposureResult> heater_exposure(const Heater& subject,
                                              std::span<const SolvedState> states);

}  // namespace cw
