#pragma once

#include <string_view>

namespace cw {

/// The style sheet of the page, report.css, built in.
std::string_view report_style();

/// Chart.js and the pages' own scripts, report*.js and sweep.js, built in.
std::string_view report_script();

}  // namespace cw
