#pragma once

namespace cw {

/// How much the radius of a bent soft copper tube grows when it is released, as a share of that
/// radius. Elastic recovery from the bending moment M of a tube that is plastic over its whole
/// section: M/(E I) in curvature, with the flow stress at the strain of the outermost fibre. A few
/// per cent; an estimate for choosing a former, not a measurement. `diameter` outside and `wall`
/// [m], `radius` of the middle of the tube after release [m].
/// Source: plastic moment and recovery from beam theory, e.g. J. M. Gere, Mechanics of Materials;
/// flow stress 315 MPa strain^0.54 and modulus 117 GPa of annealed copper from S. Kalpakjian and S.
/// Schmid, Manufacturing Engineering and Technology, tables of tensile properties (all from
/// memory).
double spring_back(double diameter, double wall, double radius);

}  // namespace cw
