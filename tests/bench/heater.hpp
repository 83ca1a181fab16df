#pragma once

namespace cw::bench {

/// Prints all five states of the chisel blank over one nonlinear solve of it, and that over a
/// linear evaluation.
void print_heater_ratios();

}  // namespace cw::bench
