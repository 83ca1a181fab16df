#include "solver/run/in_parallel.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <system_error>
#include <thread>
#include <vector>

namespace cw {

void in_parallel(std::size_t count, const std::function<void(std::size_t)>& task) {
  std::vector<std::exception_ptr> failures(count);
  std::atomic<std::size_t> next = 0;
  const auto work = [&] {
    for (std::size_t k = next++; k < count; k = next++) try {
        task(k);
      } catch (...) {
        failures[k] = std::current_exception();
      }
  };
  const std::size_t processors = std::max(1U, std::thread::hardware_concurrency());
  {
    std::vector<std::jthread> others;
    try {
      while (others.size() + 1 < std::min(count, processors)) others.emplace_back(work);
    } catch (const std::system_error&) {  // NOLINT(bugprone-empty-catch): fewer threads will do
    }
    work();
  }
  for (const std::exception_ptr& failure : failures)
    if (failure) std::rethrow_exception(failure);
}

}  // namespace cw
