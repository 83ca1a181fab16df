#pragma once

#include <filesystem>
#include <functional>

namespace cw {

/// The script among the field files that opens them.
inline constexpr const char* viewer_script_file = "view_fields.py";

/// The case with the best remedy, beside the report.
inline constexpr const char* remedy_file = "remedy.toml";

/// Makes a result directory all at once: `fill` writes into a fresh directory beside `directory`,
/// which then takes its place. After a failure `directory` is as it was and nothing half-written
/// stays. An earlier result of ours is replaced. Refused with WriteError: a file, a directory
/// without our result.json, and one into which somebody has put files of their own.
void replace_result_directory(const std::filesystem::path& directory,
                              const std::function<void(const std::filesystem::path&)>& fill);

/// Refuses beforehand what replace_result_directory() would refuse after all the work, and a place
/// where nobody may write. Throws WriteError.
void require_result_directory(const std::filesystem::path& directory);

}  // namespace cw
