#pragma once

#include <string>
#include <vector>

#include "materials/quantity.hpp"

namespace cw {

/// A published reference level for the magnetic field that a person may be exposed to; unperturbed,
/// rms.
struct ReferenceLevel {
  std::string name;       ///< "ICNIRP 2010, general public"
  double flux_rms = 0.0;  ///< [T]
  bool general_public = true;
};

/// ICNIRP 2010, Health Phys. 99:818-836, tables 3 and 4, 1 Hz to 10 MHz; from 100 kHz to 10 MHz
/// also ICNIRP 2020, Health Phys. 118:483-524, local exposure of 6 minutes, H times mu0: both apply
/// there. Secondary copy; below 300 Hz from memory. The strictest first. Empty outside 1 Hz-10 MHz.
/// They are not limits by law, and they do not cover implants.
std::vector<ReferenceLevel> reference_levels(Frequency f);

}  // namespace cw
