#include "solver/field/enriched_problem.hpp"

namespace cw {

namespace {

using Complex = std::complex<double>;

/// Symmetric, not Hermitian: no conjugate.
Complex product(const Eigen::VectorXcd& a, const Eigen::VectorXcd& b) {
  return a.cwiseProduct(b).sum();
}

}  // namespace

void Correction::scale(Complex factor) {
  cubic *= factor;
  second_order = scaled(second_order, factor);
}

void Correction::operator+=(const Correction& other) {
  cubic += other.cubic;
  second_order.potential += other.second_order.potential;
  for (std::size_t i = 0; i < second_order.loop_voltage.size(); ++i)
    second_order.loop_voltage[i] += other.second_order.loop_voltage[i];
}

EnrichedProblem::EnrichedProblem(const EddySystem& system, const TurnSet& turns,
                                 const TurnResponse& response)
    : system_(system), turns_(turns), response_(response), surplus_(system, response.frequency) {}

FieldSolution EnrichedProblem::answer(const Eigen::VectorXcd& load,
                                      const std::vector<Complex>& voltage_load) const {
  const std::vector<Complex> zero(system_.media().size(), 0.0);
  FieldSolution field{response_.frequency, {}, {}, zero, zero};
  Eigen::VectorXcd unknowns = system_.solve(load);
  if (turns_.kind == TurnKind::massive) {
    Eigen::VectorXcd induced = response_.potential.transpose() * load;
    for (std::size_t k = 0; k < turns_.region.size(); ++k)
      induced[k] += voltage_load[turns_.region[k]];
    const Eigen::VectorXcd voltage =
        Complex{0, response_.frequency.omega()} * (response_.impedance * induced);
    unknowns.noalias() += response_.potential * voltage;
    for (std::size_t k = 0; k < turns_.region.size(); ++k)
      field.loop_voltage[turns_.region[k]] = voltage[k];
  }
  field.potential = system_.to_nodes(unknowns);
  return field;
}

Correction EnrichedProblem::complete(const Eigen::VectorXcd& cubic) const {
  return {cubic, answer(surplus_.load_on_second_order(cubic), surplus_.linkage(cubic))};
}

Eigen::VectorXcd EnrichedProblem::apply(const Correction& c) const {
  return surplus_.apply(c.cubic) - surplus_.residual(c.second_order);
}

Eigen::VectorXcd EnrichedProblem::dual(const Functional& g) const {
  return surplus_.answer(g.cubic + surplus_.residual(answer(g.second_order, g.voltage)));
}

Corrections correct(const EnrichedProblem& problem, const Eigen::VectorXcd& residual) {
  Correction first = problem.complete(problem.surplus().answer(residual));
  Corrections result{first, first};
  const Complex size = product(residual, first.cubic);
  if (size == 0.0) return result;
  const Eigen::VectorXcd image = problem.apply(first);
  const Complex step = size / product(first.cubic, image);
  const Eigen::VectorXcd rest = residual - step * image;
  const Eigen::VectorXcd answer = problem.surplus().answer(rest);
  // Conjugate to the first direction in spite of the inexact solutions.
  const Complex overlap = product(answer, image) / product(first.cubic, image);
  Correction second = problem.complete(answer - overlap * first.cubic);
  second.scale(product(rest, second.cubic) / product(second.cubic, problem.apply(second)));
  result.fine.scale(step);
  result.fine += second;
  return result;
}

}  // namespace cw
