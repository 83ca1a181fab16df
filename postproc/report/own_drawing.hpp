#pragma once

#include <filesystem>
#include <string>
#include <string_view>

namespace cw {

/// What in a drawing is not allowed in a page, in words for a message: "found <script>". Empty for
/// what svg_of() writes: paths, rectangles, texts and embedded PNG pictures, with no attribute that
/// a browser would run or load. A file in a folder of results may come from anywhere.
std::string foreign_in_drawing(std::string_view svg);

/// The message for such a file; `remedy` says how to make the drawing again.
std::string foreign_drawing(const std::filesystem::path& file, const std::string& foreign,
                            const char* remedy);

}  // namespace cw
