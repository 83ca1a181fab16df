#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

namespace cw {

/// A closed surface of triangles, each anticlockwise seen from outside.
struct TriangleSurface {
  std::vector<std::array<double, 3>> points;  ///< [m]
  std::vector<std::array<std::uint32_t, 3>> triangles;
};

/// The enclosed volume [m3]; negative if the triangles are clockwise.
double volume_of(const TriangleSurface& surface);

/// The surface as a binary STL in millimetres: 80 bytes of heading, the number of triangles, then
/// for each its normal, its corners and two zero bytes, in single precision, little-endian. Source:
/// 3D Systems, StereoLithography Interface Specification, 1988 (from memory).
std::string binary_stl(const TriangleSurface& surface);

}  // namespace cw
