#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "materials/quantity.hpp"

namespace cw {

// One coil with many metals instead of its workpiece, as plain data. Powers are divided by the
// square of the coil current: W/A^2 = ohm.

/// One metal at one frequency. For magnetic metals valid only at the current of the comparison.
struct MetalPoint {
  double work = 0.0;          ///< induced in the workpiece [W/A^2]
  double coil = 0.0;          ///< loss in the winding [W/A^2]
  double others = 0.0;        ///< leads and other bodies [W/A^2]
  double skin_depth = 0.0;    ///< at the surface, where the field is strongest [m]
  double coil_surface = 0.0;  ///< resistivity over skin depth of the coil's metal [ohm]
  double permeability = 1.0;  ///< relative, at the surface, where the field is strongest
  double work_error = 0.0, coil_error = 0.0;  ///< of the mesh, estimated, relative
  double law_error = 0.0;  ///< largest error of the permeability law in so thin a part, relative
  bool law_valid = true;   ///< false: the part is too thin for one effective permeability

  /// Share of all power that enters the workpiece.
  [[nodiscard]] double efficiency() const { return work / (work + coil + others); }
};

struct MetalCurve {
  std::string name;
  double resistivity = 0.0;        ///< at the temperature of the comparison [ohm m]
  bool magnetic = false;           ///< at that temperature
  double weak_permeability = 1.0;  ///< relative, in a weak field at that temperature
  bool lost_magnetism = false;     ///< magnetic when cold, hotter than its Curie point here
  bool beyond_data = false;        ///< resistivity not covered by data at that temperature
  std::vector<MetalPoint> points;  ///< one per frequency of the comparison

  /// Resistivity over skin depth [ohm]: resistance of a square of its skin.
  [[nodiscard]] double surface_resistance(const MetalPoint& p) const {
    return resistivity / p.skin_depth;
  }
};

struct MetalComparison {
  std::string title;
  std::string own;                   ///< name of the case's own metal
  Temperature temperature;           ///< of the workpiece
  double current = 0.0;              ///< through the coil [A] rms
  std::string size_name = "radius";  ///< meaning of `thickness`: "radius", "wall" or "height"
  double thickness =
      0.0;  ///< of the workpiece: radius if solid, wall if hollow, height if flat [m]
  std::vector<Frequency> frequencies;  ///< rising; includes the case's own
  std::size_t at_case = 0;             ///< index of the case's own
  std::vector<MetalCurve> metals;      ///< best efficiency at the case's frequency first
};

/// The metal at the case's frequency.
inline const MetalPoint& at_case(const MetalComparison& all, const MetalCurve& metal) {
  return metal.points[all.at_case];
}

}  // namespace cw
