#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cases/sweep/design.hpp"
#include "postproc/result/result_figures.hpp"

namespace cw::cases {

/// Whether any key of the sweep needs the heating runs of the designs.
bool asks_for_heating(const Sweep& sweep);

/// What is wrong with a key, rank or other, that no design of the case can have, with the nearest
/// possible key and related ones; empty if the key is possible. Solves nothing.
std::string unknown_key(const Case& subject, const std::string& key);

/// The limit that is nearest to being exceeded.
struct NearestLimit {
  std::string part, quantity, verdict, at_state, advice;
  double fraction = 0.0;
};

/// A solved design and its assessment.
struct RankedDesign {
  DesignRow row;
  Figures figures;
  std::optional<double> value;          ///< of the rank key
  std::optional<NearestLimit> nearest;  ///< left out: no limit was checked
  double excess = 0.0;                  ///< relative amounts by which limits are exceeded, summed
  std::optional<double> shortfall;  ///< from the target of its heating run [K]; empty: reached, or
                                    ///< no target
  std::vector<std::string> broken;  ///< limits and requirements that are broken, in words
  std::vector<std::string> limits;  ///< their names, one each: "can: current"
};

/// Assesses one solved row. `key`: rank key without its sign; may be empty.
RankedDesign judge_design(const Sweep& sweep, const std::string& key, DesignRow row);

/// Designs in order.
struct Ranking {
  std::string key;                 ///< without its sign; empty: in the order of the plan
  bool largest = false;            ///< largest first
  std::vector<RankedDesign> best;  ///< best first: they keep all limits and have a value
  /// Designs that miss something: first those that miss only the target, the nearest to it first;
  /// then those that break limits, by how far.
  std::vector<RankedDesign> breaking;
  std::vector<RankedDesign> unranked;  ///< solved, without the key
  std::vector<DesignRow> unsolved;     ///< invalid, failed, crashed
};

/// Ranks the rows by the sweep's key, limits and requirements respected. A design whose heating run
/// misses its target comes after those that reach it, whatever the key.
Ranking rank_designs(const Sweep& sweep, std::vector<DesignRow> rows);

/// Whether no design has an outcome.
bool is_empty(const Ranking& ranking);

/// A sentence about a rank key that no design has, with the nearest that they have; empty if there
/// is none.
std::string complaint_of(const Ranking& ranking);

}  // namespace cw::cases
