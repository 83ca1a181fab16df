#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cases/sweep/design.hpp"
#include "postproc/result/result_figures.hpp"

namespace cw::cases {

/// Whether a key of the sweep is one that only the heating run of a design knows.
bool asks_for_heating(const Sweep& sweep);

/// What is wrong with a key, rank or other, that no design of the case can have, with the nearest
/// that it can and those beside it; empty where all is well. Nothing needs to be solved for that.
std::string unknown_key(const Case& subject, const std::string& key);

/// The limit nearest to being broken.
struct NearestLimit {
  std::string part, quantity, verdict, at_state, advice;
  double fraction = 0.0;
};

/// A solved design and how it stands.
struct RankedDesign {
  DesignRow row;
  Figures figures;
  std::optional<double> value;          ///< of the rank key
  std::optional<NearestLimit> nearest;  ///< left out: nothing was judged
  double excess = 0.0;  ///< how far each broken one is passed, in parts of itself, summed
  std::optional<double> shortfall;  ///< of the target of its heating run [K]; empty: reached, none
  std::vector<std::string> broken;  ///< limits and requirements it does not keep, in words
  std::vector<std::string> limits;  ///< their names, one each: "can: current"
};

/// How one solved row stands. `key`: of the rank, without its sign; may be empty.
RankedDesign judge_design(const Sweep& sweep, const std::string& key, DesignRow row);

/// Designs in order.
struct Ranking {
  std::string key;                 ///< without its sign; empty: in the order of the plan
  bool largest = false;            ///< largest first
  std::vector<RankedDesign> best;  ///< best first: keep all limits and have a value
  /// Miss something: first those that keep every limit and miss the target alone, the nearest to it
  /// first; then those that break limits, by how far.
  std::vector<RankedDesign> breaking;
  std::vector<RankedDesign> unranked;  ///< solved, without the key
  std::vector<DesignRow> unsolved;     ///< invalid, failed, crashed
};

/// Ranks the rows by the sweep's key, limits and requirements respected. A design whose heating run
/// misses its target comes behind those that reach it, whatever the key.
Ranking rank_designs(const Sweep& sweep, std::vector<DesignRow> rows);

/// Whether no design has an outcome.
bool is_empty(const Ranking& ranking);

/// A sentence for a rank key that no design has, with the nearest that they do have; empty where
/// all is well.
std::string complaint_of(const Ranking& ranking);

}  // namespace cw::cases
