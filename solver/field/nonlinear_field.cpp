#include "solver/field/nonlinear_field.hpp"

#include <fmt/format.h>

#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "solver/field/sources.hpp"

namespace cw {

namespace {

using Complex = std::complex<double>;

/// Field that determines the uniform permeability of the first guess, over the field at the
/// surface. Newton's method then starts not too far beyond saturation: measured, it takes the
/// fewest steps between 0.2 and 0.5.
constexpr double guess_share = 0.3;

std::vector<double> uniform_guess(const SaturatingSystem& system, const EddySystem& base,
                                  double surface_field) {
  std::vector<double> nu;
  for (const SaturatingRegion& body : system.bodies()) {
    double share = body.magnetisation;
    if (body.local)  // the most magnetic point: the cool core
      for (const SaturatingCell& cell : system.cells())
        if (&system.bodies()[cell.body] == &body)
          for (const LocalMedium& m : cell.medium) share = std::max(share, m.magnetisation);
    nu.push_back(body.law == nullptr ? base.media()[body.region].reluctivity
                                     : 1 / (mu0 * body.law->relative_permeability(
                                                      guess_share * surface_field, share)));
  }
  return nu;
}

Eigen::VectorXcd linear_solution(SaturatingSystem& system, const EddySystem& base,
                                 const Eigen::VectorXcd& f, double surface_field) {
  system.set_uniform(uniform_guess(system, base, surface_field));
  system.factorise();
  return system.precondition(f);
}

/// Newton's method from several guesses, then in steps of amplitude from the linear end.
class Search {
 public:
  Search(SaturatingSystem& system, const EddySystem& base, const NewtonLimits& limits)
      : system_(system), base_(base), limits_(limits) {}

  NewtonResult from(const Eigen::VectorXcd& x, const Eigen::VectorXcd& f) {
    NewtonResult result = solve_newton(system_, f, x, limits_);
    add(result.report);
    return result;
  }

  NewtonResult from_guess(const Eigen::VectorXcd& f, double surface_field) {
    limits_.factorised = false;
    ++total_.factorisations;
    ++total_.back_solves;
    return from(linear_solution(system_, base_, f, surface_field), f);
  }

  /// Amplitude rises from 1/64; a step that fails is halved, at most three times.
  NewtonResult by_steps(const Eigen::VectorXcd& f, double surface_field) {
    double share = 1.0 / 64, ratio = 2.0;
    NewtonResult result = from_guess(share * f, share * surface_field);
    if (!result.report.converged) return result;
    int halvings = 0;
    while (share < 1.0) {
      const double next = std::min(1.0, share * ratio);
      NewtonResult trial = from(next / share * result.x, next * f);
      if (trial.report.converged) {
        result = std::move(trial);
        share = next;
      } else if (++halvings > 3) {
        failed_at_ = next;
        return trial;
      } else {
        ratio = std::sqrt(ratio);
      }
    }
    return result;
  }

  [[nodiscard]] const NewtonReport& total() const { return total_; }
  [[nodiscard]] double failed_at() const { return failed_at_; }

 private:
  void add(const NewtonReport& r) {
    total_.steps += r.steps;
    total_.factorisations += r.factorisations;
    total_.back_solves += r.back_solves;
    total_.backtracks += r.backtracks;
    total_.correction = r.correction;
    total_.converged = r.converged;
  }

  SaturatingSystem& system_;
  const EddySystem& base_;
  NewtonLimits limits_;
  NewtonReport total_;
  double failed_at_ = 1.0 / 64;
};

struct Start {
  double surface_field;                        ///< [A/m] rms
  const Eigen::VectorXcd* solution = nullptr;  ///< or null
};

NewtonResult search(SaturatingSystem& system, const EddySystem& base, const Eigen::VectorXcd& f,
                    const Start& start, const NewtonLimits& limits) {
  Search run(system, base, limits);
  NewtonResult result;
  if (start.solution != nullptr) result = run.from(*start.solution, f);
  for (const double factor : {1.0, 4.0, 0.25})
    if (!result.report.converged) result = run.from_guess(f, factor * start.surface_field);
  if (!result.report.converged) result = run.by_steps(f, start.surface_field);
  result.report = run.total();
  if (result.report.converged) return result;
  throw SolveError(fmt::format(
      "the saturating field at {:.6g} Hz did not settle: Newton's method from three guesses and "
      "then in steps of "
      "amplitude stopped at {:.3g} of the excitation with a relative correction of {:.2g} left "
      "(wanted {:.2g}), "
      "after {} steps; no result is given. Check the magnetisation curve, or try a finer mesh",
      system.frequency().hertz, run.failed_at(), result.report.correction, limits.tolerance,
      result.report.steps));
}

/// One reluctivity and conductivity of a body that give its energy and loss.
Media equivalent_media(const SaturatingSystem& system, const EddySystem& base,
                       const Eigen::VectorXcd& x) {
  Media media = base.media();
  for (std::size_t b = 0; b < system.bodies().size(); ++b) {
    double energy = 0, flux = 0, loss = 0, electric = 0;
    for (const SaturatingCell& cell : system.cells()) {
      if (cell.body != b) continue;
      for (std::size_t q = 0; q < 12; ++q) {
        const double b2 = cell.flux_density[q].squaredNorm() * cell.volume[q];
        Complex a = 0;
        for (int i = 0; i < 6; ++i)
          if (cell.dof[i] >= 0) a += cell.value[q][i] * x[cell.dof[i]];
        const double e2 = std::norm(a) * cell.volume[q];
        energy += cell.nu[q] * b2;
        flux += b2;
        loss += cell.medium[q].conductivity * e2;
        electric += e2;
      }
    }
    Medium& medium = media[system.bodies()[b].region];
    if (flux > 0) medium.reluctivity = energy / flux;
    if (electric > 0 && system.bodies()[b].local) medium.conductivity = loss / electric;
  }
  return media;
}

/// Maps values at the points of TriangleRule to nodal values of the nearest second-order function,
/// in the mean over the triangle: multiplied by any other second-order function, both have the same
/// integral.
Eigen::Matrix<double, 6, 12> projection() {
  Eigen::Matrix<double, 6, 12> weighed, shape;
  for (int q = 0; q < 12; ++q) {
    const auto& node = TriangleRule::nodes()[q];
    shape.col(q) = shape_values(node.x, node.y);
    weighed.col(q) = node.weight * shape.col(q);
  }
  return (weighed * shape.transpose()).inverse() * weighed;
}

/// Conductivity at the nodes of every triangle; empty if no body has a local one.
std::vector<std::array<double, 6>> local_conductivity(const SaturatingSystem& system,
                                                      const Mesh& mesh, const Media& media) {
  std::vector<std::array<double, 6>> all;
  const auto& bodies = system.bodies();
  if (std::none_of(bodies.begin(), bodies.end(), [](const auto& b) { return bool(b.local); }))
    return all;
  all.resize(mesh.triangles.size());
  for (std::size_t t = 0; t < all.size(); ++t) all[t].fill(media[mesh.region[t]].conductivity);
  const Eigen::Matrix<double, 6, 12> to_nodes = projection();
  for (const SaturatingCell& cell : system.cells()) {
    if (!bodies[cell.body].local) continue;
    Eigen::Vector<double, 12> sigma;
    for (int q = 0; q < 12; ++q) sigma[q] = cell.medium[q].conductivity;
    const Eigen::Vector<double, 6> nodal =
        (to_nodes * sigma).cwiseMax(sigma.minCoeff()).cwiseMin(sigma.maxCoeff());
    for (int i = 0; i < 6; ++i) all[cell.triangle][i] = nodal[i];
  }
  return all;
}

void fill_field(const SaturatingSystem& system, const EddySystem& base, const NewtonResult& result,
                SaturatedField& out) {
  out.field.frequency = system.frequency();
  out.field.media = equivalent_media(system, base, result.x);
  out.field.local_conductivity = local_conductivity(system, base.mesh(), out.field.media);
  out.field.potential = base.to_nodes(result.x.head(system.potentials()));
  out.field.loop_voltage.assign(base.media().size(), 0.0);
  out.field.impressed.assign(base.media().size(), 0.0);
  for (const SaturatingCell& cell : system.cells()) {
    out.triangles.push_back(cell.triangle);
    out.nu.push_back(cell.nu);
  }
  out.report = result.report;
}

/// Field inside the coil per ampere: ampere-turns over the size of the coil [1/m].
double field_per_ampere(const Mesh& mesh, const TurnSet& turns) {
  double low = 1e300, high = -1e300, radius = 0, winding = 0;
  for (std::size_t k = 0; k < turns.region.size(); ++k) {
    double sum = 0, count = 0;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
      if (mesh.region[t] != turns.region[k]) continue;
      for (const int node : mesh.triangles[t]) {
        low = std::min(low, mesh.nodes[node].z);
        high = std::max(high, mesh.nodes[node].z);
        sum += mesh.nodes[node].r;
        ++count;
      }
    }
    radius += sum / count / static_cast<double>(turns.region.size());
    winding += turns.weight[k];
  }
  return solenoid_field(winding, high - low, 2 * radius);
}

/// Unknowns of an earlier solution of the same coil at another excitation.
Eigen::VectorXcd unknowns_from(const SaturatingSystem& system, const EddySystem& base,
                               const SeriesDrive& drive, const NonlinearCoil& start) {
  return system.unknowns_of(base.to_unknowns(start.field.potential), start.turn_voltage) *
         (drive.current / start.current);
}

}  // namespace

double solenoid_field(double ampere_turns, double length, double diameter) {
  return ampere_turns / std::hypot(length, diameter);
}

NonlinearCoil SaturatingCoil::solve(const std::vector<SaturatingRegion>& bodies, Frequency f,
                                    const SeriesDrive& drive, const SaturatingOptions& options) {
  if (system_)
    system_->renew(bodies, f, drive);
  else
    system_ = std::make_unique<SaturatingSystem>(base_, bodies, f, &drive);
  return solved(drive, options);
}

NonlinearCoil SaturatingCoil::solve_again(Frequency f, const SeriesDrive& drive,
                                          const SaturatingOptions& options) {
  system_->move_to(f, drive);
  SaturatingOptions again = options;
  again.newton.factorised = true;
  return solved(drive, again);
}

NonlinearCoil SaturatingCoil::solved(const SeriesDrive& drive, const SaturatingOptions& options) {
  SaturatingSystem& system = *system_;
  const Eigen::VectorXcd source = system.excitation();
  Start start{options.surface_field};
  Eigen::VectorXcd x;
  if (options.start != nullptr) {
    x = unknowns_from(system, base_, drive, *options.start);
    start.solution = &x;
  }
  if (start.surface_field <= 0) {
    start.surface_field = field_per_ampere(base_.mesh(), drive.turns) * std::abs(drive.current);
  }
  const NewtonResult result = search(system, base_, source, start, options.newton);
  NonlinearCoil coil;
  fill_field(system, base_, result, coil);
  coil.current = drive.current;
  coil.impedance = system.coil_voltage(result.x) / coil.current;
  coil.turn_voltage = system.ring_voltages(result.x);
  for (std::size_t k = 0; k < drive.turns.region.size(); ++k)
    if (drive.turns.kind == TurnKind::massive)
      coil.field.loop_voltage[drive.turns.region[k]] = coil.turn_voltage[k];
    else
      coil.field.impressed[drive.turns.region[k]] =
          drive.turns.weight[k] * coil.current / section_area(base_.mesh(), drive.turns.region[k]);
  return coil;
}

NonlinearCoil solve_saturating(const EddySystem& base, const std::vector<SaturatingRegion>& bodies,
                               Frequency f, const SeriesDrive& drive,
                               const SaturatingOptions& options) {
  return SaturatingCoil(base).solve(bodies, f, drive, options);
}

SaturatedField solve_saturating(const EddySystem& base, const std::vector<SaturatingRegion>& bodies,
                                Frequency f, const Eigen::VectorXcd& source,
                                const SaturatingOptions& options) {
  SaturatingSystem system(base, bodies, f, nullptr);
  const NewtonResult result = search(system, base, source, {options.surface_field}, options.newton);
  SaturatedField field;
  fill_field(system, base, result, field);
  return field;
}

}  // namespace cw
