#include "cases/read/fingerprint.hpp"

#include <array>
#include <stdexcept>

#include <openssl/evp.h>

#include <fmt/format.h>

namespace cw::cases {

std::string sha256_hex(std::string_view bytes) {
  std::array<unsigned char, 32> digest{};
  unsigned length = 0;
  if (EVP_Digest(bytes.data(), bytes.size(), digest.data(), &length, EVP_sha256(), nullptr) != 1 ||
      length != digest.size()) {
    throw std::runtime_error("SHA-256 is not available from the system's libcrypto");
  }
  std::string hex;
  hex.reserve(2 * digest.size());
  for (const unsigned char byte : digest) hex += fmt::format("{:02x}", byte);
  return hex;
}

}  // namespace cw::cases
