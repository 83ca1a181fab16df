#pragma once

namespace cw::bench {

/// Prints whole evaluation / yardstick, and the 30-frequency sweep / five direct solves, each from
/// runs taken in turns so that a busy moment hits both.
void print_ratios();

/// Prints time by stages and error against size.
void print_sizes();

}  // namespace cw::bench
