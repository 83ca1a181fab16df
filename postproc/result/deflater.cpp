#include "postproc/result/deflater.hpp"

#include <libdeflate.h>

#include <new>

namespace cw {

void Deflater::Free::operator()(libdeflate_compressor* compressor) const {
  libdeflate_free_compressor(compressor);
}

Deflater::Deflater(int level) : compressor_(libdeflate_alloc_compressor(level)) {
  if (!compressor_) throw std::bad_alloc();
}

std::size_t Deflater::most(std::size_t count) const {
  return libdeflate_zlib_compress_bound(compressor_.get(), count);
}

std::size_t Deflater::compress(std::string_view bytes, char* out, std::size_t room) {
  return libdeflate_zlib_compress(compressor_.get(), bytes.data(), bytes.size(), out, room);
}

std::uint32_t checksum(std::string_view bytes) {
  return libdeflate_crc32(0, bytes.data(), bytes.size());
}

}  // namespace cw
