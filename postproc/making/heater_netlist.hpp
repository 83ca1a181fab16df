#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "solver/outcome/result.hpp"

namespace cw {

/// The state a netlist holds by default: the first with the work in the coil, else the first.
/// Empty: none that a push-pull drives (another drive, no tank, nothing computed).
std::optional<std::size_t> netlist_state(const Result& result);

/// A push-pull heater as a netlist for general circuit simulators, in SPICE3 syntax with the .param
/// and .meas of ngspice: supply, cable, chokes, two switches, tank, joints, leads, coil and work in
/// `state`, which netlist_state() gives; the other states stand in it as commented parameters.
///
/// Coil and work are two coupled inductances, L1 with the winding's resistance in series and L2
/// closed on R2. At w the primary shows L1 (1 - k^2 q^2/(1 + q^2)) and, beside the winding,
/// w L1 k^2 q/(1 + q^2), q = w L2/R2. These are the coil's inductance L and the reflected
/// resistance R of the state exactly for
///   L1 = L + q R/w,  k^2 = R (1 + q^2)/(q w L1),  R2 = w L2/q,
/// whatever q and L2. q = 1: reflected reactance and resistance are equal, as behind a thick skin;
/// k < 1 asks for R < q w L, so q = 2 R/(w L) where that is more. L2 = L1. (Derived.) L1 is then
/// not the inductance of the empty coil. R is all of the coil's resistance but winding and leads.
///
/// A supply that folds back stands at the voltage it folds to; one that trips is left at its
/// voltage.
std::string heater_netlist(const Result& result, std::size_t state);

}  // namespace cw
