// One fuzz target: CW_FUZZ_READER is one of any_bytes.hpp. What it throws nobody catches.
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "tests/fuzz/any_bytes.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  cw::fuzz::CW_FUZZ_READER({reinterpret_cast<const char*>(data), size});
  return 0;
}
