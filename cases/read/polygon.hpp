#pragma once

#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "cases/case.hpp"

namespace cw::cases {

// Plane geometry of closed outlines, last corner joined to the first. Lengths in metres; points
// nearer than `touching` count as the same.

inline constexpr double touching = 1e-9;  ///< [m]

/// A side from one corner to the next.
struct Side {
  Corner a, b;
};

std::vector<Side> sides(std::span<const Corner> outline);

/// Signed area [m2], positive counter-clockwise.
double area(std::span<const Corner> outline);

/// Strictly inside, by more than `touching` from every side.
bool inside(Corner point, std::span<const Corner> outline);

/// Shortest distance [m].
double distance(Corner point, const Side& side);
double distance(const Side& one, const Side& other);
double distance(Corner point, std::span<const Corner> outline);

/// Two sides of one outline that cross or touch without being neighbours, or neighbours that fold
/// back.
std::optional<std::pair<std::size_t, std::size_t>> crossing(std::span<const Corner> outline);

/// Whether the insides share any area; touching sides and corners do not count.
bool overlap(std::span<const Corner> one, std::span<const Corner> other);

}  // namespace cw::cases
