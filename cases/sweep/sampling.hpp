#pragma once

#include <vector>

#include "cases/case.hpp"

namespace cw::cases {

/// Points of the unit cube, each coordinate 0 <= x < 1; equal input, equal points.
/// - Latin hypercube: every coordinate has one point in each of `count` equal slices. Source: M. D.
///   McKay, R. J. Beckman, W. J. Conover, Technometrics 21 (1979) 239 (from memory).
/// - Sobol: the low-discrepancy sequence, its first point (all zero) left out. Source: I. M. Sobol,
///   USSR Comput. Math. Math. Phys. 7 (1967) 86 (from memory).
std::vector<std::vector<double>> sample_points(const Sampling& sampling, std::size_t dimensions);

}  // namespace cw::cases
