#pragma once

#include <sys/wait.h>

#include <array>
#include <cstdio>
#include <string>

namespace cw {

/// How a line of shell ended.
struct Shell {
  int code;          ///< -1: by a signal
  std::string text;  ///< stdout and stderr together
};

inline Shell shell(const std::string& line) {
  std::FILE* pipe = ::popen(("exec 2>&1; " + line).c_str(), "r");
  Shell ended{-1, ""};
  std::array<char, 4096> buffer{};
  while (const std::size_t n = std::fread(buffer.data(), 1, buffer.size(), pipe))
    ended.text.append(buffer.data(), n);
  const int status = ::pclose(pipe);
  ended.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  return ended;
}

/// The command that gives a shell mounts of its own, for root or for a user; empty where neither
/// may mount: in most containers, and in a folder that was made the root (chroot).
inline std::string own_mounts() {
  for (const char* way : {"unshare -m", "unshare -rm"})
    if (shell(std::string(way) + " sh -c 'mount -t tmpfs -o size=1m none /tmp && "
                                 "mount -o remount,ro /tmp'")
            .code == 0)
      return way;
  return {};
}
inline constexpr const char* no_mounts = "nobody may mount a file system of his own here";

}  // namespace cw
