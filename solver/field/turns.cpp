#include "solver/field/turns.hpp"

#include <Eigen/LU>
#include <numbers>

#include "solver/field/sources.hpp"

namespace cw {

namespace {

using Complex = std::complex<double>;

Eigen::MatrixXd excitations(const EddySystem& system, const TurnSet& turns) {
  Eigen::MatrixXd f(system.unknowns(), static_cast<Eigen::Index>(turns.region.size()));
  for (std::size_t k = 0; k < turns.region.size(); ++k)
    f.col(k) = turns.kind == TurnKind::massive ? voltage_source(system, turns.region[k])
                                               : current_source(system, turns.region[k]);
  return f;
}

}  // namespace

TurnResponse solve_turns(EddySystem& system, const TurnSet& turns, Frequency f) {
  system.factorise(f);
  const Eigen::MatrixXd source = excitations(system, turns);
  TurnResponse response{f, system.solve(source.cast<Complex>()), {}};
  const Eigen::MatrixXcd linkage = source.transpose() * response.potential;
  if (turns.kind == TurnKind::uniform) {
    response.impedance = imaginary_unit * f.omega() * linkage;
    for (std::size_t k = 0; k < turns.region.size(); ++k)
      response.impedance(k, k) += turns.resistance[k];
    return response;
  }
  Eigen::MatrixXcd admittance = -imaginary_unit * f.omega() * linkage;
  for (std::size_t k = 0; k < turns.region.size(); ++k)
    admittance(k, k) += loop_conductance(system, turns.region[k]);
  response.impedance = admittance.inverse();
  return response;
}

SeriesCoil connect_in_series(const EddySystem& system, const TurnSet& turns,
                             const TurnResponse& response) {
  const Eigen::Map<const Eigen::VectorXd> weight(turns.weight.data(),
                                                 static_cast<Eigen::Index>(turns.weight.size()));
  const Eigen::VectorXcd current = weight.cast<Complex>();
  const Eigen::VectorXcd voltage = response.impedance * current;
  SeriesCoil coil;
  coil.impedance = weight.cast<Complex>().cwiseProduct(voltage).sum();
  coil.turn_voltage.assign(voltage.data(), voltage.data() + voltage.size());
  const bool massive = turns.kind == TurnKind::massive;
  FieldSolution& field = coil.field;
  field.frequency = response.frequency;
  field.media = system.media();
  field.potential = system.to_nodes(response.potential * (massive ? voltage : current));
  field.loop_voltage.assign(field.media.size(), 0.0);
  field.impressed.assign(field.media.size(), 0.0);
  for (std::size_t k = 0; k < turns.region.size(); ++k)
    if (massive)
      field.loop_voltage[turns.region[k]] = voltage[k];
    else
      field.impressed[turns.region[k]] = current[k] / section_area(system.mesh(), turns.region[k]);
  return coil;
}

FieldSolution scaled(const FieldSolution& field, std::complex<double> factor) {
  FieldSolution result = field;
  result.potential *= factor;
  for (auto& v : result.loop_voltage) v *= factor;
  for (auto& v : result.impressed) v *= factor;
  return result;
}

}  // namespace cw
