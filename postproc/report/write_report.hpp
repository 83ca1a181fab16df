#pragma once

#include <filesystem>

namespace cw {

/// Makes report.html of a result directory from the other files in it: result.json, pictures/*.svg
/// and tables/. A run makes its page in the same way, so both pages are the same. Throws
/// ResultFileError if a file is damaged, WriteError.
void write_report(const std::filesystem::path& directory);

}  // namespace cw
