#include "materials/library.hpp"

#include <fmt/format.h>
// toml++ 3.3 asserts on "[ }" in builds with assertions, where its own check then names the mistake
// with its place. Every file that includes it must say the same (one definition rule).
#define TOML_ASSERT(expr) static_assert(true)
#include <toml++/toml.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <system_error>

#include "materials/embedded.hpp"
#include "materials/material_reader.hpp"
#include "materials/nearest.hpp"

namespace cw {
namespace {

int at_least_one(toml::source_index i) {
  return std::max(static_cast<int>(i), 1);
}

/// The file format's tree as our own.
Entry entry_from(const toml::node& node) {
  const auto at = node.source().begin;
  Entry out{at_least_one(at.line), at_least_one(at.column), {}};
  if (const auto* table = node.as_table()) {
    Entry::Table members;
    for (const auto& [key, child] : *table) {
      const auto place = key.source().begin;
      members.push_back({std::string(key.str()), at_least_one(place.line),
                         at_least_one(place.column), entry_from(child)});
    }
    out.value = std::move(members);
  } else if (const auto* array = node.as_array()) {
    Entry::List items;
    for (const toml::node& child : *array) items.push_back(entry_from(child));
    out.value = std::move(items);
  } else if (node.is_number()) {
    out.value = node.value<double>().value_or(0.0);
  } else if (node.is_string()) {
    out.value = node.value<std::string>().value_or("");
  }
  return out;
}

Material parsed(std::string_view text, const std::string& file, const Source& source) {
  Entry top;
  try {
    top = entry_from(toml::parse(text));
  } catch (const toml::parse_error& error) {
    const auto at = error.source().begin;
    throw MaterialError(fmt::format(
        "{}:{}:{}: not readable as TOML: {}; mend this first, what follows was not read", file,
        at_least_one(at.line), at_least_one(at.column), error.description()));
  }
  Mistakes mistakes{file, {}};
  Material material = material_from({top, "", mistakes, source});
  mistakes.throw_if_any();
  return material;
}

}  // namespace

std::vector<std::string> material_names() {
  std::vector<std::string> names;
  for (const EmbeddedFile& file : embedded_files()) names.emplace_back(file.name);
  return names;
}

Material find_material(std::string_view name) {
  for (const EmbeddedFile& file : embedded_files()) {
    if (file.name == name) {
      return parsed(file.text, fmt::format("materials/data/{}.toml", name),
                    {"not stated", "memory"});
    }
  }
  const std::vector<std::string> names = material_names();
  const auto near = nearest(name, names);
  throw MaterialError(fmt::format(
      "found material \"{}\", which the library does not have; allowed: {}, or the path of a "
      "material file; {}",
      name, fmt::join(names, ", "),
      near ? fmt::format("write \"{}\"", *near)
           : std::string("list them with: coilwright materials")));
}

Material read_material(const std::filesystem::path& file) {
  constexpr std::uintmax_t largest =
      1U << 20U;  // a material file is a page or two; a megabyte is something else
  std::error_code error;
  const bool regular = std::filesystem::is_regular_file(file, error);
  if (regular && std::filesystem::file_size(file, error) > largest) {
    throw MaterialError(
        fmt::format("{}: found a file over 1 MB; allowed: a material file of text", file.string()));
  }
  std::ifstream stream(file, std::ios::binary);
  if (!regular || !stream) {
    throw MaterialError(fmt::format(
        "{}: this material file cannot be read; write the path of a readable file, or the "
        "name of a library material",
        file.string()));
  }
  const std::string text{std::istreambuf_iterator<char>(stream), {}};
  return parsed(text, file.string(),
                {fmt::format("stated in {}", file.filename().string()), "user"});
}

}  // namespace cw
