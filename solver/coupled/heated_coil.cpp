#include "solver/coupled/heated_coil.hpp"

#include <cmath>
#include <numbers>
#include <utility>

#include "solver/coupled/accuracy.hpp"
#include "solver/coupled/settle_current.hpp"
#include "solver/fem/triangle.hpp"

namespace cw {

namespace {

/// Largest difference between the tank's point and the point where the coil was solved, in
/// frequency and current.
constexpr double near_enough = 0.01;
constexpr int most_evaluations = 12;
/// Tolerance of Newton's method, in the norm whose square is the power; the last correction, of
/// this size, is still applied. Far below the permitted error of an update in a heating run.
constexpr double settled = 1e-3;

}  // namespace

HeatedCoil::HeatedCoil(HeatedField field, const ThermalModel& model)
    : field_(std::move(field)),
      model_(model),
      system_(field_.mesh, field_.media, field_.border),
      local_(field_.start) {}

void HeatedCoil::keep() {
  kept_ = before_;
}

CoilMemory HeatedCoil::memory() const {
  if (!kept_) return {local_, {}, {}, {}};
  return {local_, kept_->field.potential, kept_->turn_voltage, kept_->current};
}

void HeatedCoil::remember(const CoilMemory& memory) {
  local_ = memory.local;
  kept_.reset();
  if (memory.potential.size() == 0) return;
  auto kept = std::make_shared<NonlinearCoil>();
  kept->field.potential = memory.potential;
  kept->turn_voltage = memory.turn_voltage;
  kept->current = memory.current;
  kept_ = std::move(kept);
}

namespace {

/// Power in a region [W] from densities at the points of TriangleRule [W/m^3].
double power_in(const Mesh& mesh, const PointValues& density, RegionId region) {
  double power = 0.0;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (mesh.region[t] != region) continue;
    const TriangleSamples samples = triangle_samples(triangle_points(mesh, t));
    for (std::size_t q = 0; q < samples.size(); ++q)
      power += density[t][q] * 2 * std::numbers::pi * samples[q].radius * samples[q].area;
  }
  return power;
}

}  // namespace

CoilImpedance HeatedCoil::evaluate(const CoilPoint& at, bool again) {
  ++evaluations_;
  if (regions_.empty()) {
    coil_ = solve_loaded_coil(system_, field_.winding, at.frequency);
  } else {
    SaturatingLoad load{regions_, 0.0, before_.get(), {}, &saturating_, again, false};
    load.newton.tolerance = settled;
    coil_ = solve_loaded_coil(system_, field_.winding, load, at.frequency, at.current_rms_A);
    before_ = coil_.saturated;
  }
  return {coil_.resistance, coil_.inductance, coil_.leads.resistance_ohm};
}

/// Distributes the power of winding and bodies.
void HeatedCoil::add_powers(double coil_watts, HeaterPoint& point) const {
  const double square = coil_watts / (coil_.resistance - coil_.leads.resistance_ohm);
  point.coil_W = square * coil_.conductor_resistance;
  PointValues density = heat_density(field_.mesh, coil_.series.field, regions_);
  for (auto& row : density)
    for (double& value : row) value *= square;
  point.load = model_.load(density);
  for (const WarmBody& body : field_.bodies) {
    // The sum of what conduction gets, point by point: with the field's own sum, which interpolates
    // conductivity between nodes, the ledger would not close to rounding.
    point.body_W.push_back(power_in(field_.mesh, density, body.region));
    point.work_W += point.body_W.back();
  }
}

double HeatedCoil::mesh_error(RegionId body) const {
  constexpr AccuracyGoal judged_only{1e9};
  const auto* fixed = std::get_if<FixedFrequency>(&field_.drive);
  const double follows = fixed == nullptr ? 1.0 : fixed->sensitivity(coil_.impedance());
  const ErrorEstimate error = judge_mesh(system_, field_.winding, coil_, judged_only).error;
  return error.power[body] + follows * error.from_drive(true);
}

HeaterPoint HeatedCoil::on_tank(const TankCircuit& circuit) {
  local_.value = evaluate(local_.at, false);
  TankSolution solved;
  for (int k = 0;; ++k) {
    solved = solve_tank(circuit, local_);
    if (solved.no_ring) break;
    const bool stopped =
        solved.action == SupplyAction::tripped || solved.action == SupplyAction::hiccups;
    const TankPoint& point = stopped ? solved.demand : solved.running;
    const CoilPoint at{point.frequency, point.coil_current_rms_A};
    if (distance(at, local_.at) <= near_enough) break;
    if (k == most_evaluations)
      throw SolveError(
          "frequency and current of the tank did not settle with the field; no result is given");
    local_ = secant_update(local_, at, evaluate(at, true));
  }
  HeaterPoint result;
  result.demand = solved.demand.supply_current_A;
  result.stopped = solved.no_ring || solved.action == SupplyAction::tripped ||
                   solved.action == SupplyAction::hiccups;
  const TankPoint& running = solved.running;
  result.frequency = result.stopped ? local_.at.frequency : running.frequency;
  result.current = result.stopped ? 0.0 : running.coil_current_rms_A;
  result.leads_W = running.power.leads_W;
  result.total_W = running.power.total_W;
  result.tank = running;
  add_powers(running.power.coil_W, result);
  return result;
}

HeaterPoint HeatedCoil::at_fixed(const FixedFrequency& drive) {
  bool again = false;
  local_.at.frequency = drive.frequency;
  local_.at.current_rms_A =
      settle_current(drive, local_.at.current_rms_A, 0.1 * near_enough, [&](double current) {
        evaluate({drive.frequency, current}, std::exchange(again, true));
        return coil_.impedance();
      });
  HeaterPoint result;
  const double square = local_.at.current_rms_A * local_.at.current_rms_A;
  result.frequency = drive.frequency;
  result.current = local_.at.current_rms_A;
  result.leads_W = square * coil_.leads.resistance_ohm;
  result.total_W = square * (coil_.resistance + drive.in_series.real());
  add_powers(square * (coil_.resistance - coil_.leads.resistance_ohm), result);
  return result;
}

HeaterPoint HeatedCoil::solve(const Eigen::VectorXd& kelvin,
                              const std::optional<CoilPoint>& expected) {
  if (kept_) before_ = kept_;
  if (expected) local_.at = *expected;
  regions_ = at_temperatures(field_.mesh, field_.bodies, model_.kelvin_at_points(kelvin));
  if (const auto* circuit = std::get_if<TankCircuit>(&field_.drive)) return on_tank(*circuit);
  return at_fixed(std::get<FixedFrequency>(field_.drive));
}

}  // namespace cw
