#pragma once

#include <optional>
#include <string>

#include "postproc/chart/chart.hpp"

namespace cw {

/// A chart in the page: interactive if scripts run, with the value under the pointer; otherwise and
/// in print the drawing; its numbers in a folded table below. Empty without a chart.
std::string chart_figure(const std::optional<Chart>& chart);

/// A drawing of ours as an element of the page. The page sets its width, and the declaration of the
/// language is removed. `label` is escaped here.
std::string inlined_drawing(const std::string& svg, const std::string& label);

/// Data for the page's own script, between script tags; escaped so that no text in it can end them.
std::string script_data(const std::string& json);

}  // namespace cw
