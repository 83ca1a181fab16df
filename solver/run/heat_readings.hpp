#pragma once

#include "solver/heater/heater.hpp"
#include "solver/thermal/height_cut.hpp"
#include "solver/thermal/thermal_model.hpp"

namespace cw {

/// What a heating run records of the workpiece beside its temperatures.
struct HeatReading {
  double hardened_depth = 0.0;  ///< depth above `austenite`, from the surface, half-way up [m]
  double mass_above = 0.0;      ///< hotter than `view` [kg]
  double spread = 0.0;          ///< hottest less coldest along the stretch's surface [K]
};

struct ReadingMarks {
  Temperature austenite, view;
};

/// The points of the readings are located on the mesh once, by the constructor.
class HeatReadings {
 public:
  HeatReadings(const ThermalModel& model, RegionId workpiece, const Stretch& stretch,
               const ReadingMarks& marks);

  [[nodiscard]] HeatReading operator()(const Eigen::VectorXd& kelvin) const;

 private:
  /// A point on the line from the surface inwards.
  struct Place {
    double depth;
    InnerPlace at;
  };
  void find_places(const ThermalMesh& mesh, RegionId workpiece, double z);

  ReadingMarks marks_;
  std::vector<Place> inwards_;
  std::vector<EdgePlace> surface_;
  std::vector<double> mass_;  ///< of the workpiece, by unknown [kg]
};

}  // namespace cw
