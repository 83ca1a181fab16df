#include "cases/sweep/stored_row.hpp"

#include <nlohmann/json.hpp>
#include <stdexcept>

#include "postproc/result/nesting.hpp"
#include "postproc/result/result_figures.hpp"

namespace cw::cases {

namespace {

using OrderedJson = nlohmann::ordered_json;

OrderedJson parsed(const std::string& text) {
  if (json_nesting(text) > deepest_json) throw std::invalid_argument("nested too deeply");
  return OrderedJson::parse(text);
}

}  // namespace

std::string stored(const std::vector<Change>& changes) {
  OrderedJson json = OrderedJson::object();
  for (const Change& change : changes) json[change.key] = change.value;
  return json.dump(-1, ' ', false, OrderedJson::error_handler_t::replace);
}

std::vector<Change> changes_of(const std::string& text) {
  std::vector<Change> changes;
  const auto json = parsed(text);
  if (!json.is_object()) throw std::invalid_argument("no keys");
  for (const auto& [key, value] : json.items()) changes.push_back({key, value.get<std::string>()});
  return changes;
}

void require_whole(const DesignOutcome& outcome) {
  if (outcome.status != DesignStatus::solved) return;
  const auto json = parsed(outcome.result);
  if (!json.is_object()) throw std::invalid_argument("no result");
  static_cast<void>(figures_of(outcome.result));
  for (const auto& limit : json.value("limits", OrderedJson::array())) {
    if (!limit.is_object()) throw std::invalid_argument("no limit");
    if (!limit.contains("fraction")) continue;
    for (const char* key : {"part", "quantity", "verdict", "at_state", "advice"})
      static_cast<void>(limit.at(key).get<std::string>());
    static_cast<void>(limit.at("fraction").get<double>());
  }
}

std::string verdict_of(const std::string& result) {
  if (result.empty()) return {};
  std::string worst;
  const auto json = OrderedJson::parse(result);
  for (const auto& limit : json.value("limits", OrderedJson::array())) {
    if (!limit.contains("fraction")) continue;
    const std::string verdict = limit.at("verdict");
    if (worst.empty() || verdict == "stop" || (verdict == "watch" && worst == "ok"))
      worst = verdict;
  }
  return worst;
}

}  // namespace cw::cases
