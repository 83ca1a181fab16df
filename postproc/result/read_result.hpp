#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>

#include "postproc/result/result.hpp"

namespace cw {

/// A result file that is damaged, or none: the message names the file, the key, what stands there
/// and what to do.
class ResultFileError : public std::invalid_argument {
  using std::invalid_argument::invalid_argument;
};

/// The inverse of result_json(): result_json(read_result(text)) gives the same bytes. `name` is the
/// file in messages. A source comes back as one text, its parts joined. Keys it does not know are
/// passed over. Throws ResultFileError.
Result read_result(const std::string& text, const std::string& name = "result.json");

/// result.json of a result directory. Throws ResultFileError.
Result read_result_directory(const std::filesystem::path& directory);

}  // namespace cw
