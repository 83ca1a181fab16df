#include "postproc/result/result_figures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

namespace cw {

namespace {

using Json = nlohmann::json;

/// The name of an element of a list.
std::string name_of(const Json& element, std::size_t place) {
  if (element.is_object() && element.contains("name")) return element.at("name");
  if (element.is_object() && element.contains("part") && element.contains("quantity"))
    return fmt::format("{}.{}", element.at("part").get<std::string>(),
                       element.at("quantity").get<std::string>());
  return std::to_string(place);
}

void collect(const Json& json, const std::string& key, Figures& to) {
  const auto below = [&](const std::string& name) { return key.empty() ? name : key + "." + name; };
  if (json.is_number()) to[key] = json.get<double>();
  if (json.is_boolean()) to[key] = json.get<bool>() ? 1.0 : 0.0;
  if (json.is_object())
    for (const auto& [name, value] : json.items()) collect(value, below(name), to);
  if (json.is_array())
    for (std::size_t k = 0; k < json.size(); ++k) collect(json[k], below(name_of(json[k], k)), to);
}

}  // namespace

Figures figures_of(const std::string& result) {
  Figures figures;
  if (!result.empty()) collect(Json::parse(result), "", figures);
  return figures;
}

std::optional<double> figure_of(const Figures& figures, const std::string& key) {
  for (const char* state : {"", "states.fixed_frequency.", "states.cold."})
    if (const auto found = figures.find(state + key); found != figures.end()) return found->second;
  return std::nullopt;
}

bool of_a_list(const std::string& key) {
  const auto dot = key.rfind('.');
  return dot != std::string::npos && dot + 1 < key.size() &&
         std::all_of(key.begin() + static_cast<std::ptrdiff_t>(dot) + 1, key.end(),
                     [](char c) { return c >= '0' && c <= '9'; });
}

}  // namespace cw
