#include "postproc/report/policy_hash.hpp"

#include <openssl/evp.h>

#include <stdexcept>

#include "postproc/picture/png.hpp"

namespace cw {

std::string policy_hash(const std::string& text) {
  std::string digest(32, '\0');
  unsigned length = 0;
  if (EVP_Digest(text.data(), text.size(), reinterpret_cast<unsigned char*>(digest.data()), &length,
                 EVP_sha256(), nullptr) != 1 ||
      length != digest.size())
    throw std::runtime_error("SHA-256 is not available from the system's libcrypto");
  return "sha256-" + base64(digest);
}

}  // namespace cw
