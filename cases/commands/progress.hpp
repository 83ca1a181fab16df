#pragma once

#include <chrono>
#include <functional>
#include <string>

#include "cases/sweep/run_sweep.hpp"

namespace cw::cases {

/// A line on stderr that counts solutions, if stderr is a terminal; else nothing.
std::function<void(int, int, const std::string&)> progress_on_terminal();

/// Progress of a sweep on standard error: a bar on a terminal, otherwise a line every ten seconds.
SweepListener sweep_progress();

/// A line whenever at least `pause` has passed since the last.
SweepListener sweep_lines(std::chrono::milliseconds pause);

/// Removes the bar, however the sweep ends.
struct SweepBarEnd {
  SweepBarEnd() = default;
  SweepBarEnd(const SweepBarEnd&) = delete;
  SweepBarEnd& operator=(const SweepBarEnd&) = delete;
  ~SweepBarEnd();
};

}  // namespace cw::cases
