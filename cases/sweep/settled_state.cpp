#include "cases/sweep/settled_state.hpp"

#include <cmath>

#include "solver/run/coil_tube.hpp"
#include "solver/run/tube_temperature.hpp"

namespace cw::cases {

namespace {

/// The same rings with warmer metal: losses times `ratio`, conductance at direct current over
/// `ratio_dc`. The change of the field by a skin a few per cent thicker is left out.
RingFigures warmed(RingFigures rings, const Winding& winding, double ratio, double ratio_dc) {
  for (std::size_t k = 0; k < rings.loss.size(); ++k) {
    const double more = (ratio - 1) * rings.loss[k];
    rings.loss[k] += more;
    rings.voltage[k] += more / winding.turns.weight[k];
    rings.impedance += more;
    rings.conductance[k] /= ratio_dc;
  }
  return rings;
}

/// Figures of the rings at any temperature of the tube.
class RingsNear {
 public:
  RingsNear(const Case& design, Frequency f, const RingsAt& rings)
      : design_(design), f_(f), rings_(rings), inlet_(coil_temperature(design.coil)) {}

  RingFigures operator()(const Winding& winding, Temperature coil) {
    constexpr double step = 20.0;  // [K]
    const Temperature near{inlet_.kelvin + step * std::round((coil.kelvin - inlet_.kelvin) / step)};
    if (!figures_ || at_.kelvin != near.kelvin) figures_ = rings_(near);
    at_ = near;
    const Material& metal = design_.coil.conductor.material;
    return warmed(*figures_, winding, resistance_ratio(design_, winding, f_, near, coil),
                  metal.conductivity(near) / metal.conductivity(coil));
  }

 private:
  const Case& design_;
  Frequency f_;
  const RingsAt& rings_;
  Temperature inlet_, at_{0.0};
  std::optional<RingFigures> figures_;
};

}  // namespace

SolvedState settled_state(const Case& design, const FixedFrequency& drive, const RingsAt& rings) {
  SolvedState state;
  state.name = "fixed_frequency";
  state.frequency = drive.frequency;
  state.temperature = {
      design.workpiece ? design.workpiece->temperature : Temperature::celsius(20.0),
      coil_temperature(design.coil), true};
  RingsNear near(design, drive.frequency, rings);
  TubeTemperature tube(design);
  double loss = 0.0;
  do {
    state.temperature.coil = tube.guess();
    state.model = field_model(design, state.temperature, {drive.frequency, drive.rms});
    state.coil = loaded_coil(state.model.winding, near(state.model.winding, tube.guess()));
    state.current = drive.current(state.coil.impedance());
    loss = state.current * state.current *
           (state.coil.conductor_resistance + state.coil.leads.resistance_ohm);
  } while (!tube.settled(design, state, loss, state.temperature.work));
  state.cooling_passes = tube.passes();
  state.cooling_agreement = tube.agreement();
  return state;
}

}  // namespace cw::cases
