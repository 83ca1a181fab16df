#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "mesh/mesh.hpp"
#include "solver/circuit/solve_tank.hpp"
#include "solver/field/nonlinear_field.hpp"
#include "solver/heater/heater.hpp"
#include "solver/run/section_of_heater.hpp"

namespace cw {

/// Supply current demanded without a limit, against the temperature of the work. All temperatures
/// at which the same bodies are magnetic share one coarse mesh, made for the first of them; only
/// media and laws change, and each solution starts from the last. It serves to find the
/// temperature, not the figures: the coil is solved at the expected operating point of the tank,
/// and the point itself comes from the local model (`loose` in the .cpp).
class DemandCurve {
 public:
  /// `circuit` and the local model `start` of the case, near the first temperature to be evaluated.
  DemandCurve(const Heater& subject, const TankCircuit& circuit, const LocalCoil& start);

  /// Demand [A]; 0 where the tank will not ring. Throws SolveError.
  double operator()(Temperature work);

  /// Local model of the coil from the last solution.
  [[nodiscard]] const LocalCoil& local() const { return local_; }

  /// The demand at a temperature.
  struct Sample {
    Temperature at;
    double current = 0.0;  ///< [A]
    Frequency frequency;
  };
  /// All of them so far, in order of temperature, without those at which the tank will not ring.
  [[nodiscard]] std::vector<Sample> samples() const;

 private:
  void lay_mesh(const FieldModel& model);

  const Heater& subject_;
  TankCircuit circuit_;
  LocalCoil local_;
  std::optional<Mesh> mesh_;
  std::vector<RegionId> magnetic_;               // bodies that are magnetic on this mesh
  std::shared_ptr<const NonlinearCoil> before_;  // the last solution on this mesh
  std::vector<Sample> samples_;
};

/// Where the demand is largest between two temperatures.
struct PeakDemand {
  Temperature at;
  LocalCoil coil;  ///< the local model there
};

/// Searches every interval between Curie points, in which the demand is smooth: five samples,
/// closer towards the upper end where magnetism fades, then parabolas through the best three.
/// Within 10 K of the maximum, or 0.5 % of the demand (tests).
PeakDemand find_peak_demand(const Heater& subject, DemandCurve& demand, Temperature low,
                            Temperature high);

}  // namespace cw
