#pragma once

#include <string_view>

namespace cw {

/// The style sheet of the page, report.css, built in.
std::string_view report_style();

/// Chart.js and the pages' own scripts, report*.js and sweep.js, built in.
std::string_view report_script();

/// Licences of what the pages contain, licences.html, built in: the MIT License in full for
/// Chart.js, and the permission to share a page with our own script and style.
std::string_view report_licences();

}  // namespace cw
