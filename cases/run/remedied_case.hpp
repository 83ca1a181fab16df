#pragma once

#include "cases/case.hpp"
#include "solver/outcome/result.hpp"

namespace cw::cases {

/// The text of a case with a remedy in it, to stand in `directory`: the file as it was written,
/// its comments too, other values where the remedy has them. Empty where it cannot be told apart
/// from its surroundings (a case from a stream or with values set on the command line, a value
/// inside braces).
std::string remedied_case(const Case& subject, const Remedy& remedy,
                          const std::filesystem::path& directory);

}  // namespace cw::cases
