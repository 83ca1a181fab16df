#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "cases/sweep/rank.hpp"
#include "materials/nearest.hpp"

namespace cw::cases {

namespace {

/// Names that a state of a design may have.
std::vector<std::string> states_of(const Case& subject) {
  const bool rings = tank_rings(subject.drive);
  const bool both = std::ranges::any_of(
      subject.sweep->vary, [](const SweepAxis& axis) { return axis.key == "drive.kind"; });
  std::vector<std::string> names;
  if (!rings || both) names = {"fixed_frequency"};
  if (rings || both)
    for (const char* name : {"empty", "cold", "peak_demand", "past_curie", "at_target"})
      names.emplace_back(name);
  return names;
}

/// Keys of number_keys(), with names of states and without (see figure_of()).
std::vector<std::string> known_keys(const Case& subject) {
  constexpr std::string_view states = "states.*.";
  std::vector<std::string> known;
  for (const std::string& pattern : number_keys()) {
    const bool of_state = pattern.starts_with(states);
    const std::string rest = of_state ? pattern.substr(states.size()) : pattern;
    known.push_back(rest);
    if (!of_state) continue;
    for (const std::string& name : states_of(subject))
      known.push_back(fmt::format("states.{}.{}", name, rest));
  }
  return known;
}

std::string parent(const std::string& key) {
  return key.substr(0, key.rfind('.') + 1);
}

/// The figure may exist, but not in a state of this name.
std::string without_state(const std::string& key) {
  const std::string_view states = "states.";
  if (!key.starts_with(states)) return key;
  return key.substr(key.find('.', states.size()) + 1);
}

}  // namespace

std::string unknown_key(const Case& subject, const std::string& key) {
  const bool largest = key.starts_with('-');
  const std::string bare = largest ? key.substr(1) : key;
  std::vector<std::string> known = known_keys(subject);
  if (bare.empty() ||
      std::ranges::any_of(known, [&](const std::string& pattern) { return fits(bare, pattern); }))
    return {};
  auto found = nearest(bare, known);
  if (!found) found = nearest(without_state(bare), known);
  const std::string near = found.value_or("power.workpiece_W");
  std::erase_if(known, [&](const std::string& other) {
    return parent(other) != parent(near) || other == near;
  });
  known.insert(known.begin(), near);
  return fmt::format(
      "found \"{}\", which no result has; allowed: {}, or another number of result.json; write for "
      "example \"{}{}\"",
      key, fmt::join(known, ", "), largest ? "-" : "", near);
}

}  // namespace cw::cases
