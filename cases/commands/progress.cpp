#include "cases/commands/progress.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <cmath>

#include "cases/commands/output.hpp"

namespace cw::cases {

namespace {

std::string clock(double seconds) {
  const auto s = static_cast<long>(std::lround(seconds));
  if (s >= 3600) return fmt::format("{}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60);
  return fmt::format("{}:{:02}", s / 60, s % 60);
}

/// Progress of the sweep and remaining time, in one line of at most 79 columns.
std::string sweep_bar(const SweepProgress& p) {
  constexpr std::size_t width = 24;
  const std::size_t filled = p.total == 0 ? width : width * p.done / p.total;
  std::string text =
      fmt::format("[{}{}] {}{}{} of {}", std::string(filled, '#'), std::string(width - filled, '.'),
                  p.stage, *p.stage == 0 ? "" : ": ", p.done, p.total);
  if (p.fresh > 0 && p.done < p.total) text += fmt::format(", {} left", clock(p.left()));
  if (p.invalid > 0) text += fmt::format(", {} invalid", p.invalid);
  if (p.failed > 0) text += fmt::format(", {} failed", p.failed);
  if (p.crashed > 0) text += fmt::format(", {} crashed", p.crashed);
  return text.substr(0, 79);
}

}  // namespace

std::function<void(int, int, const std::string&)> progress_on_terminal() {
  if (::isatty(STDERR_FILENO) == 0) return nullptr;
  return [](int done, int total, const std::string& what) {
    draw(fmt::format("\r{:>4} of {}: {:<40.40}{}", done + 1, total, visible(what),
                     done + 1 == total ? "\r\033[K" : ""));
  };
}

SweepListener sweep_lines(std::chrono::milliseconds pause) {
  using Clock = std::chrono::steady_clock;
  return [pause, last = Clock::now()](const SweepProgress& progress) mutable {
    const auto now = Clock::now();
    if (now - last < pause) return;
    last = now;
    tell(sweep_bar(progress) + "\n");
  };
}

SweepListener sweep_progress() {
  if (::isatty(STDERR_FILENO) == 0) return sweep_lines(std::chrono::seconds(10));
  return [](const SweepProgress& progress) { draw(fmt::format("\r{:<79}", sweep_bar(progress))); };
}

SweepBarEnd::~SweepBarEnd() {
  if (::isatty(STDERR_FILENO) != 0) draw("\r\033[K");
}

}  // namespace cw::cases
