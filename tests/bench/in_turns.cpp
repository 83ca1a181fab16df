#include "tests/bench/in_turns.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "tests/bench/seven_turns.hpp"

namespace cw::bench {

double Times::median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

void Pair::print(const char* what) const {
  const double a = Times::median(first.processor), b = Times::median(second.processor);
  fmt::print("{:<58} {:5.2f}   ({:.1f} / {:.1f} ms of processor time; by the wall clock {:.2f})\n",
             what, a / b, a, b, Times::median(first.wall) / Times::median(second.wall));
}

Pair in_turns(int rounds, const std::function<void()>& first, const std::function<void()>& second) {
  Pair pair;
  const auto run = [](const std::function<void()>& work, Times& times) {
    const Stopwatch watch;
    work();
    times.processor.push_back(watch.processor_ms());
    times.wall.push_back(watch.wall_ms());
  };
  for (int k = 0; k < rounds; ++k) {
    run(first, pair.first);
    run(second, pair.second);
  }
  return pair;
}

}  // namespace cw::bench
