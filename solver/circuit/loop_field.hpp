#pragma once

#include <array>

namespace cw {

/// A place or vector in space [m] or [T].
using Vector3 = std::array<double, 3>;

/// Flux density [T] of a circular filament of radius `radius` [m] that carries 1 A, in the plane
/// through its axis: (B_r, B_z) at r from the axis and z above the loop's plane.
/// Source: closed form in complete elliptic integrals (W. R. Smythe, Static and Dynamic
/// Electricity, from memory).
std::array<double, 2> circular_loop_field(double radius, double r, double z);

/// Flux density [T] at `at` of a straight filament from `from` to `to` that carries 1 A.
/// Source: Biot-Savart law, (mu0/4 pi d)(cos a1 - cos a2).
Vector3 segment_field(const Vector3& from, const Vector3& to, const Vector3& at);

/// The loop of a pair of leads: starts at (start, 0, 0), runs out along x for `length`, its two
/// wires `spacing` apart along z [m], closed at both ends.
struct LeadLoop {
  double start = 0.0, length = 0.0, spacing = 0.0;
};

/// Flux density [T] of that loop for 1 A.
Vector3 lead_loop_field(const LeadLoop& loop, const Vector3& at);

}  // namespace cw
