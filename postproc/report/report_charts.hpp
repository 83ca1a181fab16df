#pragma once

#include <optional>
#include <string>

#include "postproc/chart/chart.hpp"

namespace cw {

/// A chart in the page: live where scripts run, with the value under the pointer; the drawing
/// otherwise and on paper; its numbers below, to be unfolded. Empty without a chart.
std::string chart_figure(const std::optional<Chart>& chart);

/// A drawing of ours as an element of the page: the page gives it its width, and it needs no name
/// of a language. `label` is escaped here.
std::string inlined_drawing(const std::string& svg, const std::string& label);

/// Data for the page's own script, between script tags: no character of it can end them.
std::string script_data(const std::string& json);

}  // namespace cw
