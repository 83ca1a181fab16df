#pragma once

#include <string>

#include "solver/outcome/result.hpp"

namespace cw {

/// Refuses a result whose values are readable one by one but inconsistent: lists of different
/// length, impossible distances, tables outside the result directory. A run never writes such a
/// result; an edited file may be one. Throws ResultFileError; `name` is the file in messages.
void require_sound(const Result& result, const std::string& name);

}  // namespace cw
