#pragma once

namespace cw::bench {

/// A thousand designs (turns, pitch, three metals) by both methods on two processes, compared with
/// single runs from scratch in the same program; the largest difference between the methods.
void print_grid_ratios();

/// Two hundred designs of the chisel blank, all its states, on two processes against single runs.
void print_chisel_ratio();

/// One and two ranks under mpirun, in turns.
void print_rank_scaling();

}  // namespace cw::bench
