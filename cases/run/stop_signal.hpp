#pragma once

namespace cw::cases {

/// While it exists, the first Ctrl-C (SIGINT) or SIGTERM only sets a flag; a second one ends the
/// program as usual. Only one at a time.
class StopSignal {
 public:
  StopSignal();
  ~StopSignal();
  StopSignal(const StopSignal&) = delete;
  StopSignal& operator=(const StopSignal&) = delete;

  [[nodiscard]] static bool raised();
};

}  // namespace cw::cases
