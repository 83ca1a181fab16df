#pragma once

#include <string>

#include "postproc/picture/canvas.hpp"

namespace cw {

/// The bytes of a PNG file.
std::string png_of(const Raster& raster);

/// Base64 (RFC 4648, with padding) of some bytes.
std::string base64(const std::string& bytes);

}  // namespace cw
