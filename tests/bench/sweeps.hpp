#pragma once

namespace cw::bench {

/// A thousand designs (turns, pitch, three metals) by both methods on two processes, against single
/// runs from nothing in the same program; the largest difference between the methods; ten designs
/// of the chisel blank; one and two ranks under mpirun.
void print_sweep_ratios();

}  // namespace cw::bench
