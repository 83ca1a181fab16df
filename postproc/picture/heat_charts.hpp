#pragma once

#include "postproc/picture/canvas.hpp"
#include "postproc/result/result.hpp"

namespace cw {

/// A chart and the name of its files.
struct NamedChart {
  std::string name;
  Canvas canvas;
};

/// Charts of a heating run: temperature against time; supply current against the temperature of the
/// workpiece, with the limit of the supply [A] where there is one; power in against power lost,
/// with the place where they meet.
std::vector<NamedChart> heat_charts(const std::string& title, const HeatResult& heat,
                                    std::optional<double> supply_limit);

}  // namespace cw
