#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>

#include "materials/one_line.hpp"
#include "solver/outcome/result.hpp"

namespace cw {

/// A result file that is damaged or is none. The message names the file, the key, what was found
/// and what to do, in one line that is safe for a terminal.
class ResultFileError : public std::invalid_argument {
 public:
  explicit ResultFileError(const std::string& text) : std::invalid_argument(one_line(text)) {}
};

/// The inverse of result_json(): result_json(read_result(text)) gives the same bytes. `name` is the
/// file in messages. A source is read back as one text, its parts joined. Unknown keys are ignored.
/// Throws ResultFileError.
Result read_result(const std::string& text, const std::string& name = "result.json");

/// result.json of a result directory. Throws ResultFileError.
Result read_result_directory(const std::filesystem::path& directory);

}  // namespace cw
