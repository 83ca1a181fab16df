#pragma once

#include <string>

#include "solver/outcome/result.hpp"

namespace cw {

/// The value of the first key of every result file; also identifies a directory of ours.
inline constexpr const char* result_format = "coilwright-result-2";

/// result.json as text: keys in a fixed order, numbers in full precision, UTF-8, ends with a
/// newline. Equal results give equal bytes apart from `timing`. Throws std::logic_error with the
/// key if a number is not finite: such a number is a defect of the program.
std::string result_json(const Result& result);

}  // namespace cw
