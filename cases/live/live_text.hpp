#pragma once

#include <string_view>

namespace cw {

/// The style sheet of the live page after that of the report, live.css, built in.
std::string_view live_style();

/// Its scripts, live_pull.js, live_sweep.js and live.js, built in.
std::string_view live_pull_script();
std::string_view live_sweep_script();
std::string_view live_script();

}  // namespace cw
