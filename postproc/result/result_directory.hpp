#pragma once

#include <filesystem>
#include <functional>

namespace cw {

/// The script beside the field files that opens them.
inline constexpr const char* viewer_script_file = "view_fields.py";

/// The case with the best remedy, beside the report.
inline constexpr const char* remedy_file = "remedy.toml";

/// Makes a result directory in one step: `fill` writes into a fresh directory beside `directory`,
/// which then replaces it. After a failure `directory` is unchanged and nothing incomplete remains.
/// An earlier result of ours is replaced. Refuses with WriteError: a file, a directory without our
/// result.json, and one that contains files of others.
void replace_result_directory(const std::filesystem::path& directory,
                              const std::function<void(const std::filesystem::path&)>& fill);

/// Refuses in advance what replace_result_directory() would refuse after all the work, and a place
/// that is not writable. Throws WriteError.
void require_result_directory(const std::filesystem::path& directory);

}  // namespace cw
