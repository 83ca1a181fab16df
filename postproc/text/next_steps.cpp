#include "postproc/text/next_steps.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "materials/number.hpp"

namespace cw {

namespace {

bool is_a_number(const std::string& value) {
  return read_leading_number(value).complaint.empty();
}

/// The first design; null if none was judged.
const DesignLine* leader(const DesignSheet& sheet) {
  if (!sheet.best.empty()) return &sheet.best.front();
  return sheet.breaking.empty() ? nullptr : &sheet.breaking.front();
}

/// -1: the smallest value tried, 1: the largest, 0: between, or not a number.
int end_of_axis(const std::vector<std::string>& axis, const std::string& value) {
  if (axis.size() < 2 || !std::ranges::all_of(axis, is_a_number)) return 0;
  const auto by_size = [](const std::string& v) { return read_leading_number(v).value; };
  const auto [least, most] = std::ranges::minmax_element(axis, {}, by_size);
  if (value == *least) return -1;
  return value == *most ? 1 : 0;
}

}  // namespace

std::size_t tied_designs(const DesignSheet& sheet) {
  constexpr double alike = 0.005;
  if (sheet.best.empty()) return 0;
  const auto first = sheet.best.front().value;
  if (!first) return 1;
  const auto apart = std::ranges::find_if(sheet.best, [&](const DesignLine& line) {
    return !line.value || std::abs(*line.value - *first) > alike * std::abs(*first);
  });
  return static_cast<std::size_t>(apart - sheet.best.begin());
}

std::vector<std::string> next_steps(const DesignSheet& sheet) {
  const DesignLine* first = leader(sheet);
  std::vector<std::string> steps;
  if (first == nullptr || sheet.rank.empty()) return steps;
  const char* who = sheet.best.empty() ? "nearest" : "best";
  for (std::size_t k = 0; k < sheet.keys.size(); ++k) {
    const int end = end_of_axis(sheet.axes[k], first->values[k]);
    if (end == 0) continue;
    steps.push_back(
        fmt::format("The {} design has the {} {} of all that were tried, {}: try {} values, if "
                    "they can be built.",
                    who, end < 0 ? "smallest" : "largest", sheet.keys[k], first->values[k],
                    end < 0 ? "smaller" : "larger"));
  }
  if (steps.empty() && sheet.best.empty())
    steps.emplace_back(
        "The nearest design lies inside every range that was tried: vary another key, for example "
        "`drive.supply` or `tank.capacitance`.");
  return steps;
}

}  // namespace cw
