#pragma once

#include "solver/run/solve_states.hpp"

namespace cw {

/// Makes coil loss and tube temperature consistent: the copper's resistivity depends on the
/// temperature of the tube, and that on its water, which the loss warms. Solve with guess(), then
/// call settled().
class TubeTemperature {
 public:
  explicit TubeTemperature(const Heater& subject);

  /// Temperature for the next field.
  [[nodiscard]] Temperature guess() const { return guess_; }
  /// Before a state: resets the count of passes; the guess remains that of the state before.
  void begin() { passes_ = 0; }
  /// After a field of `subject` (bodies may be left out) at `work`. True if one more pass would
  /// change the coil loss by less than 0.05 %, after four passes, and if the tube's temperature
  /// does not depend on the water.
  bool settled(const Heater& subject, const SolvedState& state, double loss, Temperature work);
  [[nodiscard]] int passes() const { return passes_; }
  /// Relative change of the coil loss that one more pass would bring, at a fixed current.
  [[nodiscard]] double agreement() const { return agreement_; }

 private:
  bool follows_;
  Temperature guess_;
  int passes_ = 0;
  double agreement_ = 0.0;
};

}  // namespace cw
