#pragma once

#include "cases/case.hpp"
#include "solver/outcome/result.hpp"

namespace cw::cases {

/// The text of a case with a remedy, for a file in `directory`: the file with its comments, and the
/// values of the remedy. Empty if that is not possible (a case from a stream or with values set on
/// the command line, a notation that is not supported).
std::string remedied_case(const Case& subject, const Remedy& remedy,
                          const std::filesystem::path& directory);

}  // namespace cw::cases
