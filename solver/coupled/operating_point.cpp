#include "solver/coupled/operating_point.hpp"

namespace cw {

namespace {

/// Solves the field at the points that the tank requires, each time from the last solution.
class CoilAt {
 public:
  CoilAt(EddySystem& system, const Winding& winding, const std::vector<SaturatingRegion>& bodies)
      : system_(system), winding_(winding), bodies_(bodies), saturating_(system) {}

  const LoadedCoil& solve(Frequency f, double current) {
    if (bodies_.empty()) {
      coil_ = solve_loaded_coil(system_, winding_, f);
      return coil_;
    }
    const std::shared_ptr<const NonlinearCoil> before = coil_.saturated;
    const SaturatingLoad load{bodies_, 0.0, before.get(), {}, &saturating_, before != nullptr};
    coil_ = solve_loaded_coil(system_, winding_, load, f, current);
    return coil_;
  }

 private:
  EddySystem& system_;
  const Winding& winding_;
  const std::vector<SaturatingRegion>& bodies_;
  SaturatingCoil saturating_;
  LoadedCoil coil_;
};

CoilImpedance terminals(const LoadedCoil& coil) {
  return {coil.resistance, coil.inductance, coil.leads.resistance_ohm};
}

}  // namespace

OperatingPoint solve_operating_point(EddySystem& system, const Winding& winding,
                                     const std::vector<SaturatingRegion>& bodies,
                                     const TankCircuit& circuit, const LocalCoil& start) {
  CoilAt coil(system, winding, bodies);
  TankOptions options;
  options.start = start;
  options.current_matters = !bodies.empty();
  const CoilModel model = [&](const CoilPoint& at) {
    return terminals(coil.solve(at.frequency, at.current_rms_A));
  };
  OperatingPoint point;
  point.tank = solve_tank(circuit, model, options);
  if (!point.tank.converged)
    throw SolveError(
        "frequency and current of the tank did not settle with the field; no result is given");
  if (point.tank.no_ring) return point;
  point.coil = coil.solve(point.tank.shown().frequency, point.tank.shown().coil_current_rms_A);
  return point;
}

}  // namespace cw
