#include <array>

#include <fmt/format.h>

#include "cases/read/case_sections.hpp"

namespace cw::cases {

namespace {

using enum Need;

/// Words that `keep` accepts. Keys of [coil] need no word: they are kept if they are given.
constexpr std::array<std::string_view, 2> keep_words = {"cans", "position"};
constexpr std::array<std::string_view, 2> buy_words = {"supply", "cans"};

/// A list of words, each of which sets one of two members.
template <const auto& Words, auto First, auto Second>
void read_words(Reading& reading, const Entry& entry, Shelf& to) {
  if (!is_list(reading, entry)) return;
  for (std::size_t i = 0; i < entry.node.list.size(); ++i) {
    const std::string path = dotted(entry.path, std::to_string(i));
    reading.where.at[path] = entry.node.list[i].at;
    const auto word = read_choice(reading, {path, entry.node.list[i], "\"cans\""}, Words);
    if (word) (*word == 0 ? to.*First : to.*Second) = true;
  }
}

constexpr std::array shelf_keys = {
    Key{"tube_length", optional, keys::quantity<&Shelf::tube_length, Dimension::length>, "\"6 m\""},
    Key{"keep", optional, read_words<keep_words, &Shelf::keep_cans, &Shelf::keep_position>,
        "[\"cans\"]"},
    Key{"buy", optional, read_words<buy_words, &Shelf::buy_supply, &Shelf::buy_cans>,
        "[\"supply\"]"},
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
