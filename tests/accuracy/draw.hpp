#pragma once

#include <cmath>
#include <cstdint>
#include <random>
#include <vector>

namespace cw::accuracy {

/// Random numbers that are the same with every standard library.
class Draw {
 public:
  explicit Draw(std::uint64_t seed) : engine_(7919 * seed + 17) {}
  double between(double low, double high) {
    return low + (high - low) * (static_cast<double>(engine_() >> 11U) * 0x1p-53);
  }
  /// Uniform in the logarithm.
  double over_decades(double low, double high) { return low * std::pow(high / low, between(0, 1)); }
  template <class Int>
  Int below(Int n) {
    return static_cast<Int>(between(0, static_cast<double>(n)));
  }
  bool chance(double share) { return between(0, 1) < share; }
  template <class T>
  const T& of(const std::vector<T>& list) {
    return list[below(list.size())];
  }

 private:
  std::mt19937_64 engine_;
};

/// A length [mm] as in a case file: on a grid of 1 um, so that parts that should touch do touch.
inline double on_grid(double mm) {
  return std::round(mm * 1e3) / 1e3;
}

}  // namespace cw::accuracy
