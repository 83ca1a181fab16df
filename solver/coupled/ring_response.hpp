#pragma once

#include <Eigen/Core>
#include <complex>
#include <span>
#include <vector>

#include "mesh/section.hpp"
#include "mesh/sizing.hpp"
#include "solver/coupled/loaded_coil.hpp"
#include "solver/field/medium.hpp"

namespace cw {

// Many coils round the same non-magnetic work at one frequency, at far less cost than a field each.
// Every ring, and the work, is solved once alone in the fields of filaments all round it; its
// reaction field is represented by currents in a few filaments inside it. A coil is then a small
// dense system of these filaments, coupled by Maxwell's closed form for coaxial loops. The only
// approximation is the number of filaments; its error falls exponentially with that number (method
// of fundamental solutions: R. Mathon, R. L. Johnston, SIAM J. Numer. Anal. 14 (1977) 638, from
// memory).

/// Response of a conductor to an external field at one frequency.
struct FieldAnswer {
  std::vector<Point> filaments;  ///< inside it; z from its own middle [m]
  /// Filament currents [A] per flux linkage of the filaments with the external field [Wb]; for a
  /// ring: without net current. Symmetric.
  Eigen::MatrixXcd response;
};

/// A round ring (tube or wire) alone.
struct RingAnswer : FieldAnswer {
  Eigen::VectorXcd drive;          ///< filament currents for 1 A in the ring [A]
  std::complex<double> impedance;  ///< alone [ohm]
  /// Voltage at zero current, per flux linkage of the filaments [V/Wb]; by reciprocity j w drive.
  Eigen::VectorXcd induced;
  double conductance = 0.0;  ///< at direct current [S]
};

/// Solves the ring about the axis; `metal` must be non-magnetic. Throws MeshError, SolveError.
RingAnswer ring_answer(const Disc& ring, const Medium& metal, Frequency f, const Sizing& sizing);

/// Solves the bodies (media by RegionId from 1, all non-magnetic). Valid for conductors that are at
/// least `clearance` [m] away from the rectangle that encloses all bodies.
FieldAnswer body_answer(const std::vector<SectionRegion>& bodies, const Media& media, Frequency f,
                        const Sizing& sizing, double clearance);

/// A ring in its place.
struct PlacedRing {
  const RingAnswer* answer = nullptr;
  double z = 0.0;       ///< of its middle [m]
  double weight = 1.0;  ///< its current for 1 A in the winding [A]
};

/// The rings in series, 1 A rms in the winding, with the bodies (null: none) in their field.
RingFigures solve_rings(std::span<const PlacedRing> rings, const FieldAnswer* bodies, Frequency f);

/// Distance from a point to the rectangle that encloses the bodies [m]; 0 inside.
double distance_to(const std::vector<SectionRegion>& bodies, Point p);

}  // namespace cw
