#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <functional>
#include <set>
#include <sstream>

#include <nlohmann/json.hpp>

#include "cases/read/read_case.hpp"

namespace cw::cases {
namespace {

using Names = std::set<std::string>;

nlohmann::json schema() {
  const auto file = std::filesystem::path(__FILE__).parent_path() / ".." / ".." / ".." / ".." /
                    "cases" / "case.schema.json";
  return nlohmann::json::parse(std::ifstream(file));
}

Names names_of(const nlohmann::json& object) {
  Names names;
  for (const auto& [name, value] : object.at("properties").items()) names.insert(name);
  return names;
}

/// The keys that the reader lists as allowed after an unknown key in `text`.
Names allowed_by_reader(const std::string& text) {
  std::string message;
  try {
    read_case_text(text, "probe.toml");
  } catch (const CaseError& error) {
    for (const auto& line : error.messages()) {
      if (line.find("found the key \"zzzzzzzz\"") != std::string::npos) message = line;
    }
  }
  Names names;
  const auto from = message.find("allowed: ");
  if (from == std::string::npos) return names;
  std::istringstream list(message.substr(from + 9, message.rfind("; remove it") - from - 9));
  for (std::string name; list >> name;) {
    if (name.ends_with(',')) name.pop_back();
    names.insert(name);
  }
  return names;
}

// Property: the shipped schema and the reader have the same keys in every section, so neither can
// be extended alone.
TEST(Schema, KnowsTheKeysOfTheReader) {
  const auto root = schema();
  const auto& p = root.at("properties");
  const auto& coil = p.at("coil").at("properties");
  const auto& tank = p.at("tank").at("properties");
  const auto& drives = p.at("drive").at("oneOf");
  const auto& pair = drives.at(0).at("properties");
  const std::string x = "zzzzzzzz = 1\n", bench = "frequency = \"1 kHz\"\nrms = \"1 A\"\n";
  const std::vector<std::pair<std::string, nlohmann::json>> probes = {
      {x, root},
      {"[workpiece]\n" + x, p.at("workpiece")},
      {"[[body]]\n" + x, p.at("body").at("items")},
      {"[coil]\n" + x, p.at("coil")},
      {"[coil.conductor]\n" + x, coil.at("conductor")},
      {"[coil.leads]\n" + x, coil.at("leads")},
      {"[coil.coolant]\n" + x, coil.at("coolant")},
      {"[[coil.ring]]\n" + x, coil.at("ring").at("items")},
      {"[tank]\n" + x, p.at("tank")},
      {"[tank.can_limits]\n" + x, tank.at("can_limits")},
      {"[tank.joints]\n" + x, tank.at("joints")},
      {"[drive]\nkind = \"push-pull\"\n" + x, drives.at(0)},
      {"[drive]\nkind = \"push-pull\"\n[drive.switch]\n" + x, pair.at("switch")},
      {"[drive]\nkind = \"push-pull\"\n[drive.choke]\n" + x, pair.at("choke")},
      {"[drive]\nkind = \"push-pull\"\n[drive.cable]\n" + x, pair.at("cable")},
      {"[drive]\nkind = \"push-pull\"\n[drive.mains]\n" + x, pair.at("mains")},
      {"[drive]\nkind = \"push-pull\"\n[drive.switch.heat_sink]\n" + x,
       pair.at("switch").at("properties").at("heat_sink")},
      {"[drive]\nkind = \"push-pull\"\n[drive.choke.core]\n" + x,
       pair.at("choke").at("properties").at("core")},
      {"[drive]\nkind = \"push-pull\"\n[drive.choke.warming]\n" + x,
       pair.at("choke").at("properties").at("warming")},
      {"[tank.can_warming]\n" + x, tank.at("can_warming")},
      {"[[tank.conductor]]\n" + x, tank.at("conductor").at("items")},
      {"[[nearby]]\n" + x, p.at("nearby").at("items")},
      {"[commissioning]\n" + x, p.at("commissioning")},
      {"[commissioning.pickup_loop]\n" + x,
       p.at("commissioning").at("properties").at("pickup_loop")},
      {"[commissioning.current_transformer]\n" + x,
       p.at("commissioning").at("properties").at("current_transformer")},
      {"[tolerance]\n" + x, p.at("tolerance")},
      {"[shelf]\n" + x, p.at("shelf")},
      {"[drive]\nkind = \"current\"\n" + x, drives.at(1)},
      {"[drive]\nkind = \"voltage\"\n" + x, drives.at(2)},
      {"[drive]\nkind = \"series\"\n" + x, drives.at(3)},
      {"[heat]\n" + x, p.at("heat")},
      {"[sweep]\n" + x, p.at("sweep")},
      {"[[sweep.vary]]\n" + x, p.at("sweep").at("properties").at("vary").at("items")},
      {"[sweep.sampling]\n" + x, p.at("sweep").at("properties").at("sampling")},
      {"[[sweep.require]]\n" + x, p.at("sweep").at("properties").at("require").at("items")},
      {"[sweep.optimiser]\n" + x, p.at("sweep").at("properties").at("optimiser")}};
  for (const auto& [text, object] : probes)
    EXPECT_EQ(allowed_by_reader(text), names_of(object)) << text;
}

// Property: no object of the schema lets an unknown key pass.
TEST(Schema, AllowsNoUnknownKeys) {
  int objects = 0;
  const std::function<void(const nlohmann::json&)> walk = [&](const nlohmann::json& node) {
    if (node.is_object() && node.contains("properties") && node.value("type", "") == "object") {
      ++objects;
      EXPECT_EQ(node.value("additionalProperties", true), false) << node.dump().substr(0, 80);
    }
    if (node.is_structured()) std::ranges::for_each(node, walk);
  };
  walk(schema());
  EXPECT_EQ(objects, 38);
}

}  // namespace
}  // namespace cw::cases
