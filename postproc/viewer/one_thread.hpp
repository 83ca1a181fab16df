#pragma once

namespace cw {

/// Call before VTK writes anything: otherwise it would start a thread per core for a handful of
/// cells, and end the program if one cannot be started.
void stay_in_one_thread();

}  // namespace cw
