#pragma once

#include <memory>
#include <string>

#include "cases/sweep/design.hpp"
#include "cases/sweep/fast_design.hpp"
#include "cases/sweep/frequency_designs.hpp"
#include "cases/sweep/kept_meshes.hpp"

namespace cw::cases {

/// The order for a worker and its answer, as bytes for crew.hpp. `files`: those on which the design
/// may depend, with their contents when it was planned.
std::string order_for(const std::vector<Change>& changes, const DesignMeans& means,
                      const NamedFiles& files);
DesignOutcome outcome_of(const std::string& answer);

/// Solves designs of one case: reads and checks each, and solves its states and, if requested, its
/// heating run, as `coilwright run` would or by the fast method if that applies. Returns the packed
/// outcome. Never throws: errors are part of the outcome.
class DesignSolver {
 public:
  DesignSolver(CaseText subject, Effort effort)
      : subject_(std::move(subject)),
        effort_(effort),
        fast_(std::make_shared<FastDesigns>(effort)),
        band_(std::make_shared<FrequencyDesigns>(effort)),
        meshes_(std::make_shared<KeptMeshes>()) {}

  std::string operator()(const std::string& order);

 private:
  DesignOutcome solve(const std::vector<Change>& changes, const DesignMeans& means,
                      const NamedFiles& planned);
  DesignOutcome solve_checked(const Case& design, const std::vector<Change>& changes,
                              const DesignMeans& means);
  std::optional<Result> solve_fast(const Case& design, const std::vector<Change>& changes);

  CaseText subject_;
  Effort effort_;
  // Copies of a solver share stored data.
  std::shared_ptr<FastDesigns> fast_;
  std::shared_ptr<FrequencyDesigns> band_;
  std::shared_ptr<KeptMeshes> meshes_;
};

}  // namespace cw::cases
