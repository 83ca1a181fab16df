#pragma once

#include <memory>

#include "solver/field/newton.hpp"

namespace cw {

/// A field with saturating bodies, at its true amplitude.
struct SaturatedField {
  /// The media of the saturating bodies hold the one reluctivity and conductivity that give the
  /// body's magnetic energy and loss, so magnetic_energy() and region_losses() are right. For the
  /// field at a point use B from field_at(), and H = nu B.
  FieldSolution field;
  std::vector<std::size_t> triangles;      ///< of the saturating bodies, rising
  std::vector<std::array<double, 12>> nu;  ///< at the nodes of TriangleRule of these triangles
                                           ///< [m/H]
  NewtonReport report;
};

/// The same with the coil that produces it. Figures hold at this current only.
struct NonlinearCoil : SaturatedField {
  std::complex<double> current;    ///< terminal current [A] rms
  std::complex<double> impedance;  ///< of the rings at this current [ohm]
  std::vector<std::complex<double>>
      turn_voltage;  ///< of each ring [V] rms (not weighted); massive turns
};

struct SaturatingOptions {
  NewtonLimits newton{};
  /// Guess of the field at the surfaces of the bodies [A/m] rms; 0: from the coil as a solenoid.
  double surface_field = 0.0;
  /// A solution for similar conditions (current, temperature or frequency) on the same mesh, with a
  /// coil of the same kind, to start from.
  const NonlinearCoil* start = nullptr;
};

/// The coil at its current with the bodies' permeability at every quadrature point. `base` needs no
/// factorisation; its media apply to all other regions. The reactance depends on the effective
/// permeability too: with the rms law it is up to 16 % high at 100 kA/m, 19 % at 200 kA/m
/// (tests/published/README.md). Hysteresis loss is left out. Throws SolveError, naming the step
/// that failed, if the power does not converge to 1e-6.
NonlinearCoil solve_saturating(const EddySystem& base, const std::vector<SaturatingRegion>& bodies,
                               Frequency f, const SeriesDrive& drive,
                               const SaturatingOptions& options = {});

/// solve_saturating() many times on one mesh with one set of bodies and turns: structure, order of
/// elimination and the matrices of everything else are kept.
class SaturatingCoil {
 public:
  /// `base` must outlive it.
  explicit SaturatingCoil(const EddySystem& base) : base_(base) {}
  NonlinearCoil solve(const std::vector<SaturatingRegion>& bodies, Frequency f,
                      const SeriesDrive& drive, const SaturatingOptions& options = {});
  /// With the bodies of the last solution, near its frequency and current: only these two change,
  /// and its factorisation is still used.
  NonlinearCoil solve_again(Frequency f, const SeriesDrive& drive,
                            const SaturatingOptions& options = {});

 private:
  NonlinearCoil solved(const SeriesDrive& drive, const SaturatingOptions& options);
  const EddySystem& base_;
  std::unique_ptr<SaturatingSystem> system_;
};

/// The same for a given right-hand side over unknowns (sources.hpp), rms.
SaturatedField solve_saturating(const EddySystem& base, const std::vector<SaturatingRegion>& bodies,
                                Frequency f, const Eigen::VectorXcd& source,
                                const SaturatingOptions& options);

/// Field in the middle of a solenoid [A/m]: ampere-turns / sqrt(length^2 + diameter^2). Source: law
/// of Biot and Savart for a thin winding, any textbook.
double solenoid_field(double ampere_turns, double length, double diameter);

}  // namespace cw
