#pragma once

namespace cw {

/// Radii of coaxial cylinders, inner < outer [m].
struct CoaxialPair {
  double inner = 0.0, outer = 0.0;
};

/// Share of the radiation leaving the inner of two coaxial cylinders of one length that arrives on
/// the outer. Source: configuration C-91/C-92 of J. R. Howell's catalogue of radiation
/// configuration factors; R. Siegel, J. R. Howell, Thermal Radiation Heat Transfer, appendix (from
/// memory, checked by test against direct integration).
double view_inner_to_outer(CoaxialPair radii, double length);

/// Share of the radiation leaving a ring of the inner cylinder that arrives on the part of the
/// outer cylinder from the height of the ring to `length` to one side; odd in `length`, 1/2 at
/// infinity. It is half the derivative of length times `view_inner_to_outer`, by view factor
/// algebra: the sum over both lengths is twice an integral over their distance. A ring at z sees
/// the part from a to b with view_of_ring(b - z) - view_of_ring(a - z); a ring of the outer
/// cylinder sees the inner one with inner/outer times that, by reciprocity.
double view_of_ring(CoaxialPair radii, double length);

/// Share of the radiation leaving a ring of the outer cylinder that arrives on the outer cylinder
/// itself, past the inner one, from the height of the ring to `length` to one side; odd in
/// `length`, (1 - inner/outer)/2 at infinity. It integrates cos cos/(pi s^2) over all chords that
/// miss the inner cylinder: in closed form along the axis, by Simpson's rule round it.
double view_along_wall(CoaxialPair radii, double length);

/// Factor of sigma (T1^4 - T2^4) per area of the inner cylinder for grey, diffuse coaxial
/// cylinders: 1/(1/e1 + (r1/r2)(1/e2 - 1)). Source: any text on heat transfer, long concentric
/// cylinders.
double grey_coaxial(CoaxialPair radii, double inner_emissivity, double outer_emissivity);

}  // namespace cw
