#pragma once

#include "cases/sweep/rank.hpp"
#include "postproc/result/designs.hpp"

namespace cw::cases {

/// The ranking as postproc shows it.
DesignSheet sheet_of(const Case& subject, const Ranking& ranking);

/// Every design in one table, ranked ones first: place, inputs, status, verdict, reason, then every
/// figure (those of single turns left out).
std::string designs_csv(const Case& subject, const Ranking& ranking);

/// The same as JSON, whole results.
std::string designs_json(const Case& subject, const Ranking& ranking);

/// Two ranked designs by place (from 1), figure by figure. Throws CaseError for a place that is not
/// there.
std::string side_by_side(const Ranking& ranking, std::size_t first, std::size_t second);

}  // namespace cw::cases
