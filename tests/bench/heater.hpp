#pragma once

namespace cw::bench {

/// Prints the ratio of all five states of the chisel blank to one nonlinear solve of it, and of
/// that to a linear evaluation.
void print_heater_ratios();

}  // namespace cw::bench
