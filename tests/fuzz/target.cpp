// One fuzz target: CW_FUZZ_READER is a function of any_bytes.hpp. Its exceptions are not caught.
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <string>
#include <string_view>

#include "tests/fuzz/any_bytes.hpp"
#include "tests/fuzz/spoil_json.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  cw::fuzz::CW_FUZZ_READER({reinterpret_cast<const char*>(data), size});
  return 0;
}

#ifdef CW_FUZZ_JSON
extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t most);

// Random bytes would hardly ever get past the parser.
extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size,
                                               std::size_t most, unsigned seed) {
  std::mt19937 engine(seed);
  if (engine() % 4 == 0) return LLVMFuzzerMutate(data, size, most);
  const std::string text =
      cw::fuzz::spoil_json({reinterpret_cast<const char*>(data), size}, engine);
  if (text.empty() || text.size() > most) return LLVMFuzzerMutate(data, size, most);
  std::memcpy(data, text.data(), text.size());
  return text.size();
}
#endif
