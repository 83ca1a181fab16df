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

/// Supply current asked for with the limit off, against the temperature of the work. All
/// temperatures at which the same bodies are magnetic share one coarse mesh, laid for the first of
/// them; only media and laws change, and each solution starts from the last. Meant for finding a
/// place, not for figures: the coil is solved where the tank was about to be, its point found on
/// the local model (`loose` in the .cpp).
class DemandCurve {
 public:
  /// `circuit` and the local model `start` of the case near the first temperature asked for.
  DemandCurve(const Heater& subject, const TankCircuit& circuit, const LocalCoil& start);

  /// Demand [A]; 0 where the tank will not ring. Throws SolveError.
  double operator()(Temperature work);

  /// Local model of the coil where it was solved last.
  [[nodiscard]] const LocalCoil& local() const { return local_; }

  /// A place where the demand was found.
  struct Sample {
    Temperature at;
    double current = 0.0;  ///< [A]
    Frequency frequency;
  };
  /// All of them so far, by temperature; without those at which the tank will not ring.
  [[nodiscard]] std::vector<Sample> samples() const;

 private:
  void lay_mesh(const FieldModel& model);

  const Heater& subject_;
  TankCircuit circuit_;
  LocalCoil local_;
  std::optional<Mesh> mesh_;
  std::vector<RegionId> magnetic_;               // for which the mesh was laid
  std::shared_ptr<const NonlinearCoil> before_;  // of the same mesh
  std::vector<Sample> samples_;
};

/// Where the demand is largest between two temperatures.
struct PeakDemand {
  Temperature at;
  LocalCoil coil;  ///< the local model there
};

/// Looks in every stretch between the temperatures where a body stops being magnetic, in which the
/// demand is smooth: five samples, closer towards the upper end where magnetism fades, then
/// parabolas through the best three. Within 10 K of the place, or 0.5 % of the demand (tests).
PeakDemand find_peak_demand(const Heater& subject, DemandCurve& demand, Temperature low,
                            Temperature high);

}  // namespace cw
