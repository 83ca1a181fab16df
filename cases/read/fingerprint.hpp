#pragma once

#include <string>
#include <string_view>

namespace cw::cases {

/// SHA-256 of the bytes as 64 lower-case hexadecimal digits (FIPS 180-4).
std::string sha256_hex(std::string_view bytes);

}  // namespace cw::cases
