#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "solver/circuit/solve_tank.hpp"
#include "solver/heater/heater.hpp"

namespace cw::cases {

/// A figure that follows a power of the frequency near one.
struct ByFrequency {
  double value = 0.0, exponent = 0.0;
  [[nodiscard]] double at(Frequency f, Frequency near) const;
};

/// A coil round its work without magnetism, from one mesh of low effort and two frequencies.
/// Figures for 1 A rms. What a search compares coils by: a solution of the field for every coil,
/// but none for every bank and supply.
struct CoilKernel {
  Frequency near;
  ByFrequency work;               ///< what all in the coil takes [ohm]
  ByFrequency copper;             ///< winding and leads [ohm]
  ByFrequency inductance;         ///< at the terminals [H]
  double lead_share = 0.0;        ///< of the leads in `copper`
  double empty_inductance = 0.0;  ///< without work and bodies [H]
  double empty_resistance = 0.0;  ///< [ohm]
};

/// `at`: of the work, above the end of its magnetism. Throws MeshError, SolveError.
CoilKernel coil_kernel(const Heater& heater, Temperature at, Frequency near);

/// The work in one coil at one temperature, as magnetic as it then is, near one current.
struct WorkAt {
  Temperature temperature;
  CoilPoint at;
  double work = 0.0;                                          ///< [ohm], at that point
  double inductance = 0.0;                                    ///< [H]
  double work_by_current = 0.0, inductance_by_current = 0.0;  ///< exponents
  double work_by_frequency = 0.5;
};

/// Work in a coil whose kernel is known, at the temperatures of a heating; rising.
struct WorkReference {
  CoilKernel kernel;
  std::vector<WorkAt> at;
};
WorkReference work_reference(const Heater& heater, const TankCircuit& circuit,
                             const CoilKernel& kernel, const std::vector<Temperature>& at);

/// Work of another coil by that of the reference: takes power as the field in it does, whose
/// strength the kernels compare. `warmth` is the work's share of what the reference takes at each
/// of its temperatures, one weight for each; they add up to 1.
CoilImpedance coil_by_reference(const CoilKernel& kernel, const WorkReference& reference,
                                const std::vector<double>& warmth, const CoilPoint& at);

/// Share of the impedance's resistance that is the work's.
double work_by_reference(const CoilKernel& kernel, const WorkReference& reference,
                         const std::vector<double>& warmth, const CoilPoint& at);

/// Tank and supply on a coil that is given as a function: no field is solved. `start`: near the
/// point. Nothing where it will not ring.
TankSolution tank_on(const TankCircuit& circuit,
                     const std::function<CoilImpedance(const CoilPoint&)>& coil,
                     const CoilPoint& start);

/// Temperatures at which the work is worth a solution on its way to the target; rising.
std::vector<Temperature> temperatures_to_solve(const Heater& heater);

/// Above the end of magnetism of all that is heated, and not below the target.
Temperature kernel_temperature(const Heater& heater);

}  // namespace cw::cases
