#include "cases/commands/sweep_bar.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>

#include "cases/commands/output.hpp"

namespace cw::cases {

namespace {

std::string clock(double seconds) {
  const auto s = static_cast<long>(std::lround(seconds));
  if (s >= 3600) return fmt::format("{}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60);
  return fmt::format("{}:{:02}", s / 60, s % 60);
}

}  // namespace

std::string sweep_bar(const SweepProgress& p) {
  constexpr std::size_t width = 24;
  const std::size_t filled = p.total == 0 ? width : width * p.done / p.total;
  std::string text = fmt::format("[{}{}] {} of {}", std::string(filled, '#'),
                                 std::string(width - filled, '.'), p.done, p.total);
  if (p.fresh > 0 && p.done < p.total) text += fmt::format(", {} left", clock(p.left()));
  if (p.invalid > 0) text += fmt::format(", {} invalid", p.invalid);
  if (p.failed > 0) text += fmt::format(", {} failed", p.failed);
  if (p.crashed > 0) text += fmt::format(", {} crashed", p.crashed);
  return text.substr(0, 79);
}

SweepListener sweep_bar_on_terminal() {
  if (::isatty(STDERR_FILENO) == 0) return nullptr;
  return [](const SweepProgress& progress) { draw(fmt::format("\r{:<79}", sweep_bar(progress))); };
}

SweepBarEnd::~SweepBarEnd() {
  if (::isatty(STDERR_FILENO) == 0) return;
  draw("\r\033[K");
}

}  // namespace cw::cases
