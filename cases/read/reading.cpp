#include "cases/read/reading.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "materials/nearest.hpp"
#include "materials/number.hpp"
#include "materials/one_line.hpp"
#include "materials/unit_words.hpp"
#include "materials/wire_gauge.hpp"

namespace cw::cases {

namespace {

void wrong_kind(Reading& reading, const Entry& entry, std::string_view allowed,
                std::string_view meant = {}) {
  reading.complain(entry.path, fmt::format("found {}; allowed: {}; write {}", describe(entry.node),
                                           allowed, meant.empty() ? entry.sample : meant));
}

/// A text that holds only a number, without quotes; else empty.
std::string quoted_number(const Node& node, bool whole) {
  if (node.kind != Node::Kind::text) return "";
  const LeadingNumber number = read_leading_number(node.text);
  const bool alone = number.complaint.empty() && number.rest.empty() && std::isfinite(number.value);
  if (!alone || (whole && number.value != std::floor(number.value))) return "";
  return fmt::format("{}", number.value);
}

bool is_number(const Node& node) {
  return node.kind == Node::Kind::whole || node.kind == Node::Kind::number;
}

/// "25 mm" with the user's number before the unit.
std::string with_unit(double number, Dimension dimension) {
  const std::string_view sample = example(dimension);
  return fmt::format("{}{}", number, sample.substr(std::min(sample.find(' '), sample.size())));
}

Entry element(Reading& reading, const Entry& list, std::size_t index, std::string_view sample) {
  const Node& node = list.node.list[index];
  const std::string path = dotted(list.path, std::to_string(index));
  reading.where.at[path] = node.at;
  return {path, node, sample};
}

}  // namespace

void Reading::complain(const std::string& key, std::string text) {
  complaints.push_back({where.of(key), key, std::move(text)});
}

std::string dotted(std::string_view path, std::string_view name) {
  return path.empty() ? std::string(name) : fmt::format("{}.{}", path, name);
}

std::optional<double> read_quantity(Reading& reading, const Entry& entry, Dimension dimension) {
  if (is_number(entry.node)) {
    reading.complain(
        entry.path,
        fmt::format("found {} without a unit; allowed: {} in {}; write \"{}\"",
                    describe(entry.node), words_of(dimension).noun, words_of(dimension).units,
                    with_unit(entry.node.number, dimension)));
    return std::nullopt;
  }
  if (entry.node.kind != Node::Kind::text) {
    wrong_kind(reading, entry,
               fmt::format("{} in {}", words_of(dimension).noun, words_of(dimension).units));
    return std::nullopt;
  }
  const Parsed parsed = parse_quantity(entry.node.text, dimension);
  if (!parsed.value) reading.complain(entry.path, parsed.complaint);
  return parsed.value;
}

std::optional<double> read_wire(Reading& reading, const Entry& entry) {
  if (entry.node.kind != Node::Kind::text || !names_gauge(entry.node.text))
    return read_quantity(reading, entry, Dimension::length);
  const Parsed parsed = parse_gauge(entry.node.text);
  if (!parsed.value) reading.complain(entry.path, parsed.complaint);
  return parsed.value;
}

std::optional<double> read_number(Reading& reading, const Entry& entry) {
  if (is_number(entry.node) && std::isfinite(entry.node.number)) return entry.node.number;
  wrong_kind(reading, entry, "a plain number without quotes", quoted_number(entry.node, false));
  return std::nullopt;
}

std::optional<int> read_whole(Reading& reading, const Entry& entry) {
  constexpr double largest = 1e9;  // fits an int; larger than any count in a case
  const bool whole = is_number(entry.node) && entry.node.number == std::floor(entry.node.number);
  if (whole && std::abs(entry.node.number) <= largest) return static_cast<int>(entry.node.number);
  wrong_kind(reading, entry, "a whole number without quotes", quoted_number(entry.node, true));
  return std::nullopt;
}

std::optional<std::string> read_text(Reading& reading, const Entry& entry) {
  if (entry.node.kind == Node::Kind::text && !entry.node.text.empty()) {
    if (one_line(entry.node.text) == entry.node.text) return entry.node.text;
    reading.complain(entry.path,
                     "found control characters in the text; allowed: printable characters on one "
                     "line; remove them");
    return std::nullopt;
  }
  wrong_kind(reading, entry, "a text in quotes");
  return std::nullopt;
}

std::optional<bool> read_truth(Reading& reading, const Entry& entry) {
  if (entry.node.kind == Node::Kind::truth) return entry.node.truth;
  const bool quoted = entry.node.text == "true" || entry.node.text == "false";
  wrong_kind(reading, entry, "true or false without quotes", quoted ? entry.node.text : "");
  return std::nullopt;
}

std::optional<std::size_t> read_choice(Reading& reading, const Entry& entry,
                                       std::span<const std::string_view> words) {
  if (entry.node.kind == Node::Kind::text) {
    const auto found = std::ranges::find(words, entry.node.text);
    if (found != words.end()) return static_cast<std::size_t>(found - words.begin());
    const std::vector<std::string> known(words.begin(), words.end());
    const auto near = nearest(entry.node.text, known);
    reading.complain(entry.path,
                     fmt::format("found \"{}\"; allowed: {}; write \"{}\"", entry.node.text,
                                 fmt::join(words, ", "), near.value_or(known.front())));
    return std::nullopt;
  }
  wrong_kind(reading, entry, fmt::format("one of the texts {}", fmt::join(words, ", ")));
  return std::nullopt;
}

std::optional<std::pair<double, double>> read_two_lengths(Reading& reading, const Entry& entry) {
  if (entry.node.kind != Node::Kind::list || entry.node.list.size() != 2) {
    wrong_kind(reading, entry, "a list of two lengths");
    return std::nullopt;
  }
  const auto first =
      read_quantity(reading, element(reading, entry, 0, "\"8 mm\""), Dimension::length);
  const auto second =
      read_quantity(reading, element(reading, entry, 1, "\"4 mm\""), Dimension::length);
  if (!first || !second) return std::nullopt;
  return std::pair(*first, *second);
}

std::optional<std::array<double, 3>> read_three_lengths(Reading& reading, const Entry& entry) {
  if (entry.node.kind != Node::Kind::list || entry.node.list.size() != 3) {
    wrong_kind(reading, entry, "a list of three lengths");
    return std::nullopt;
  }
  std::array<double, 3> lengths{};
  bool all = true;
  for (std::size_t i = 0; i < lengths.size(); ++i) {
    const auto length =
        read_quantity(reading, element(reading, entry, i, "\"40 mm\""), Dimension::length);
    lengths[i] = length.value_or(0.0);
    all = all && length.has_value();
  }
  if (!all) return std::nullopt;
  return lengths;
}

std::optional<std::vector<Point>> read_corners(Reading& reading, const Entry& entry) {
  if (!is_list(reading, entry)) return std::nullopt;
  std::vector<Point> corners;
  for (std::size_t i = 0; i < entry.node.list.size(); ++i) {
    const Entry corner = element(reading, entry, i, "[\"8 mm\", \"-35 mm\"]");
    if (const auto pair = read_two_lengths(reading, corner))
      corners.push_back({pair->first, pair->second});
  }
  if (corners.size() != entry.node.list.size()) return std::nullopt;
  return corners;
}

std::optional<TemperatureProfile> read_temperatures(Reading& reading, const Entry& entry) {
  if (!is_list(reading, entry)) return std::nullopt;
  TemperatureProfile profile;
  for (std::size_t i = 0; i < entry.node.list.size(); ++i) {
    const Entry point = element(reading, entry, i, "[\"4 mm\", \"500 degC\"]");
    if (point.node.kind != Node::Kind::list || point.node.list.size() != 2) {
      wrong_kind(reading, point, "a depth and a temperature");
      continue;
    }
    const auto depth =
        read_quantity(reading, element(reading, point, 0, "\"4 mm\""), Dimension::length);
    const auto kelvin =
        read_quantity(reading, element(reading, point, 1, "\"500 degC\""), Dimension::temperature);
    if (depth && kelvin) profile.push_back({*depth, {*kelvin}});
  }
  if (profile.size() != entry.node.list.size()) return std::nullopt;
  return profile;
}

bool is_table(Reading& reading, const Entry& entry) {
  if (entry.node.kind == Node::Kind::table) return true;
  wrong_kind(reading, entry, "a table of keys");
  return false;
}

bool is_list(Reading& reading, const Entry& entry) {
  if (entry.node.kind == Node::Kind::list) return true;
  wrong_kind(reading, entry, "a list in [ ]");
  return false;
}

void refuse_unknown(Reading& reading, const Entry& table, std::span<const std::string> names) {
  for (const auto& [name, node] : table.node.table) {
    if (std::ranges::find(names, name) != names.end()) continue;
    const std::string path = dotted(table.path, name);
    reading.where.at[path] = node.at;
    const auto near = nearest(name, names);
    if (near) reading.meant.push_back(dotted(table.path, *near));
    const std::string remedy = near ? fmt::format("write {}", *near) : "remove it";
    reading.complain(path, fmt::format("found the key \"{}\", not known here; allowed: {}; {}",
                                       name, fmt::join(names, ", "), remedy));
  }
}

const Node* written(const Entry& table, std::string_view name, std::span<const std::string> names) {
  const auto found = table.node.table.find(std::string(name));
  if (found != table.node.table.end()) return &found->second;
  for (const auto& [other, node] : table.node.table) {
    if (std::ranges::find(names, other) != names.end()) continue;
    if (const auto near = nearest(other, names); near && *near == name) return &node;
  }
  return nullptr;
}

void demand(Reading& reading, const Entry& table, std::string_view name, std::string_view sample) {
  const std::string path = dotted(table.path, name);
  if (std::ranges::find(reading.meant, path) != reading.meant.end()) return;
  const bool section = table.path.empty() && sample.starts_with('[');
  reading.complain(
      path, section ? fmt::format("found no section {0}; write {0} and its keys below it", sample)
                    : fmt::format("found no {0}; write for example {0} = {1}", name, sample));
}

void forbid(Reading& reading, const Entry& table, std::span<const std::string_view> names,
            std::string_view reason) {
  for (const std::string_view name : names) {
    if (!table.node.table.contains(name)) continue;
    reading.complain(dotted(table.path, name),
                     fmt::format("found {}, but {}; remove it", name, reason));
  }
}

}  // namespace cw::cases
