#pragma once

#include "cases/sweep/run_sweep.hpp"

namespace cw::cases {

/// "[#######.......]  312 of 1008, 0:42 left, 2 invalid" for a width of 80 columns.
std::string sweep_bar(const SweepProgress& progress);

/// That bar on stderr where stderr is a terminal; else nothing.
SweepListener sweep_bar_on_terminal();

/// Wipes the bar at its end, so that nothing that follows stands behind it.
class SweepBarEnd {
 public:
  SweepBarEnd() = default;
  ~SweepBarEnd();
  SweepBarEnd(const SweepBarEnd&) = delete;
  SweepBarEnd& operator=(const SweepBarEnd&) = delete;
};

}  // namespace cw::cases
