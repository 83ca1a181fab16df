#include <array>

#include <fmt/format.h>

#include "cases/read/case_sections.hpp"

namespace cw::cases {

namespace {

using enum Need;

/// What may be kept beside the keys of [coil], which are kept where they are written.
constexpr std::array<std::string_view, 2> keep_words = {"cans", "position"};

void read_keep(Reading& reading, const Entry& entry, Shelf& to) {
  if (!is_list(reading, entry)) return;
  for (std::size_t i = 0; i < entry.node.list.size(); ++i) {
    const std::string path = dotted(entry.path, std::to_string(i));
    reading.where.at[path] = entry.node.list[i].at;
    const auto word = read_choice(reading, {path, entry.node.list[i], "\"cans\""}, keep_words);
    if (word) (*word == 0 ? to.keep_cans : to.keep_position) = true;
  }
}

constexpr std::array shelf_keys = {
    Key{"tube_length", optional, keys::quantity<&Shelf::tube_length, Dimension::length>, "\"6 m\""},
    Key{"keep", optional, read_keep, "[\"cans\"]"},
};

}  // namespace

void read_shelf(Reading& reading, const Entry& entry, Case& to) {
  Shelf shelf;
  read_table<Shelf>(reading, entry, shelf_keys, shelf);
  constexpr double least = 0.05, most = 1000.0;
  if (shelf.tube_length && (*shelf.tube_length < least || *shelf.tube_length > most))
    reading.complain(dotted(entry.path, "tube_length"),
                     fmt::format("found {:g} m of tube; allowed: {:g} m to {:g} m; write for "
                                 "example \"6 m\"",
                                 *shelf.tube_length, least, most));
  to.shelf = shelf;
}

}  // namespace cw::cases
