#include "solver/run/in_parallel.hpp"

#include <gtest/gtest.h>

#include <atomic>
#include <chrono>
#include <stdexcept>
#include <thread>
#include <vector>

namespace cw {
namespace {

// Every task is called, each once.
TEST(InParallel, CallsEveryTaskOnce) {
  std::vector<std::atomic<int>> calls(97);
  in_parallel(calls.size(), [&](std::size_t k) { ++calls[k]; });
  for (const std::atomic<int>& count : calls) EXPECT_EQ(count, 1);
}

// Nothing to do is no error.
TEST(InParallel, NothingToDo) {
  in_parallel(0, [](std::size_t) { FAIL() << "called"; });
}

// One that fails keeps no other from its work, and the first failure by number is thrown.
TEST(InParallel, ThrowsTheFirstFailureAfterAllHaveEnded) {
  std::atomic<int> done = 0;
  try {
    in_parallel(8, [&](std::size_t k) {
      if (k == 3 || k == 5) throw std::runtime_error(std::to_string(k));
      ++done;
    });
    FAIL() << "nothing thrown";
  } catch (const std::runtime_error& failure) {
    EXPECT_STREQ(failure.what(), "3");
  }
  EXPECT_EQ(done, 6);
}

// Where there is more than one processor, tasks go on at the same time: each of two waits for the
// other.
TEST(InParallel, TasksMeet) {
  if (std::thread::hardware_concurrency() < 2) GTEST_SKIP() << "one processor";
  std::atomic<int> there = 0;
  std::atomic<bool> met = true;
  in_parallel(2, [&](std::size_t) {
    ++there;
    const auto late = std::chrono::steady_clock::now() + std::chrono::seconds(60);
    while (there < 2 && std::chrono::steady_clock::now() < late) std::this_thread::yield();
    if (there < 2) met = false;
  });
  EXPECT_TRUE(met);
}

}  // namespace
}  // namespace cw
