#pragma once

#include <memory>
#include <string>

#include "cases/sweep/design.hpp"
#include "cases/sweep/fast_design.hpp"
#include "cases/sweep/frequency_designs.hpp"
#include "cases/sweep/kept_meshes.hpp"

namespace cw::cases {

/// What a worker is told, and what it answers; both as bytes for crew.hpp. `files`: those the
/// design may be made of, as they were when it was planned.
std::string order_for(const std::vector<Change>& changes, const DesignMeans& means,
                      const NamedFiles& files);
DesignOutcome outcome_of(const std::string& answer);

/// Solves designs of one case: reads and checks each, solves its states, and its heating run where
/// that is asked for, as `coilwright run` would or, by the fast method where that can do it, from
/// kept answers, and packs what came out. Never throws:
/// what goes wrong is the answer.
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
  // Copies of a solver share what they keep.
  std::shared_ptr<FastDesigns> fast_;
  std::shared_ptr<FrequencyDesigns> band_;
  std::shared_ptr<KeptMeshes> meshes_;
};

}  // namespace cw::cases
