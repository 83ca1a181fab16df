#include "cases/run/stop_signal.hpp"

#include <csignal>

namespace cw::cases {

namespace {

volatile std::sig_atomic_t flag = 0;
struct sigaction before_interrupt, before_terminate;

void raise_flag(int /*signal*/) {
  flag = 1;
}

}  // namespace

StopSignal::StopSignal() {
  flag = 0;
  struct sigaction action {};
  action.sa_handler = raise_flag;
  action.sa_flags = static_cast<int>(SA_RESETHAND);
  sigaction(SIGINT, &action, &before_interrupt);
  sigaction(SIGTERM, &action, &before_terminate);
}

StopSignal::~StopSignal() {
  sigaction(SIGINT, &before_interrupt, nullptr);
  sigaction(SIGTERM, &before_terminate, nullptr);
}

bool StopSignal::raised() {
  return flag != 0;
}

}  // namespace cw::cases
