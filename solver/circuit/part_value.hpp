#pragma once

namespace cw {

/// Throws std::invalid_argument if a part's value is not finite or is below zero. `example`: what
/// to write instead.
void require_not_negative(const char* what, double value, const char* example);

}  // namespace cw
