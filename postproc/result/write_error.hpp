#pragma once

#include <stdexcept>

namespace cw {

/// A result that could not be written; what() is one sentence that names the file and the reason.
struct WriteError : std::runtime_error {
  using std::runtime_error::runtime_error;
};

}  // namespace cw
