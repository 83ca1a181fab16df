#pragma once

#include <string_view>

namespace cw {

/// The style sheet of the page, report.css, built in.
std::string_view report_style();

}  // namespace cw
