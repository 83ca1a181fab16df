#pragma once

#include <string>

#include "cases/sweep/design.hpp"

namespace cw::cases {

/// What a worker is told, and what it answers; both as bytes for crew.hpp.
std::string order_for(const std::vector<Change>& changes);
DesignOutcome outcome_of(const std::string& answer);

/// Solves designs of one case: reads and checks each, solves it as `coilwright run` would, and
/// packs what came out. Never throws: what goes wrong is the answer.
class DesignSolver {
 public:
  DesignSolver(CaseText subject, Effort effort) : subject_(std::move(subject)), effort_(effort) {}

  std::string operator()(const std::string& order);

 private:
  DesignOutcome solve(const std::vector<Change>& changes);

  CaseText subject_;
  Effort effort_;
};

}  // namespace cw::cases
