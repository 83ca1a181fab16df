#pragma once

namespace cw {

/// Whether the power into the work jumps up and down from one update of the field to the next, as
/// where the supply holds a skin at its Curie point. Part of HeatingState.
struct Hunting {
  double last_change = 0.0;  ///< of the power over the last interval [W]
  double turned = 0.0;       ///< share of the last intervals in which the change turned round
  double induced = 0.0, kept = 0.0;  ///< heat of the last intervals, fading out [J]
  double looked_ahead = 1.2;  ///< share of the power kept when a look ahead was last worth it

  /// After an interval over which the power changed by so much [W].
  void note_change(double change);
  [[nodiscard]] bool is_on() const;
  /// How many times the usual heat an interval may misplace: what one misplaces the next one
  /// brings back.
  [[nodiscard]] double leniency() const;
  /// (induced - lost)/induced: now, or of late while the power jumps. Powers [W] at the end of an
  /// interval [s].
  double share_kept(double induced_W, double lost_W, double interval);
  /// A skin at its Curie point takes many short intervals to get nowhere: whether it is time to see
  /// where that ends, each time that it keeps half as much of its power as before.
  bool worth_a_look(double share_kept);
};

}  // namespace cw
