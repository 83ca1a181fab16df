#pragma once

#include "solver/run/solve_states.hpp"

namespace cw {

/// Makes coil loss and tube temperature agree: the copper's resistivity is that of the tube, the
/// tube's temperature that of its water, warmed by the loss. Solve with guess(), ask settled().
class TubeTemperature {
 public:
  explicit TubeTemperature(const Heater& subject);

  /// For the next field.
  [[nodiscard]] Temperature guess() const { return guess_; }
  /// Before a state: counts its passes anew; the guess stays that of the state before.
  void begin() { passes_ = 0; }
  /// After a field of `subject` (bodies may be left out) at `work`: true when one more pass would
  /// change the coil loss by less than 0.05 %, after four passes, and where nothing follows the
  /// water.
  bool settled(const Heater& subject, const SolvedState& state, double loss, Temperature work);
  [[nodiscard]] int passes() const { return passes_; }
  /// Relative change of the coil loss one more pass would bring, at a fixed current.
  [[nodiscard]] double agreement() const { return agreement_; }

 private:
  bool follows_;
  Temperature guess_;
  int passes_ = 0;
  double agreement_ = 0.0;
};

}  // namespace cw
