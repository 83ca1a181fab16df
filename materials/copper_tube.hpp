#pragma once

#include <optional>
#include <string>

namespace cw {

/// A copper tube as sold, in millimetres or in inches.
struct CopperTube {
  double diameter = 0.0;  ///< outside [m]
  double wall = 0.0;      ///< the usual one [m]
  const char* size;       ///< as sold: "6 mm", "1/4 inch"
  const char* standard;   ///< source of the wall thickness
};

/// The usual soft copper tube of an outside diameter [m], within 0.03 mm: a tube is stated to 0.01
/// or 0.05 mm, and 5/16 inch is 0.06 mm from 8 mm. Nothing if no such tube is known. Walls vary:
/// measure them where they matter.
///
/// 6 to 22 mm with a wall of 1 mm: among the sizes of EN 1057 (table 1) and the usual coil of EN
/// 12735-1 (from memory). 4 and 5 mm with 1 mm: usual pilot lines (from memory). Inches: ASTM B280,
/// annealed coils, as printed in engineering handbooks; of the two walls of 3/4 inch the thinner.
std::optional<CopperTube> usual_copper_tube(double diameter);

/// The sizes known, in words: "4, 5, 6 ... mm and 1/8 ... inch".
std::string usual_copper_tubes();

}  // namespace cw
