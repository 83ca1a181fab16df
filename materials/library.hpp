#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "materials/material.hpp"

namespace cw {

/// A material file or name that cannot be used; what() has one line per mistake, `file:line:column:
/// ...`.
struct MaterialError : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// Names of the library's materials, sorted.
std::vector<std::string> material_names();

/// A library material by name ("copper-tube"). Throws MaterialError with the nearest names.
Material find_material(std::string_view name);

/// A user's own material file, in the form of the library's files; see material_reader.hpp for its
/// keys. Throws MaterialError with every mistake in it.
Material read_material(const std::filesystem::path& file);
/// Its bytes, for read_material_text(). Throws MaterialError.
std::string material_text(const std::filesystem::path& file);

/// The same for text that is not in a file; `file` is the name in messages.
Material read_material_text(std::string_view text, const std::filesystem::path& file);

}  // namespace cw
