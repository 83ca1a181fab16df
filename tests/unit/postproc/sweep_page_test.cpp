#include "postproc/report/sweep_page.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "postproc/report/sweep_figures.hpp"
#include "postproc/result/read_result.hpp"
#include "postproc/result/write_result.hpp"
#include "sample_case.hpp"

using namespace cw;

namespace {

using Json = nlohmann::ordered_json;

/// designs.json of three designs that share one result: two keep all, one breaks, one is invalid.
Json sample_designs() {
  const Json result = Json::parse(result_json(sample::result()));
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
                   {"timing", result.at("timing")}};
    if (status == "solved") {
      design["result"] = result;
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

std::filesystem::path written(const std::string& text) {
  const auto file =
      std::filesystem::temp_directory_path() / ("cw-designs-" + std::to_string(getpid()) + ".json");
  std::ofstream(file) << text;
  return file;
}

DesignsFile sample_file() {
  const auto file = written(sample_designs().dump());
  DesignsFile designs = read_designs(file);
  std::filesystem::remove(file);
  return designs;
}

}  // namespace

// Designs come back in their groups and order, with their numbers.
TEST(ReadDesigns, GroupsAndFigures) {
  const DesignsFile designs = sample_file();
  ASSERT_EQ(designs.sheet.best.size(), 2U);
  ASSERT_EQ(designs.sheet.breaking.size(), 1U);
  EXPECT_EQ(designs.sheet.best[1].values, std::vector<std::string>{"7"});
  EXPECT_EQ(designs.sheet.rank, "efficiency");
  EXPECT_TRUE(designs.sheet.largest);
  EXPECT_EQ(designs.sheet.invalid, 1U);
  EXPECT_EQ(designs.sheet.planned, 4U);
  ASSERT_EQ(designs.refused.size(), 1U);
  EXPECT_EQ(designs.refused[0].reason, "too many");
  ASSERT_FALSE(designs.leading.states.empty());
  EXPECT_EQ(figure_of(designs.best[0], "efficiency"), *sample::result().states[0].efficiency);
}

// A file of another kind, a cut one, an old one and one that shows fewer values than keys are
// refused with what to do.
TEST(ReadDesigns, RefusesWhatItCannotRead) {
  Json old = sample_designs();
  old.erase("vary");
  Json fewer = sample_designs();
  fewer.at("vary").push_back(fewer.at("vary").at(0));  // two keys, of which a design shows one
  for (const std::string& text :
       {std::string("{}"), sample_designs().dump().substr(0, 500), old.dump(), fewer.dump()}) {
    const auto file = written(text);
    try {
      static_cast<void>(read_designs(file));
      ADD_FAILURE() << text;
    } catch (const ResultFileError& error) {
      EXPECT_NE(std::string(error.what()).find("sweep"), std::string::npos) << error.what();
    }
    std::filesystem::remove(file);
  }
}

// The verdict names the best design and that its value stands at the end of what was tried; text
// from outside is escaped; cautions are there.
TEST(SweepPage, SaysWhatMatters) {
  const std::string page = sweep_page(sample_file(), {});
  EXPECT_NE(page.find("Best: turns\u00a08"), std::string::npos);
  EXPECT_NE(page.find("The best has the last turns that was tried"), std::string::npos);
  EXPECT_NE(page.find("Trial &lt;b&gt;"), std::string::npos);
  EXPECT_EQ(page.find("Trial <b>"), std::string::npos);
  EXPECT_NE(page.find("id=\"cautions\""), std::string::npos);
  EXPECT_NE(page.find("too many"), std::string::npos);
}

// Temperatures are shown in degC, shares in percent, lengths in mm.
TEST(SweepPage, UnitsOfAMaker) {
  const SweepFigure stall = sweep_figure("heat.stall_K");
  EXPECT_EQ(stall.of({{"heat.stall_K", 1000.0}}), 1000.0 - 273.15);
  EXPECT_NE(shown_figure(stall, 726.85).find("727\u00a0\u00b0C"), std::string::npos);
  const SweepFigure can = sweep_figure("limits.can.current_rms_A.fraction");
  EXPECT_EQ(can.name, "can, current: share of its limit");
  EXPECT_EQ(can.of({{"limits.can.current_rms_A.fraction", 0.5}}), 50.0);
  EXPECT_NE(shown_value("7.5 mm").find("value=\"0.0075\""), std::string::npos);
  EXPECT_EQ(shown_value("8"), "8");
}

// Of many designs the page holds the best; what breaks a limit fills the rest.
TEST(SweepPage, HoldsTheBest) {
  DesignSheet sheet;
  sheet.best.resize(900);
  sheet.breaking.resize(900);
  EXPECT_EQ(shown_designs(sheet).best, 900U);
  EXPECT_EQ(shown_designs(sheet).breaking, most_designs_shown - 900U);
}
