#include "solver/circuit/start_up.hpp"

namespace cw {

StartVerdict start_verdict(double loaded_q) {
  if (loaded_q < 3.0) return StartVerdict::fails;
  return loaded_q < 5.0 ? StartVerdict::doubtful : StartVerdict::starts;
}

double gate_share(Frequency f, double gate_time) {
  return gate_time * 2.0 * f.hertz;
}

}  // namespace cw
