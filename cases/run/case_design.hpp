#pragma once

#include "cases/case.hpp"
#include "postproc/result/design.hpp"

namespace cw::cases {

/// What a reader of the result needs to know of the case.
Design case_design(const Case& subject);

}  // namespace cw::cases
