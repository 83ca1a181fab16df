#include "cases/commands/progress.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include "cases/commands/output.hpp"

namespace cw::cases {

std::function<void(int, int, const std::string&)> progress_on_terminal() {
  if (::isatty(STDERR_FILENO) == 0) return nullptr;
  return [](int done, int total, const std::string& what) {
    draw(fmt::format("\r{:>4} of {}: {:<40.40}{}", done + 1, total, visible(what),
                     done + 1 == total ? "\r\033[K" : ""));
  };
}

}  // namespace cw::cases
