// Any bytes as a material file: a material with laws that can be asked, or clean messages.
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "materials/library.hpp"
#include "tests/fuzz/messages.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  try {
    const cw::Material m = cw::read_material_text(text, "fuzz.toml");
    for (const double celsius : {-270.0, 20.0, 700.0, 1500.0, 4000.0}) {
      const auto t = cw::Temperature::celsius(celsius);
      const double conductivity = m.conductivity(t);
      if (!std::isfinite(conductivity) || conductivity < 0) std::abort();
      if (m.magnetisation && !std::isfinite(m.magnetisation->polarisation(1e4, t))) std::abort();
    }
  } catch (const cw::MaterialError& error) {
    cw::fuzz::demand_clean_message(error.what(), "fuzz.toml");
  }
  return 0;
}
