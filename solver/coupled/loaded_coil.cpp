#include "solver/coupled/loaded_coil.hpp"

#include <cassert>

#include "solver/field/sources.hpp"

namespace cw {

namespace {

/// Resistance of a massive ring at direct current as its turn has it [ohm].
double massive_dc_resistance(const Winding& winding, double conductance) {
  return dc_resistance(winding.conductor) / dc_resistance(winding.ring_conductor) / conductance;
}

/// Resistance of each ring at direct current [ohm].
std::vector<double> ring_dc_resistance(const EddySystem& system, const Winding& winding) {
  std::vector<double> resistance;
  for (std::size_t k = 0; k < winding.turns.region.size(); ++k)
    resistance.push_back(
        winding.strands
            ? two_pi * winding.radius[k] * bundle_dc_resistance(*winding.strands)
            : massive_dc_resistance(winding, loop_conductance(system, winding.turns.region[k])));
  return resistance;
}

/// Factor from the loss of a massive ring to that of its turn, for its smaller conductor and for
/// part turns.
double massive_loss_factor(const Winding& winding, Frequency f, std::size_t k) {
  return internal_impedance(winding.conductor, f).resistance_ohm /
         internal_impedance(winding.ring_conductor, f).resistance_ohm / winding.turns.weight[k];
}

/// Loss of the part of the winding that ring k represents, at 1 A in the winding, without helix
/// length [W].
double ring_loss(const EddySystem& system, const Winding& winding, const LoadedCoil& coil,
                 std::size_t k) {
  const RegionId region = winding.turns.region[k];
  if (!winding.strands)
    return massive_loss_factor(winding, coil.frequency, k) * coil.region_loss[region];
  const double w = winding.turns.weight[k];
  // The field in a smaller bundle with less current is that in the true one.
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

/// Adds what rings leave out, and the sums.
void add_outside(const Winding& winding, LoadedCoil& coil) {
  coil.winding_inductance = coil.series.impedance.imag() / coil.frequency.omega();
  if (winding.helix) coil.helix_correction = helix_correction(*winding.helix);
  if (winding.leads) coil.leads = leads_impedance(*winding.leads, coil.frequency);
  coil.inductance = coil.winding_inductance + coil.helix_correction + coil.leads.inductance_H;
  coil.resistance =
      coil.conductor_resistance + coil.reflected_resistance + coil.leads.resistance_ohm;
}

/// Everything that follows from the field for 1 A in the coil, except its energy.
void complete(const EddySystem& system, const Winding& winding, LoadedCoil& coil) {
  coil.region_loss = region_losses(system.mesh(), coil.series.field);
  add_winding_losses(system, winding, coil);
  add_outside(winding, coil);
}

/// Voltage of each ring of strands [V] rms, from its flux and its resistance.
std::vector<std::complex<double>> strand_voltages(const EddySystem& system, const TurnSet& turns,
                                                  const NonlinearCoil& solved) {
  const Eigen::VectorXcd a = system.to_unknowns(solved.field.potential);
  std::vector<std::complex<double>> voltage;
  for (std::size_t k = 0; k < turns.region.size(); ++k) {
    const Eigen::VectorXcd source =
        current_source(system, turns.region[k]).cast<std::complex<double>>();
    voltage.push_back(std::complex<double>{0, solved.field.frequency.omega()} *
                          source.cwiseProduct(a).sum() +
                      turns.weight[k] * turns.resistance[k] * solved.current);
  }
  return voltage;
}

/// Marks the saturating bodies in a field and gives each triangle its mean reluctivity.
void localise(const Mesh& mesh, const std::vector<SaturatingRegion>& bodies,
              const SaturatedField& solved, FieldSolution& field) {
  field.saturating.assign(mesh.region_name.size(), 0);
  for (const SaturatingRegion& body : bodies) field.saturating[body.region] = 1;
  field.local_reluctivity.reserve(mesh.triangles.size());
  for (const RegionId region : mesh.region)
    field.local_reluctivity.push_back(field.media[region].reluctivity);
  for (std::size_t k = 0; k < solved.triangles.size(); ++k) {
    double sum = 0;
    for (const double nu : solved.nu[k]) sum += nu / 12;
    field.local_reluctivity[solved.triangles[k]] = sum;
  }
}

}  // namespace

std::complex<double> LoadedCoil::impedance() const {
  return {resistance, frequency.omega() * inductance};
}

LoadedCoil solve_loaded_coil(EddySystem& system, const Winding& winding, Frequency f) {
  const TurnSet turns = turns_of(system, winding, f);
  LoadedCoil coil;
  coil.frequency = f;
  coil.response = solve_turns(system, turns, f);
  coil.series = connect_in_series(system, turns, coil.response);
  complete(system, winding, coil);
  const Eigen::VectorXcd a = system.to_unknowns(coil.series.field.potential);
  coil.energy = 0.5 * a.dot(system.apply_stiffness(a).col(0)).real();
  return coil;
}

LoadedCoil loaded_coil(const Winding& winding, const RingFigures& rings) {
  assert(!winding.strands);
  const double longer = winding.helix ? helix_length_factor(*winding.helix) : 1.0;
  LoadedCoil coil;
  coil.frequency = rings.frequency;
  coil.series.impedance = rings.impedance;
  coil.series.turn_voltage = rings.voltage;
  coil.reflected_resistance = rings.reflected;
  // Complex Poynting theorem: reactance = 2 w energy at 1 A.
  coil.energy = rings.impedance.imag() / (2 * rings.frequency.omega());
  for (std::size_t k = 0; k < rings.loss.size(); ++k) {
    const double w = winding.turns.weight[k];
    const double loss = longer * massive_loss_factor(winding, rings.frequency, k) * rings.loss[k];
    coil.turn_loss.push_back(loss);
    coil.conductor_resistance += loss;
    coil.part_turn_resistance += loss - longer * rings.loss[k];
    coil.dc_resistance += longer * w * massive_dc_resistance(winding, rings.conductance[k]);
    coil.turn_voltage.push_back(w * rings.voltage[k]);
  }
  add_outside(winding, coil);
  return coil;
}

LoadedCoil solve_loaded_coil(const EddySystem& system, const Winding& winding,
                             const SaturatingLoad& load, Frequency f, double current) {
  const SeriesDrive drive{turns_of(system, winding, f), current};
  SaturatingOptions options;
  options.surface_field = load.surface_field;
  options.start = load.start;
  options.newton = load.newton;
  LoadedCoil coil;
  coil.frequency = f;
  SaturatingCoil once(system);
  SaturatingCoil& solver = load.kept != nullptr ? *load.kept : once;
  coil.saturated = std::make_shared<const NonlinearCoil>(
      load.unchanged ? solver.solve_again(f, drive, options)
                     : solver.solve(load.bodies, f, drive, options));
  const NonlinearCoil& solved = *coil.saturated;
  coil.series.impedance = solved.impedance;
  coil.series.turn_voltage = drive.turns.kind == TurnKind::massive
                                 ? solved.turn_voltage
                                 : strand_voltages(system, drive.turns, solved);
  for (auto& v : coil.series.turn_voltage) v /= current;
  coil.series.field = scaled(solved.field, 1.0 / current);
  localise(system.mesh(), load.bodies, solved, coil.series.field);
  complete(system, winding, coil);
  if (load.energy)
    coil.energy = magnetic_energy(system.mesh(), coil.series.field) +
                  system.open().exterior_energy(coil.series.field.potential);
  return coil;
}

TurnSet turns_of(const EddySystem& system, const Winding& winding, Frequency f) {
  TurnSet turns = winding.turns;
  if (turns.kind != TurnKind::uniform) return turns;
  turns.resistance = ring_dc_resistance(system, winding);
  for (std::size_t k = 0; k < turns.region.size(); ++k)
    turns.proximity.push_back(turns.weight[k] * two_pi * winding.radius[k] *
                              bundle_loss(*winding.strands, f, 0.0, 1.0));
  return turns;
}

}  // namespace cw
