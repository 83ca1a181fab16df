#include "cases/run/build_info.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <string_view>

#include "cases/read/fingerprint.hpp"

namespace cw::cases {

namespace {

std::string compiler() {
#ifdef __clang__
  return fmt::format("clang++ {}.{}.{}", __clang_major__, __clang_minor__, __clang_patchlevel__);
#else
  return fmt::format("g++ {}.{}.{}", __GNUC__, __GNUC_MINOR__, __GNUC_PATCHLEVEL__);
#endif
}

}  // namespace

BuildInfo build_info() {
  BuildInfo info;
  info.version = CW_VERSION;
  info.compiler = fmt::format("{}, {}", compiler(), CW_BUILD_TYPE);
  std::string_view left = CW_LIBRARIES;
  while (!left.empty()) {
    const std::size_t end = std::min(left.find('|'), left.size());
    info.libraries.emplace_back(left.substr(0, end));
    left.remove_prefix(std::min(end + 1, left.size()));
  }
  return info;
}

std::string program_form() {
  const BuildInfo info = build_info();
  return sha256_hex(fmt::format("{}\n{}\n{}\n{}", info.version, sources_sha256(), info.compiler,
                                fmt::join(info.libraries, "\n")));
}

}  // namespace cw::cases
