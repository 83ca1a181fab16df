#include "solver/coupled/hunting.hpp"

#include <algorithm>

namespace cw {

namespace {

/// Share of intervals with a reversal of the change of power from which on power counts as jumping,
/// and from which on it surely jumps.
constexpr double hunts_from = 0.35, surely = 0.6;

}  // namespace

void Hunting::note_change(double change) {
  constexpr double memory = 0.85;
  turned = memory * turned + (change * last_change < 0 ? 1 - memory : 0.0);
  last_change = change;
}

bool Hunting::is_on() const {
  return turned > hunts_from;
}

double Hunting::leniency() const {
  constexpr double most = 5.0;
  return 1 + (most - 1) * std::clamp((turned - hunts_from) / (surely - hunts_from), 0.0, 1.0);
}

double Hunting::share_kept(double induced_W, double lost_W, double interval) {
  constexpr double memory = 0.95;
  induced = memory * induced + induced_W * interval;
  kept = memory * kept + (induced_W - lost_W) * interval;
  return is_on() && induced > 0.0 ? kept / induced : (induced_W - lost_W) / induced_W;
}

bool Hunting::worth_a_look(double share_kept) {
  if (!is_on() || share_kept >= 0.5 * looked_ahead) return false;
  looked_ahead = share_kept;
  return true;
}

}  // namespace cw
