#pragma once

#include <map>
#include <string>
#include <vector>

#include "mesh/mesh.hpp"
#include "postproc/picture/canvas.hpp"
#include "solver/field/field_solution.hpp"
#include "solver/outcome/local_heat.hpp"

namespace cw {

/// A size to write into the drawing, in mm, as a workshop drawing does.
struct DimensionLine {
  enum class Kind { diameter, length };
  Kind kind = Kind::diameter;
  std::string name;              ///< "bore", "coil", "workpiece"
  double low = 0.0, high = 0.0;  ///< diameter: 0 and the radius; length: lower and upper z [m]
  double at = 0.0;  ///< diameter: z of the end it is taken from; length: r of the surface [m]
};

/// What a half of a picture shows.
enum class Shown {
  flux_density,     ///< |B|, linear
  power_density,    ///< in everything that conducts, logarithmic
  current_density,  ///< |J| in the turns, linear
  temperature       ///< of everything warm, linear; needs PictureInput::heat
};

/// A temperature that matters in one body, drawn as a line where Shown::temperature is on the left.
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
  /// Set: its power density is shown instead of that of the field, its temperature can be.
  const LocalHeat* heat = nullptr;
  double celsius_top = 0.0;  ///< end of its scale [degC], the same in all pictures of a run
  std::string moment = {};   ///< "after 46.2 s", for the title line
  std::vector<Isotherm> isotherms = {};
};

/// The section mirrored about the axis, a quantity on each side, flux lines over both. Regions
/// "turn.*" are the coil and drawn hatched, every other region except air is outlined and labelled.
Canvas field_picture(const PictureInput& input);

}  // namespace cw
