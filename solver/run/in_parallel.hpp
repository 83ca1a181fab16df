#pragma once

#include <cstddef>
#include <functional>

namespace cw {

/// Calls task(0) to task(count - 1), as many at the same time as there are processors, fewer where
/// no thread can be made. The tasks share nothing that changes. Returns when all have ended; then
/// throws what the first of them threw that failed.
void in_parallel(std::size_t count, const std::function<void(std::size_t)>& task);

}  // namespace cw
