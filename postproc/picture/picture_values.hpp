#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "postproc/picture/picture.hpp"

namespace cw {

/// Positive values as 16-bit numbers on a logarithmic scale of six decades below `top`: 0 for zero,
/// 1 for a millionth of `top` or less, 65535 for `top` or more. One step is 0.021 %, which is
/// enough for three figures.
std::uint16_t coded(double value, double top);
double decoded(std::uint16_t code, double top);
inline constexpr double coded_decades = 6.0;

/// The samples of a picture, with which a page shows the value under the pointer: a coarse grid of
/// square cells over the half-plane with |B| (or temperature), power density and region, as JSON.
/// Rows from the top, columns from the axis outwards; codes little-endian in base64. Also the
/// position of the grid on the sheet of the picture.
std::string picture_values(const PictureInput& input);

}  // namespace cw
