#pragma once

#include <functional>
#include <string>

namespace cw::cases {

/// A line on stderr that counts solves, where stderr is a terminal; else nothing.
std::function<void(int, int, const std::string&)> progress_on_terminal();

}  // namespace cw::cases
