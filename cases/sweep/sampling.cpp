#include "cases/sweep/sampling.hpp"

#include <algorithm>
#include <boost/random/sobol.hpp>
#include <numeric>
#include <random>

namespace cw::cases {

namespace {

/// 0 <= x < 1 from the generator's bits: the library's distributions differ between compilers.
double unit(std::mt19937_64& random) {
  return static_cast<double>(random() >> 11) * 0x1p-53;
}

std::vector<std::size_t> shuffled(std::size_t count, std::mt19937_64& random) {
  std::vector<std::size_t> order(count);
  std::iota(order.begin(), order.end(), std::size_t{0});
  for (std::size_t k = count; k > 1; --k)
    std::swap(order[k - 1], order[static_cast<std::size_t>(unit(random) * static_cast<double>(k))]);
  return order;
}

}  // namespace

std::vector<std::vector<double>> sample_points(const Sampling& sampling, std::size_t dimensions) {
  const auto count = static_cast<std::size_t>(sampling.count);
  std::vector<std::vector<double>> points(count, std::vector<double>(dimensions));
  if (dimensions == 0) return points;
  if (sampling.kind == SamplingKind::sobol) {
    boost::random::sobol sequence(dimensions);
    const double scale = static_cast<double>(boost::random::sobol::max()) + 1.0;
    for (auto& point : points)
      for (double& x : point) x = std::min(static_cast<double>(sequence()) / scale, 1.0 - 0x1p-53);
    return points;
  }
  std::mt19937_64 random(static_cast<std::uint64_t>(sampling.seed));
  for (std::size_t d = 0; d < dimensions; ++d) {
    const auto slices = shuffled(count, random);
    for (std::size_t k = 0; k < count; ++k)
      points[k][d] = (static_cast<double>(slices[k]) + unit(random)) / static_cast<double>(count);
  }
  return points;
}

}  // namespace cw::cases
