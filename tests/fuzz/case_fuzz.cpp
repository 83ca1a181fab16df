// Any bytes as a case file: read and checked, or refused with clean, located messages.
#include <cstddef>
#include <cstdint>
#include <string>

#include "cases/check/check_case.hpp"
#include "cases/read/read_case.hpp"
#include "tests/fuzz/messages.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), size);
  try {
    const cw::Case subject = cw::read_case_text(text, "fuzz.toml");
    const cw::CheckResult found = cw::check_case(subject);
    for (const auto& line : found.errors) cw::fuzz::demand_clean_message(line, "fuzz.toml");
    for (const auto& line : found.warnings) cw::fuzz::demand_clean_message(line, "fuzz.toml");
  } catch (const cw::CaseError& error) {
    cw::fuzz::demand_clean_message(error.what(), "fuzz.toml");
  }
  return 0;
}
