#pragma once

#include <variant>

#include "solver/circuit/fixed_frequency.hpp"
#include "solver/circuit/solve_tank.hpp"
#include "solver/coupled/loaded_coil.hpp"
#include "solver/coupled/warm_bodies.hpp"
#include "solver/thermal/thermal_model.hpp"

namespace cw {

using HeatingDrive = std::variant<TankCircuit, FixedFrequency>;

/// The field problem of a heating run.
struct HeatedField {
  const Mesh& mesh;
  Media media;  ///< the reluctivity of a warm body is used only if the body is not magnetic
  Winding winding;
  std::vector<WarmBody> bodies;
  HeatingDrive drive;
  LocalCoil start;  ///< expected operating point of the coil
  BorderConditions border = {};
};

/// Coil, tank and drive at one moment.
struct HeaterPoint {
  Frequency frequency;
  double current = 0.0;  ///< through the coil [A] rms
  std::optional<TankPoint> tank;
  double demand = 0.0;  ///< supply current with the limit off [A]; from the local model of the coil
  bool stopped = false;        ///< the supply stopped, or the tank will not ring: no power
  std::vector<double> body_W;  ///< by HeatedField::bodies
  double work_W = 0.0;         ///< their sum
  double coil_W = 0.0, leads_W = 0.0;
  double total_W = 0.0;  ///< from the source, all losses included
  Eigen::VectorXd load;  ///< nodal powers over the unknowns of the thermal mesh [W]
};

/// What one solution passes on to the next; it is stored so that a run can be resumed.
struct CoilMemory {
  LocalCoil local;
  Eigen::VectorXcd potential;  ///< one per node; empty before the first solution
  std::vector<std::complex<double>> turn_voltage;
  std::complex<double> current;
};

/// Field, circuit and heat source for bodies of any temperature; each solution starts from the one
/// kept. The coil is solved at the expected operating point of the tank. If the actual point is
/// within 1 % of that in frequency and current, power laws of both correct the power.
class HeatedCoil {
 public:
  /// The mesh in `field` and `model` must outlive it.
  HeatedCoil(HeatedField field, const ThermalModel& model);
  HeatedCoil(const HeatedCoil&) = delete;
  HeatedCoil& operator=(const HeatedCoil&) = delete;

  /// With temperatures over the unknowns of the thermal mesh [K]. The operating point is expected
  /// where it was last, unless `expected` says otherwise. Throws SolveError.
  HeaterPoint solve(const Eigen::VectorXd& kelvin, const std::optional<CoilPoint>& expected = {});
  /// The next solutions start from the last one.
  void keep();

  /// The coil solved last, for 1 A rms, and the current it was solved at.
  [[nodiscard]] const LoadedCoil& coil() const { return coil_; }
  [[nodiscard]] const HeatedField& field() const { return field_; }
  /// Estimated error from the mesh of a body's power in the coil solved last, relative. It includes
  /// the error of the current, if the drive does not fix the current.
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
