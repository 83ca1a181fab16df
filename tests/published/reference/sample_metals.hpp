#pragma once

#include "tests/published/reference/loops.hpp"
#include "tests/published/reference/skin.hpp"

namespace cw::reference {

// Metals and a coil that several checks share. They are inputs of both sides of a comparison, so
// that none of them needs a source.

inline constexpr double kAnnealed = 1.0 / 5.8e7;  // copper of the ring figures, ohm m
inline constexpr Metal kCopper{1.724e-8};
inline constexpr Metal kAluminium{2.82e-8};
inline constexpr Metal kBrass{6.2e-8};
inline constexpr Metal kStainless{72e-8};
inline constexpr Metal kSteel100{16e-8, 100};
inline constexpr Metal kSteel40{16e-8, 40};
inline constexpr Metal kPastCurie{110e-8};
inline constexpr Metal kGraphite{1000e-8};
inline constexpr RingRow kFiveRings{{.025, .003}, .009, 5};

}  // namespace cw::reference
