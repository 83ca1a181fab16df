#pragma once

#include "cases/sweep/rank.hpp"
#include "postproc/result/designs.hpp"

namespace cw::cases {

/// The ranking as postproc shows it.
DesignSheet sheet_of(const Case& subject, const Ranking& ranking);

/// Every design in one table, ranked ones first: rank, inputs, status, verdict, reason, then every
/// figure (without those of single turns).
std::string designs_csv(const Case& subject, const Ranking& ranking);

/// The same as JSON, with whole results.
std::string designs_json(const Case& subject, const Ranking& ranking);

/// Two designs by rank (from 1; those that break a limit follow the ranked ones), for the terminal:
/// varied keys, main figures, fractions of limits; at most 80 columns. Throws CaseError for a rank
/// that does not exist.
std::string side_by_side(const Ranking& ranking, std::size_t first, std::size_t second);

/// Every figure of the two as a table.
std::string side_by_side_csv(const Ranking& ranking, std::size_t first, std::size_t second);

/// A value of a case key as shown: "9.5143 mm" for "9.514285714 mm".
std::string shortened(const std::string& value);

}  // namespace cw::cases
