#pragma once

#include <compare>
#include <vector>

#include "cases/design/shelf_case.hpp"

namespace cw::cases {

/// Within what a coil can be wound round the work from the conductor on hand, and the steps a maker
/// would measure in. Room and gaps are common practice, no source.
struct ChoiceBounds {
  double least_bore = 0.0, bore_step = 0.0;      ///< clear inside diameter [m]
  double least_pitch = 0.0, pitch_step = 0.0;    ///< axial; flat: radial [m]
  double least_length = 0.0, most_length = 0.0;  ///< of the coil along its axis; flat: no bound [m]
  double shift_step = 0.0;  ///< of the work along the axis [m]; 0: it stands well in the middle
  int most_turns = 60;
};
ChoiceBounds choice_bounds(const ShelfCase& shelf);

/// Conductor that a choice takes, leads included [m].
double tube_needed(const ShelfCase& shelf, const Choice& choice);

/// Whether a choice keeps the bounds, and the conductor on hand is long enough.
bool can_be_wound(const ShelfCase& shelf, const ChoiceBounds& bounds, const Choice& choice);

/// Coils worth a look, all with the whole bank: at most `most`, spread evenly over all that can be
/// wound. What the shelf file fixes stays as it is.
std::vector<Choice> coils_to_try(const ShelfCase& shelf, const ChoiceBounds& bounds,
                                 std::size_t most);

/// The same coil a step to each side: a turn, a step of bore and of pitch, of position.
std::vector<Choice> neighbours(const ShelfCase& shelf, const ChoiceBounds& bounds,
                               const Choice& choice);

/// All ways to wire cans on hand for a coil: strings of one or two cans in series, side by side.
std::vector<Choice> all_wirings(const ShelfCase& shelf, const Choice& coil);
/// Some of them, from the whole bank to a tenth.
std::vector<Choice> wirings(const ShelfCase& shelf, const Choice& coil);

}  // namespace cw::cases
