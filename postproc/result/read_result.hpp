#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>

#include "materials/one_line.hpp"
#include "solver/outcome/result.hpp"

namespace cw {

/// A result file that is damaged, or none: the message names the file, the key, what stands there
/// and what to do, on one line that a terminal can be given.
class ResultFileError : public std::invalid_argument {
 public:
  explicit ResultFileError(const std::string& text) : std::invalid_argument(one_line(text)) {}
};

/// The inverse of result_json(): result_json(read_result(text)) gives the same bytes. `name` is the
/// file in messages. A source comes back as one text, its parts joined. Keys it does not know are
/// passed over. Throws ResultFileError.
Result read_result(const std::string& text, const std::string& name = "result.json");

/// result.json of a result directory. Throws ResultFileError.
Result read_result_directory(const std::filesystem::path& directory);

}  // namespace cw
