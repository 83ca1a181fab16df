#pragma once

namespace cw::bench {

/// Prints the ratios of a whole evaluation to the yardstick, and of the 30-frequency sweep to five
/// direct solves; runs alternate, so that other load affects both.
void print_ratios();

/// Prints time by stages and error against size.
void print_sizes();

}  // namespace cw::bench
