#pragma once

#include <string>

#include "solver/outcome/result.hpp"

namespace cw::cases {

/// Version of the program, its compiler and its libraries, at build time.
BuildInfo build_info();

/// Identifies the program that computed figures: SHA-256 of its sources, including the library of
/// materials, with compiler and libraries. Figures of programs with different forms may differ.
std::string program_form();
/// SHA-256 of the sources alone; generated when the program is built.
std::string sources_sha256();

}  // namespace cw::cases
