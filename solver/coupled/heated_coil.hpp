#pragma once

#include <variant>

#include "solver/circuit/fixed_frequency.hpp"
#include "solver/circuit/solve_tank.hpp"
#include "solver/coupled/loaded_coil.hpp"
#include "solver/coupled/warm_bodies.hpp"
#include "solver/thermal/thermal_model.hpp"

namespace cw {

using HeatingDrive = std::variant<TankCircuit, FixedFrequency>;

/// What a heating run solves the field of.
struct HeatedField {
  const Mesh& mesh;
  Media media;  ///< those of warm bodies serve only where a body is not magnetic: its reluctivity
  Winding winding;
  std::vector<WarmBody> bodies;
  HeatingDrive drive;
  LocalCoil start;  ///< where the coil is about to be
  BorderConditions border = {};
};

/// Coil, tank and drive at one moment.
struct HeaterPoint {
  Frequency frequency;
  double current = 0.0;  ///< through the coil [A] rms
  std::optional<TankPoint> tank;
  double demand = 0.0;  ///< supply current with the limit off [A]; from the local model of the coil
  bool stopped = false;        ///< the supply gave up, or the tank will not ring: no power
  std::vector<double> body_W;  ///< by HeatedField::bodies
  double work_W = 0.0;         ///< their sum
  double coil_W = 0.0, leads_W = 0.0;
  double total_W = 0.0;  ///< from the source, everything counted
  Eigen::VectorXd load;  ///< nodal powers over the unknowns of the thermal mesh [W]
};

/// What a solution hands to the next, so that a run can be put down and taken up.
struct CoilMemory {
  LocalCoil local;
  Eigen::VectorXcd potential;  ///< one per node; empty before the first solution
  std::vector<std::complex<double>> turn_voltage;
  std::complex<double> current;
};

/// Field, circuit and heat source for bodies of any temperature, each solution starting from the
/// one kept. The coil is solved where the tank is about to be; when the tank turns out to be within
/// 1 % of that in frequency and current, power laws of both carry the power there.
class HeatedCoil {
 public:
  /// The mesh in `field` and `model` must outlive it.
  HeatedCoil(HeatedField field, const ThermalModel& model);
  HeatedCoil(const HeatedCoil&) = delete;
  HeatedCoil& operator=(const HeatedCoil&) = delete;

  /// With temperatures over the unknowns of the thermal mesh [K]; looked for where it was last
  /// unless expected elsewhere. Throws SolveError.
  HeaterPoint solve(const Eigen::VectorXd& kelvin, const std::optional<CoilPoint>& expected = {});
  /// The next solutions start from the last one.
  void keep();

  /// The coil solved last, for 1 A rms, and the current it was solved at.
  [[nodiscard]] const LoadedCoil& coil() const { return coil_; }
  [[nodiscard]] const HeatedField& field() const { return field_; }
  /// Estimated error by the mesh of a body's power in the coil solved last, relative; its current
  /// follows where the drive does not hold it.
  [[nodiscard]] double mesh_error(RegionId body) const;
  /// Solutions of the field so far.
  [[nodiscard]] int evaluations() const { return evaluations_; }

  [[nodiscard]] CoilMemory memory() const;
  void remember(const CoilMemory& memory);

 private:
  CoilImpedance evaluate(const CoilPoint& at, bool again);
  void add_powers(double coil_watts, HeaterPoint& point) const;
  HeaterPoint on_tank(const TankCircuit& circuit);
  HeaterPoint at_fixed(const FixedFrequency& drive);

  HeatedField field_;
  const ThermalModel& model_;
  EddySystem system_;
  SaturatingCoil saturating_{system_};
  LocalCoil local_;
  LoadedCoil coil_;
  std::shared_ptr<const NonlinearCoil> before_, kept_;
  std::vector<SaturatingRegion> regions_;
  int evaluations_ = 0;
};

}  // namespace cw
