#pragma once

#include <string>

#include "solver/outcome/result.hpp"

namespace cw::cases {

/// Version of the program, its compiler and its libraries, as they were built.
BuildInfo build_info();

/// What identifies the program that figures come from: SHA-256 of its sources, the library of
/// materials among them, with compiler and libraries. Figures of two forms need not agree.
std::string program_form();
/// Of the sources alone; written as the program is built.
std::string sources_sha256();

}  // namespace cw::cases
