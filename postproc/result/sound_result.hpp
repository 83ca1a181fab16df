#pragma once

#include <string>

#include "solver/outcome/result.hpp"

namespace cw {

/// Refuses a result whose values are readable one by one but do not go together: lists of unlike
/// length, distances that are none, tables outside the result directory. A run never leaves such a
/// result; a file that was edited may. Throws ResultFileError; `name` is the file in messages.
void require_sound(const Result& result, const std::string& name);

}  // namespace cw
