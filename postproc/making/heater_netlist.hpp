#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "solver/outcome/result.hpp"

namespace cw {

/// The state whose values a netlist uses: the first with the work in the coil, else the first.
/// Empty if there is no state of a push-pull (another drive, no tank, nothing computed).
std::optional<std::size_t> netlist_state(const Result& result);

/// A push-pull heater as a netlist for general circuit simulators, in SPICE3 syntax with the .param
/// and .meas of ngspice: supply, cable, chokes, two switches, tank, joints, leads, coil and work in
/// `state`, from netlist_state(). Parameters of the other states follow as comments.
///
/// Coil and work are two coupled inductances, L1 with the winding's resistance in series, and L2
/// shorted by R2. At w the primary shows the inductance L1 (1 - k^2 q^2/(1 + q^2)) and the added
/// resistance w L1 k^2 q/(1 + q^2), q = w L2/R2. These equal the coil's inductance L and the
/// reflected resistance R of the state exactly for
///   L1 = L + q R/w,  k^2 = R (1 + q^2)/(q w L1),  R2 = w L2/q,
/// for any q and L2. With q = 1 reflected reactance and resistance are equal, as for a thick skin;
/// k < 1 requires R < q w L, so q = 2 R/(w L) if that is larger. L2 = L1. (Derived.) L1 is then not
/// the inductance of the empty coil. R is the coil's resistance except that of winding and leads.
///
/// A supply that folds back is set to the voltage to which it folds; one that trips keeps its set
/// voltage.
std::string heater_netlist(const Result& result, std::size_t state);

}  // namespace cw
