#include "postproc/result/read_designs.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <stdexcept>

#include "postproc/result/nesting.hpp"
#include "postproc/result/read_bytes.hpp"
#include "postproc/result/read_result.hpp"
#include "postproc/result/write_result.hpp"

namespace cw {

namespace {

using Json = nlohmann::json;

std::optional<double> number(const Json& json, const char* key) {
  const auto found = json.find(key);
  return found == json.end() ? std::nullopt : std::optional(found->get<double>());
}

DesignLine line_of(const Json& design, const Figures& figures) {
  DesignLine line;
  line.values = design.at("shown").get<std::vector<std::string>>();
  line.value = number(design, "value");
  line.against = number(design, "against");
  line.work = figure_of(figures, "power.workpiece_W");
  line.efficiency = figure_of(figures, "efficiency");
  if (design.contains("nearest")) {
    line.part = design.at("nearest").at("part");
    line.fraction = number(design.at("nearest"), "fraction");
  }
  line.shortfall = number(design, "short_of_target_K");
  if (design.contains("broken")) line.broken = design.at("broken").get<std::vector<std::string>>();
  return line;
}

RefusedDesign refused(const Json& design, const std::vector<std::string>& keys) {
  RefusedDesign row;
  for (const std::string& key : keys) row.values.push_back(design.at("inputs").value(key, ""));
  row.status = design.at("status");
  row.reason = design.value("reason", "");
  return row;
}

void count(const RefusedDesign& row, DesignSheet& sheet) {
  sheet.invalid += row.status == "invalid" ? 1 : 0;
  sheet.failed += row.status == "failed" ? 1 : 0;
  sheet.crashed += row.status == "crashed" ? 1 : 0;
  sheet.set_aside += row.status == "set aside" ? 1 : 0;
  if (row.status != "set aside" && sheet.first_reason.empty()) sheet.first_reason = row.reason;
}

/// The result of one design, completed with the members common to all designs.
Result whole_result(Json design, const Json& file, const std::string& name) {
  Json json = std::move(design["result"]);
  json["format"] = result_format;
  json["title"] = file.at("title");
  json["version"] = design.at("version");
  json["case_sha256"] = file.at("case_sha256");
  json["build"] = {
      {"version", design.at("version")}, {"compiler", ""}, {"libraries", Json::array()}};
  json["timing"] = design.at("timing");
  for (const char* list : {"cautions", "sources"}) json[list] = Json::array();
  return read_result(json.dump(), name);
}

/// Reads one design of the file into the list where it belongs.
void take(const Json& design, DesignsFile& to) {
  if (design.at("status") != "solved") {
    to.refused.push_back(refused(design, to.sheet.keys));
    count(to.refused.back(), to.sheet);
    return;
  }
  if (!design.contains("shown")) {
    ++to.sheet.unranked;
    return;
  }
  Figures figures = figures_of(design.at("result").dump());
  const DesignLine line = line_of(design, figures);
  if (line.values.size() != to.sheet.keys.size())
    throw std::length_error(fmt::format("a design shows {} values of {} keys", line.values.size(),
                                        to.sheet.keys.size()));
  (line.broken.empty() ? to.sheet.best : to.sheet.breaking).push_back(line);
  (line.broken.empty() ? to.best : to.breaking).push_back(std::move(figures));
}

void take_head(const Json& json, DesignsFile& to) {
  DesignSheet& sheet = to.sheet;
  sheet.title = json.at("title");
  to.case_sha256 = json.at("case_sha256");
  for (const Json& axis : json.at("vary")) {
    sheet.keys.push_back(axis.at("key"));
    sheet.axes.push_back(axis.at("values").get<std::vector<std::string>>());
  }
  const auto signed_key = [&](const char* name, std::string& key, bool& largest) {
    key = json.at(name);
    largest = key.starts_with('-');
    if (largest) key.erase(0, 1);
  };
  signed_key("rank", sheet.rank, sheet.largest);
  signed_key("against", sheet.against, sheet.against_largest);
}

DesignsFile taken(const Json& json, const std::string& name) {
  DesignsFile file;
  take_head(json, file);
  const Json* leading = nullptr;
  for (const Json& design : json.at("designs")) {
    take(design, file);
    ++file.sheet.planned;
    if (leading == nullptr && design.contains("shown")) leading = &design;
  }
  const Json& any = leading != nullptr ? *leading : json.at("designs").at(0);
  file.version = any.at("version");
  file.method = any.at("method");
  file.accuracy = any.at("accuracy");
  if (leading != nullptr) file.leading = whole_result(*leading, json, name);
  return file;
}

ResultFileError damaged(const std::string& name, const std::string& what) {
  return ResultFileError(fmt::format(
      "{}: {}; run the same `coilwright sweep` again, what it has solved is kept.", name, what));
}

}  // namespace

DesignsFile read_designs_text(const std::string& text, const std::string& name) {
  if (json_nesting(text) > deepest_json)
    throw damaged(name, fmt::format("found lists or objects nested deeper than {}; allowed: what a "
                                    "sweep writes",
                                    deepest_json));
  try {
    const Json json = Json::parse(text);
    if (!json.is_object() || json.value("format", Json()) != "coilwright-designs-1")
      throw damaged(name, "no \"format\": \"coilwright-designs-1\" in it");
    if (!json.contains("vary") || json.at("designs").empty())
      throw damaged(name, "written by an earlier version, or empty");
    return taken(json, name);
  } catch (const Json::exception& error) {
    throw damaged(name, fmt::format("damaged ({})", error.what()));
  } catch (const std::length_error& error) {
    throw damaged(name, fmt::format("damaged ({})", error.what()));
  }
}

DesignsFile read_designs(const std::filesystem::path& file) {
  const auto text = read_bytes(file);
  if (!text) throw damaged(file.string(), "cannot be read");
  return read_designs_text(*text, file.string());
}

}  // namespace cw
