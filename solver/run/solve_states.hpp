#pragma once

#include <functional>
#include <memory>
#include <optional>

#include "mesh/generate.hpp"
#include "solver/coupled/accuracy.hpp"
#include "solver/coupled/operating_point.hpp"
#include "solver/outcome/result.hpp"
#include "solver/run/section_of_heater.hpp"

namespace cw {

/// A solved operating point with everything its files need.
struct SolvedState {
  std::string name;
  StateTemperatures temperature;
  FieldModel model;
  std::unique_ptr<Mesh> mesh;  ///< the field refers to it
  double sensitivity = 1.0;    ///< of the current to the coil's impedance, see FixedFrequency
  Frequency frequency;
  double current = 0.0;  ///< through the coil [A] rms
  LoadedCoil coil;       ///< for 1 A rms
  FieldSolution field;   ///< at `current`, phase 0 that of the current
  ErrorEstimate error;
  std::optional<Shortfall> shortfall;  ///< set if the requested accuracy is not reached
  int unknowns = 0;
  int cooling_passes = 1;          ///< field solutions until coil loss and tube temperature agreed
  double cooling_agreement = 0.0;  ///< see TubeTemperature
  std::optional<TankSolution> tank;  ///< if the tank rings
};

/// Wall clock spent [s].
struct Spent {
  double mesh = 0.0, solve = 0.0;
};

/// A mesh and the discrete problem on it.
struct MeshedSystem {
  std::unique_ptr<Mesh> mesh;  ///< the system refers to it
  std::unique_ptr<EddySystem> system;
};
/// Meshes a section and sets up its problem, either from nothing or with data kept from others.
/// Throws MeshError.
using SystemMaker = std::function<MeshedSystem(const Section&, const Sizing&, const Media&)>;
MeshedSystem system_from_nothing(const Section& section, const Sizing& sizing, const Media& media);

/// Options for solving states, beside the effort.
struct StateMeans {
  SystemMaker maker = system_from_nothing;
  std::optional<DemandResult>* demand = nullptr;  ///< filled by the search for the largest demand
  std::optional<double> allowed_error = {};       ///< instead of what the effort allows
  /// Called with each state as soon as it is solved, before the next one.
  std::function<void(const SolvedState&)> solved = {};
};

/// States of a bench drive (fixed_frequency) or of a tank that rings (empty, cold, peak_demand,
/// past_curie, at_target, as far as they apply), in that order. If the tank will not ring, the
/// state is left out and `warnings` says so. Throws SolveError, MeshError.
std::vector<SolvedState> solve_states(const Heater& subject, Effort effort, Spent& spent,
                                      std::vector<std::string>& warnings,
                                      const StateMeans& means = {});

}  // namespace cw
