#pragma once

#include <map>
#include <memory>
#include <optional>

#include "cases/case.hpp"
#include "solver/coupled/ring_response.hpp"
#include "solver/outcome/result.hpp"
#include "solver/run/section_of_heater.hpp"

namespace cw::cases {

/// Solves designs with stored responses of rings and work; see ring_response.hpp. For drives of
/// fixed frequency, round turns, and a non-magnetic workpiece without other bodies. Such a result
/// lacks the field along the workpiece, power densities, the stray field, cooling with its limits
/// (which costs more than all the rest), and the estimate of the mesh's error.
class FastDesigns {
 public:
  explicit FastDesigns(Effort effort) : effort_(effort) {}

  /// The result, or nothing if the method does not apply to the design. Throws MeshError,
  /// SolveError.
  std::optional<Result> solve(const Case& design);

 private:
  const RingAnswer& ring(const Disc& disc, const Medium& metal, Frequency f);
  const FieldAnswer& body(const FieldModel& model, const Case& design, double clearance,
                          Frequency f);
  RingFigures rings_of(const FieldModel& model, const Case& design, Frequency f);

  Effort effort_;
  std::map<std::vector<double>, std::unique_ptr<RingAnswer>> rings_;
  std::map<std::vector<double>, std::unique_ptr<FieldAnswer>> bodies_;
};

}  // namespace cw::cases
