#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "postproc/result/write_result.hpp"
#include "tests/unit/postproc/sample_case.hpp"

namespace cw::sample {

/// designs.json of three designs that share one result: two keep all, one breaks, one is invalid.
inline nlohmann::ordered_json sample_designs() {
  using Json = nlohmann::ordered_json;
  const Json solved = Json::parse(result_json(result()));
  Json file = {{"format", "coilwright-designs-1"},
               {"title", "Trial <b>"},
               {"case_sha256", std::string(64, 'a')},
               {"rank", "-efficiency"},
               {"against", ""}};
  file["vary"] = Json::array();
  file["vary"].push_back({{"key", "coil.turns"}, {"values", {"6", "7", "8"}}});
  file["designs"] = Json::array();
  const auto add = [&](const std::string& turns, const std::string& status) {
    Json design = {{"inputs", {{"coil.turns", turns}}},
                   {"status", status},
                   {"version", "1"},
                   {"method", "plain"},
                   {"accuracy", "normal"},
                   {"timing", solved.at("timing")}};
    if (status == "solved") {
      design["result"] = solved;
      design["shown"] = Json::array({turns});
      design["value"] = 0.5;
    } else {
      design["reason"] = "too many";
    }
    file["designs"].push_back(design);
  };
  add("8", "solved");
  add("7", "solved");
  add("6", "solved");
  file["designs"][2]["broken"] = {"can: current rms at 120 % of its limit"};
  add("9", "invalid");
  return file;
}

}  // namespace cw::sample
