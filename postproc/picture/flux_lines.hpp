#pragma once

#include <vector>

#include "postproc/picture/field_samples.hpp"

namespace cw {

/// Lines of B at the instant of the peak of the coil current: contours of Re(r A exp(-j phase)),
/// `count` equal steps of flux between zero and the largest in the window. Lines end at the window;
/// no line on the axis.
struct FluxLineOptions {
  double phase = 0.0;  ///< of the coil current [rad]
  int count = 18;
  double detail = 1e-3;  ///< length of the straight pieces [m]
};
std::vector<std::vector<Point>> flux_lines(const Mesh& mesh, const FieldSolution& field,
                                           const Window& window, const FluxLineOptions& options);

}  // namespace cw
