#pragma once

namespace cw {

/// Detects that the power into the work jumps up and down from one update of the field to the next,
/// as when the supply holds a skin at its Curie point. Part of HeatingState.
struct Hunting {
  double last_change = 0.0;  ///< of the power over the last interval [W]
  double turned = 0.0;       ///< share of the last intervals in which the change reversed its sign
  double induced = 0.0, kept = 0.0;  ///< heat of the last intervals, with fading weights [J]
  double looked_ahead = 1.2;  ///< share of the power stored when worth_a_look() was last true

  /// Call after an interval over which the power changed by `change` [W].
  void note_change(double change);
  [[nodiscard]] bool is_on() const;
  /// Factor on the heat that an interval may misplace: what one interval misplaces the next one
  /// brings back.
  [[nodiscard]] double leniency() const;
  /// (induced - lost)/induced: the present value, or a recent mean while the power jumps. Powers
  /// [W] at the end of an interval [s].
  double share_kept(double induced_W, double lost_W, double interval);
  /// A skin at its Curie point takes many short intervals and makes little progress. True if it is
  /// time to compute where the heating ends: each time that the stored share of power has halved.
  bool worth_a_look(double share_kept);
};

}  // namespace cw
