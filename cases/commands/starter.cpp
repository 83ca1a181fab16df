#include "cases/commands/starter.hpp"

#include <stdexcept>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "materials/nearest.hpp"

namespace cw::cases {

namespace {

constexpr std::string_view usual_starter = "bar";

}  // namespace

std::vector<std::string_view> starter_kinds() {
  std::vector<std::string_view> kinds{usual_starter};
  for (const EmbeddedFile& file : embedded_starters())
    if (file.name != usual_starter) kinds.push_back(file.name);
  return kinds;
}

std::string starter_case(std::string_view kind) {
  if (kind.empty()) kind = usual_starter;
  for (const EmbeddedFile& file : embedded_starters())
    if (file.name == kind) return std::string(file.text);
  const auto kinds = starter_kinds();
  const std::vector<std::string> known(kinds.begin(), kinds.end());
  const auto near = nearest(kind, known);
  throw std::invalid_argument(fmt::format("found no starter case \"{}\"; allowed: {}; write {}",
                                          kind, fmt::join(known, ", "),
                                          near.value_or(known.front())));
}

}  // namespace cw::cases
