#include "solver/coupled/loaded_coil.hpp"

#include <numbers>

#include "solver/field/sources.hpp"

namespace cw {

namespace {

constexpr double two_pi = 2 * std::numbers::pi;

/// Resistance of each ring at direct current [ohm].
std::vector<double> ring_dc_resistance(const EddySystem& system, const Winding& winding) {
  std::vector<double> resistance;
  for (std::size_t k = 0; k < winding.turns.region.size(); ++k)
    resistance.push_back(
        winding.strands ? two_pi * winding.radius[k] * bundle_dc_resistance(*winding.strands)
                        : dc_resistance(winding.conductor) / dc_resistance(winding.ring_conductor) /
                              loop_conductance(system, winding.turns.region[k]));
  return resistance;
}

/// Loss of the part of the winding that ring k stands for, at 1 A in the winding, helix length not
/// counted [W].
double ring_loss(const EddySystem& system, const Winding& winding, const LoadedCoil& coil,
                 std::size_t k) {
  const RegionId region = winding.turns.region[k];
  const double w = winding.turns.weight[k];
  if (!winding.strands) {
    const double ratio = internal_impedance(winding.conductor, coil.frequency).resistance_ohm /
                         internal_impedance(winding.ring_conductor, coil.frequency).resistance_ohm;
    return ratio / w * coil.region_loss[region];
  }
  // A smaller bundle with less current has the field of the true one in it.
  const double mean_square = mean_square_field(system.mesh(), coil.series.field, region);
  return w * two_pi * winding.radius[k] *
         bundle_loss(*winding.strands, coil.frequency, 1.0, mean_square);
}

void add_winding_losses(const EddySystem& system, const Winding& winding, LoadedCoil& coil) {
  const double longer = winding.helix ? helix_length_factor(*winding.helix) : 1.0;
  const auto dc = ring_dc_resistance(system, winding);
  std::vector<char> is_turn(coil.region_loss.size(), 0);
  for (std::size_t k = 0; k < winding.turns.region.size(); ++k) {
    const double w = winding.turns.weight[k];
    const double loss = longer * ring_loss(system, winding, coil, k);
    coil.turn_loss.push_back(loss);
    coil.conductor_resistance += loss;
    if (!winding.strands)
      coil.part_turn_resistance += loss - longer * coil.region_loss[winding.turns.region[k]];
    coil.dc_resistance += longer * w * dc[k];
    coil.turn_voltage.push_back(w * coil.series.turn_voltage[k]);
    is_turn[winding.turns.region[k]] = 1;
  }
  for (std::size_t i = 0; i < is_turn.size(); ++i)
    if (!is_turn[i]) coil.reflected_resistance += coil.region_loss[i];
}

}  // namespace

std::complex<double> LoadedCoil::impedance() const {
  return {resistance, frequency.omega() * inductance};
}

LoadedCoil solve_loaded_coil(EddySystem& system, const Winding& winding, Frequency f) {
  TurnSet turns = winding.turns;
  if (turns.kind == TurnKind::uniform) turns.resistance = ring_dc_resistance(system, winding);
  LoadedCoil coil;
  coil.frequency = f;
  coil.response = solve_turns(system, turns, f);
  coil.series = connect_in_series(system, turns, coil.response);
  coil.region_loss = region_losses(system.mesh(), coil.series.field);
  coil.energy = magnetic_energy(system.mesh(), coil.series.field) +
                system.open().exterior_energy(coil.series.field.potential);
  coil.winding_inductance = coil.series.impedance.imag() / f.omega();
  add_winding_losses(system, winding, coil);
  if (winding.helix) coil.helix_correction = helix_correction(*winding.helix);
  if (winding.leads) coil.leads = leads_impedance(*winding.leads, f);
  coil.inductance = coil.winding_inductance + coil.helix_correction + coil.leads.inductance_H;
  coil.resistance =
      coil.conductor_resistance + coil.reflected_resistance + coil.leads.resistance_ohm;
  return coil;
}

}  // namespace cw
