#pragma once

namespace cw {

/// Before anything is written by VTK: it would else start a thread for every core over a handful of
/// cells, and end the program where one cannot be started.
void stay_in_one_thread();

}  // namespace cw
