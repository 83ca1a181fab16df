#pragma once

#include <string>
#include <vector>

#include "cases/design/coil_rank.hpp"
#include "cases/design/shelf_case.hpp"
#include "solver/outcome/result.hpp"

namespace cw::cases {

/// A design worth building: what it promises was solved at the accuracy of `coilwright run`.
struct OfferedDesign {
  std::vector<DesignKind> kinds;
  Choice choice;
  Case subject;
  Result result;
  double tube = 0.0;  ///< conductor it takes, leads included [m]
};

/// Something to buy without which nothing on the shelf does the work, and what it brings.
struct Purchase {
  std::string what;      ///< "a 36 V supply"
  std::string outcome;   ///< "850 degC after 74 s", solved at low effort
  bool enough = false;   ///< it does the work within the limits
  double reached = 0.0;  ///< temperature at the end [K]
  Choice choice;
};

/// The largest of a figure over the heating run.
double most_while_heating(const Result& result, double HeatLine::*what);

struct FoundDesigns {
  std::vector<OfferedDesign> offered;
  /// Where none does the work: the one that comes nearest, solved at low effort, and what to buy,
  /// best first.
  std::vector<OfferedDesign> nearest;
  std::vector<Purchase> purchases;
  std::optional<BoughtSupply> supply;    ///< to be bought for these designs
  std::optional<int> cans_on_hand;       ///< where more are to be bought
  int coils = 0, banks = 0, heated = 0;  ///< looked at: coils, coils with a bank, heating runs
};

/// Two or three designs that do the work of a shelf case within the limits of the parts, different
/// in kind; else what is missing. Coils are compared by one linear solution of the field each,
/// banks and supplies on them without any; those that can win are heated at low effort, then steps
/// to each side of the best until none is better; what is offered is solved as `coilwright run`
/// does it. `known`: coils that were solved for another supply or bank, and then those of this
/// search.
FoundDesigns find_designs(const ShelfCase& shelf, KnownCoils& known,
                          const DesignSearchOptions& options = {});

}  // namespace cw::cases
