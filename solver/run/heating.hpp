#pragma once

#include <functional>
#include <memory>

#include "solver/coupled/heating_rest.hpp"
#include "solver/run/heat_boundary.hpp"
#include "solver/run/heat_readings.hpp"
#include "solver/run/solve_states.hpp"

namespace cw {

/// Name of an event; the body's name precedes it.
inline constexpr const char* first_past_curie = "first past the Curie point";

/// The heating run of a case, ready to start: one mesh, its bodies as the field model and the heat
/// model see them, and the target of the run.
class HeatingSetup {
 public:
  /// `cold`: the case's state at the workpiece's own temperature; it determines mesh and start.
  HeatingSetup(const Heater& subject, Effort effort, const SolvedState& cold);

  /// The same for a heater that differs only in where its turns lie, on this mesh with the turns
  /// moved. The difference of the two is then free of the scatter between meshes. Null if the mesh
  /// is not suitable. `changed` must outlive it.
  [[nodiscard]] std::unique_ptr<HeatingSetup> with_coil_of(const Heater& changed,
                                                           const SolvedState& cold) const;

  [[nodiscard]] const Heater& subject() const { return subject_; }
  [[nodiscard]] const Mesh& mesh() const { return *mesh_; }
  [[nodiscard]] const FieldModel& field() const { return field_; }
  [[nodiscard]] const ThermalModel& thermal() const { return *thermal_; }
  [[nodiscard]] HeatingPlan& plan() { return plan_; }
  [[nodiscard]] const HeatingPlan& plan() const { return plan_; }
  [[nodiscard]] HeatedCoil& coil() { return *coil_; }
  [[nodiscard]] const HeatedField& heated_field() const { return coil_->field(); }
  [[nodiscard]] const ReadingMarks& marks() const { return marks_; }

  [[nodiscard]] HeatingOutcome run(std::optional<HeatingState> from = std::nullopt);
  /// The steady state that heating would approach; see find_rest(). If that search does not
  /// converge and `at_any_cost` is set, the run continues in time. None if a body would melt first.
  [[nodiscard]] std::optional<HeatingRest> rest(const HeatingState& from, bool at_any_cost);

 private:
  struct Meshed {
    FieldModel field;
    std::unique_ptr<Mesh> mesh;
  };
  static Meshed meshed(const Heater& subject, Effort effort, const SolvedState& cold);
  HeatingSetup(const Heater& subject, Meshed made, const SolvedState& cold);
  void add_events();
  void add_readings(const Stretch& stretch);

  const Heater& subject_;
  FieldModel field_;
  std::unique_ptr<Mesh> mesh_;
  std::unique_ptr<ThermalModel> thermal_;
  std::unique_ptr<HeatedCoil> coil_;
  HeatingPlan plan_;
  ReadingMarks marks_;
  std::optional<HeatingRest> rest_ahead_;  ///< below the target, if the last run ended for this
                                           ///< reason
};

}  // namespace cw
