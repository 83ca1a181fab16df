#pragma once

// Loops in which most of the time is spent are compiled twice: for every machine, and for those
// with wide registers. The program chooses at run time, so one binary serves all machines.

#if defined(__x86_64__)
#define CW_WIDE [[gnu::target("avx2,fma")]]
namespace cw {
inline bool has_wide_registers() {
  static const bool has = __builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma");
  return has;
}
}  // namespace cw
#else
#define CW_WIDE
namespace cw {
inline bool has_wide_registers() {
  return false;
}
}  // namespace cw
#endif
