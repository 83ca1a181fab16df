#pragma once

#include "postproc/result/result.hpp"

namespace cw::cases {

/// Version of the program, its compiler and its libraries, as they were built.
BuildInfo build_info();

}  // namespace cw::cases
