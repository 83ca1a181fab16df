#pragma once

#include <map>
#include <string>
#include <vector>

#include "mesh/mesh.hpp"
#include "postproc/picture/canvas.hpp"
#include "solver/field/field_solution.hpp"
#include "solver/outcome/local_heat.hpp"

namespace cw {

/// A dimension in mm in the drawing, as in a workshop drawing.
struct DimensionLine {
  enum class Kind { diameter, length };
  Kind kind = Kind::diameter;
  std::string name;              ///< "bore", "coil", "workpiece"
  double low = 0.0, high = 0.0;  ///< diameter: 0 and the radius; length: lower and upper z [m]
  double at = 0.0;  ///< diameter: z of the end to which it refers; length: r of the surface [m]
};

/// The quantity on one half of a picture.
enum class Shown {
  flux_density,     ///< |B|, linear
  power_density,    ///< in everything that conducts, logarithmic
  current_density,  ///< |J| in the turns, linear
  temperature       ///< of every heated body, linear; needs PictureInput::heat
};

/// An important temperature of one body, drawn as a line if Shown::temperature is on the left.
struct Isotherm {
  std::string name;  ///< "target"
  double celsius = 0.0;
  std::string region;  ///< of the mesh
  bool dashed = false;
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
  std::vector<DimensionLine> dimensions = {};
  Shown left = Shown::flux_density, right = Shown::power_density;
  bool coil_only = false;  ///< the turns fill the picture, without flux lines
  /// If set, its power density replaces that of the field, and its temperature can be shown.
  const LocalHeat* heat = nullptr;
  double celsius_top = 0.0;  ///< end of its scale [degC], the same in all pictures of a run
  std::string moment = {};   ///< "after 46.2 s", for the title line
  std::vector<Isotherm> isotherms = {};
};

/// The section mirrored about the axis, with a quantity on each side and flux lines over both.
/// Regions "turn.*" are the coil and are hatched; every other region except air has an outline and
/// a label.
Canvas field_picture(const PictureInput& input);

}  // namespace cw
