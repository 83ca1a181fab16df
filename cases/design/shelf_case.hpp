#pragma once

#include <compare>
#include <vector>

#include "cases/read/read_case.hpp"

namespace cw::cases {

/// What a search for designs is free to choose.
struct Choice {
  double turns = 0.0, bore = 0.0, pitch = 0.0;  ///< [1, m, m]
  int strings = 1;                              ///< of cans, side by side
  int in_series = 1;                            ///< cans in a string
  double shift = 0.0;  ///< of the work along the axis, from where the shelf file has it [m]

  [[nodiscard]] int cans() const { return strings * in_series; }
  // NOLINTNEXTLINE(modernize-use-nullptr): clang-tidy 14 misreads the defaulted comparison
  auto operator<=>(const Choice&) const = default;
};

/// A supply as it is sold.
struct BoughtSupply {
  double volts = 0.0, amperes = 0.0;
  [[nodiscard]] double power() const { return volts * amperes; }  ///< [W]
  bool operator==(const BoughtSupply&) const = default;
};

/// A shelf file that was read: a case without what is to be found.
struct ShelfCase {
  CaseText text;
  bool turns_free = false, bore_free = false, pitch_free = false, bank_free = false,
       position_free = false;
  bool all_heated = false;     ///< no stretch was written: all of the workpiece is to be hot
  Choice first;                ///< a choice that can be built
  Case subject;                ///< with `first`
  int cans = 1;                ///< on hand
  bool supply_to_buy = false;  ///< `subject` has one that only stands in
  bool cans_to_buy = false;
};

/// Reads and checks. Throws CaseError with everything that is wrong.
ShelfCase read_shelf_case(const CaseText& text);

/// The same shelf with values in place of its own; with another supply; with so many cans.
ShelfCase with_values(const ShelfCase& shelf, const std::vector<Change>& changes);
ShelfCase with_supply(const ShelfCase& shelf, const BoughtSupply& supply);
ShelfCase with_cans(const ShelfCase& shelf, int cans);
/// The values that say so in the case file.
std::vector<Change> changes_for_cans(const ShelfCase& shelf, int cans);

/// The values of a choice as the case file would have them; only what the shelf leaves free.
std::vector<Change> changes_of(const ShelfCase& shelf, const Choice& choice);

/// The bank of a choice, of `all` cans on hand, given as if side by side.
Tank bank_of(const Tank& all, int cans_on_hand, const Choice& choice);

/// The case of a choice, with the parts assumed for it. Throws CaseError where it cannot be built.
Case chosen_case(const ShelfCase& shelf, const Choice& choice);

/// Whether the checks of a case find nothing wrong.
bool passes_checks(const Case& subject);

}  // namespace cw::cases
