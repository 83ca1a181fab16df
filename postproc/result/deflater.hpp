#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <string_view>

struct libdeflate_compressor;

namespace cw {

/// Compresses in the format of zlib (RFC 1950), as PNG and VTK files hold it. The same bytes give
/// the same bytes.
class Deflater {
 public:
  /// Level 1 (least effort) to 12.
  explicit Deflater(int level);

  /// So many bytes are enough for the compressed form of `count` bytes.
  [[nodiscard]] std::size_t most(std::size_t count) const;
  /// Writes the compressed form of `bytes` to `out`, where `room` bytes are free; how many it
  /// takes, 0 if they are too few.
  std::size_t compress(std::string_view bytes, char* out, std::size_t room);

 private:
  struct Free {
    void operator()(libdeflate_compressor* compressor) const;
  };
  std::unique_ptr<libdeflate_compressor, Free> compressor_;
};

/// Cyclic redundancy check of the standard of PNG (ISO/IEC 15948), annex D.
std::uint32_t checksum(std::string_view bytes);

}  // namespace cw
