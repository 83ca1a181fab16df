#include "solver/field/enriched_problem.hpp"

namespace cw {

namespace {

using Complex = std::complex<double>;

/// Symmetric, not Hermitian: no conjugate.
Complex product(const Eigen::VectorXcd& a, const Eigen::VectorXcd& b) { return (a.transpose() * b).value(); }

}  // namespace

void Correction::add(Complex factor, const Correction& other) {
  cubic += factor * other.cubic;
  second_order.potential += factor * other.second_order.potential;
  for (std::size_t i = 0; i < second_order.loop_voltage.size(); ++i)
    second_order.loop_voltage[i] += factor * other.second_order.loop_voltage[i];
}

EnrichedProblem::EnrichedProblem(const EddySystem& system, const TurnSet& turns, const TurnResponse& response)
    : system_(system), turns_(turns), response_(response), surplus_(system, response.frequency) {}

Correction EnrichedProblem::complete(const Eigen::VectorXcd& cubic) const {
  Correction c{cubic, {response_.frequency, system_.media(), {}, {}, {}}};
  c.second_order.loop_voltage.assign(system_.media().size(), 0.0);
  c.second_order.impressed.assign(system_.media().size(), 0.0);
  const Eigen::VectorXcd load = surplus_.load_on_second_order(cubic);
  Eigen::VectorXcd unknowns = system_.solve(load);
  if (turns_.kind == TurnKind::massive) {
    // The induced currents of cubic part and answer must be driven back to zero in every turn.
    const Eigen::VectorXcd linkage = surplus_.linkage(cubic);
    Eigen::VectorXcd induced = response_.potential.transpose() * load;
    for (std::size_t k = 0; k < turns_.region.size(); ++k) induced[k] += linkage[turns_.region[k]];
    const Eigen::VectorXcd voltage = Complex{0, response_.frequency.omega()} * (response_.impedance * induced);
    unknowns += response_.potential * voltage;
    for (std::size_t k = 0; k < turns_.region.size(); ++k) c.second_order.loop_voltage[turns_.region[k]] = voltage[k];
  }
  c.second_order.potential = system_.to_nodes(unknowns);
  return c;
}

Eigen::VectorXcd EnrichedProblem::apply(const Correction& c) const {
  return surplus_.apply(c.cubic) - surplus_.residual(c.second_order);
}

Eigen::VectorXcd EnrichedProblem::precondition(const Eigen::VectorXcd& residual) const {
  // The cubic functions among themselves: a few steps, each far cheaper than a back-substitution.
  constexpr int steps = 6;
  const Eigen::VectorXcd& diagonal = surplus_.diagonal();
  Eigen::VectorXcd rest = residual, x = Eigen::VectorXcd::Zero(residual.size());
  Eigen::VectorXcd z = rest.cwiseQuotient(diagonal), direction = z;
  Complex size = product(rest, z);
  for (int k = 0; k < steps && size != 0.0; ++k) {
    const Eigen::VectorXcd image = surplus_.apply(direction);
    const Complex step = size / product(direction, image);
    x += step * direction;
    rest -= step * image;
    z = rest.cwiseQuotient(diagonal);
    const Complex next = product(rest, z);
    direction = z + (next / size) * direction;
    size = next;
  }
  return x;
}

Correction EnrichedProblem::solve_crudely(const Eigen::VectorXcd& residual) const {
  return complete(residual.cwiseQuotient(surplus_.diagonal()));
}

Correction EnrichedProblem::solve(const Eigen::VectorXcd& residual, int steps) const {
  Eigen::VectorXcd rest = residual, z = precondition(rest), direction = z;
  Complex size = product(rest, z);
  Correction sum;
  for (int k = 0; k < steps; ++k) {
    const Correction c = complete(direction);
    if (k == 0) {
      sum = c;
      sum.add(-1.0, c);
    }
    if (size == 0.0) break;
    const Eigen::VectorXcd image = apply(c);
    const Complex step = size / product(direction, image);
    sum.add(step, c);
    if (k + 1 == steps) break;
    rest -= step * image;
    z = precondition(rest);
    // The preconditioner changes a little from step to step: the flexible form of the recurrence.
    const Complex change = -step * product(z, image);
    direction = z + (change / size) * direction;
    size = product(rest, z);
  }
  return sum;
}

}  // namespace cw
