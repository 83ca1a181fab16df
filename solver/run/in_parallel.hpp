#pragma once

#include <cstddef>
#include <functional>

namespace cw {

/// Calls task(0) to task(count - 1), as many at the same time as there are processors, or fewer if
/// no thread can be started. The tasks must share only constant data. Returns when all have ended;
/// if tasks threw, it rethrows the exception of the first one.
void in_parallel(std::size_t count, const std::function<void(std::size_t)>& task);

}  // namespace cw
