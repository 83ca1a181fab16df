#pragma once

#include <vector>

#include "postproc/picture/canvas.hpp"
#include "postproc/result/metals.hpp"

namespace cw {

/// Share of the power that enters the workpiece against frequency (logarithmic), one line per
/// metal. Lines differ in colour, marker and dash and have their names at their right ends.
Canvas metals_chart(const MetalComparison& all);

/// Heights at least `gap` apart, inside low..high if they fit, as near to the wanted ones as
/// possible (least squares). `wanted` rises; the order is kept.
std::vector<double> spread_labels(const std::vector<double>& wanted, double gap, double low,
                                  double high);

}  // namespace cw
