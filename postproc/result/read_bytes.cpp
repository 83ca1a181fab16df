#include "postproc/result/read_bytes.hpp"

#include <fstream>
#include <iterator>
#include <system_error>

namespace cw {

std::optional<std::string> read_bytes(const std::filesystem::path& file) {
  std::error_code error;
  if (!std::filesystem::is_regular_file(file, error)) return std::nullopt;
  std::ifstream stream(file, std::ios::binary);
  std::string bytes{std::istreambuf_iterator<char>(stream), {}};
  if (!stream) return std::nullopt;
  return bytes;
}

}  // namespace cw
