#include <fmt/format.h>
#include <fmt/ranges.h>

#include <nlohmann/json.hpp>
#include <set>

#include "cases/sweep/sheet.hpp"
#include "postproc/result/write_tables.hpp"

namespace cw::cases {

namespace {

using Groups = std::vector<std::pair<const char*, const std::vector<RankedDesign>*>>;

Groups solved_groups(const Ranking& ranking) {
  return {{"ok", &ranking.best}, {"misses", &ranking.breaking}, {"", &ranking.unranked}};
}

std::vector<std::string> columns_of(const Ranking& ranking) {
  std::set<std::string> keys;
  for (const auto& [word, designs] : solved_groups(ranking))
    for (const RankedDesign& design : *designs)
      for (const auto& [key, value] : design.figures)
        if (!of_a_list(key)) keys.insert(key);
  return {keys.begin(), keys.end()};
}

/// What is missed by a design that is not among the best.
const char* missed(const RankedDesign& design) {
  return design.shortfall && design.broken.size() == 1 ? "misses the target" : "breaks a limit";
}

std::string inputs_of(const DesignRow& row) {
  std::string text;
  for (const Change& change : row.changes) text += fmt::format(",{}", table_field(change.value));
  return text;
}

nlohmann::ordered_json json_of(const DesignRow& row) {
  nlohmann::ordered_json json;
  for (const Change& change : row.changes) json["inputs"][change.key] = change.value;
  json["status"] = word(row.outcome.status);
  if (!row.outcome.reason.empty()) json["reason"] = row.outcome.reason;
  json["version"] = row.version;
  json["method"] = row.method;
  json["accuracy"] = row.accuracy;
  json["id"] = row.id;
  json["timing"] = {{"mesh_s", row.outcome.mesh_s},
                    {"solve_s", row.outcome.solve_s},
                    {"total_s", row.outcome.total_s}};
  if (!row.outcome.result.empty())
    json["result"] = nlohmann::ordered_json::parse(row.outcome.result);
  return json;
}

/// A ranked design, with what the page of the sweep shows.
nlohmann::ordered_json json_of(const RankedDesign& design, const DesignLine& line) {
  auto json = json_of(design.row);
  json["shown"] = line.values;
  if (line.value) json["value"] = *line.value;
  if (line.against) json["against"] = *line.against;
  if (line.fraction) json["nearest"] = {{"part", line.part}, {"fraction", *line.fraction}};
  if (line.shortfall) json["short_of_target_K"] = *line.shortfall;
  if (!line.broken.empty()) json["broken"] = line.broken;
  return json;
}

}  // namespace

std::string designs_csv(const Case& subject, const Ranking& ranking) {
  const auto columns = columns_of(ranking);
  std::string table = "place";
  for (const SweepAxis& axis : subject.sweep->vary)
    table += fmt::format(",{}", table_field(axis.key));
  table += ",status,limits,reason,method,total_s";
  for (const std::string& key : columns) table += fmt::format(",{}", table_field(key));
  table += "\n";
  std::size_t place = 0;
  for (const auto& [word, designs] : solved_groups(ranking)) {
    for (const RankedDesign& design : *designs) {
      if (designs == &ranking.best) table += fmt::format("{}", ++place);
      table += inputs_of(design.row);
      table += fmt::format(",solved,{},{},{},{}", design.broken.empty() ? word : missed(design),
                           table_field(fmt::format("{}", fmt::join(design.broken, "; "))),
                           design.row.method, design.row.outcome.total_s);
      for (const std::string& key : columns) {
        const auto found = design.figures.find(key);
        table += found == design.figures.end() ? "," : fmt::format(",{}", found->second);
      }
      table += "\n";
    }
  }
  for (const DesignRow& row : ranking.unsolved)
    table += fmt::format("{},{},,{},{},{}{}\n", inputs_of(row), word(row.outcome.status),
                         table_field(row.outcome.reason), row.method, row.outcome.total_s,
                         std::string(columns.size(), ','));
  return table;
}

std::string designs_json(const Case& subject, const Ranking& ranking) {
  const DesignSheet sheet = sheet_of(subject, ranking);
  nlohmann::ordered_json json;
  json["format"] = "coilwright-designs-1";
  json["title"] = subject.title;
  json["case_sha256"] = subject.sha256;
  json["rank"] = subject.sweep->rank;
  json["against"] = subject.sweep->against;
  json["vary"] = nlohmann::ordered_json::array();
  for (std::size_t k = 0; k < sheet.keys.size(); ++k)
    json["vary"].push_back({{"key", sheet.keys[k]}, {"values", sheet.axes[k]}});
  json["designs"] = nlohmann::ordered_json::array();
  for (std::size_t k = 0; k < ranking.best.size(); ++k) {
    json["designs"].push_back(json_of(ranking.best[k], sheet.best[k]));
    json["designs"].back()["place"] = k + 1;
  }
  for (std::size_t k = 0; k < ranking.breaking.size(); ++k)
    json["designs"].push_back(json_of(ranking.breaking[k], sheet.breaking[k]));
  for (const RankedDesign& design : ranking.unranked)
    json["designs"].push_back(json_of(design.row));
  for (const DesignRow& row : ranking.unsolved) json["designs"].push_back(json_of(row));
  return json.dump(1, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n";
}

}  // namespace cw::cases
