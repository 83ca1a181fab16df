#pragma once

#include <map>
#include <string>
#include <vector>

#include "mesh/mesh.hpp"
#include "postproc/picture/canvas.hpp"
#include "postproc/viewer/local_heat.hpp"
#include "solver/field/field_solution.hpp"

namespace cw {

/// A size to write into the drawing, in mm, as a workshop drawing does.
struct Dimension {
  enum class Kind { diameter, length };
  Kind kind = Kind::diameter;
  std::string name;              ///< "bore", "coil", "workpiece"
  double low = 0.0, high = 0.0;  ///< diameter: 0 and the radius; length: lower and upper z [m]
  double at = 0.0;  ///< diameter: z of the end it is taken from; length: r of the surface [m]
};

struct PictureInput {
  const Mesh& mesh;
  const FieldSolution& field;
  std::string title;
  double current_rms = 0.0;    ///< of the coil [A], for the title line
  double current_phase = 0.0;  ///< of the coil current [rad]: the instant of the flux lines
  std::string coil_label = "work coil";
  std::map<std::string, std::string> labels =
      {};  ///< by region name; a region without one is labelled with its name
  std::vector<Dimension> dimensions = {};
  /// Set: temperature on the left instead of |B|, and this power density on the right.
  const LocalHeat* heat = nullptr;
  double celsius_top = 0.0;  ///< end of its scale [degC], the same in all pictures of a run
  std::string moment = {};   ///< "after 46.2 s", for the title line
};

/// The section mirrored about the axis: |B| on the left, power density on the right, flux lines
/// over both. Regions "turn.*" are the coil and drawn hatched, every other region except air is
/// outlined and labelled.
Canvas field_picture(const PictureInput& input);

}  // namespace cw
