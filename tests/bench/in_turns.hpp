#pragma once

#include <functional>
#include <vector>

namespace cw::bench {

/// Times of several runs [ms].
struct Times {
  std::vector<double> processor, wall;
  /// Middle of the values; at least one.
  static double median(std::vector<double> values);
};

/// Two tasks timed alternately, so that other load affects both.
struct Pair {
  Times first, second;
  /// One line: the ratio of first to second, by processor time and by wall-clock time.
  void print(const char* what) const;
};

Pair in_turns(int rounds, const std::function<void()>& first, const std::function<void()>& second);

}  // namespace cw::bench
