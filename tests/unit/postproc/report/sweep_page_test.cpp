#include "postproc/report/sweep_page.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "postproc/report/sweep_figures.hpp"
#include "postproc/result/read_result.hpp"
#include "tests/unit/postproc/sample_designs.hpp"

using namespace cw;

namespace {

using Json = nlohmann::ordered_json;
using sample::sample_designs;

std::filesystem::path written(const std::string& text) {
  auto file =
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

// Designs are read back in their groups and order, with their numbers.
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

// A file of another kind, a truncated one, an old one, and one with fewer values than keys are
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

// Lists nested a hundred thousand deep, and a warning of 300,000 characters, give a message: no
// code recurses once per level or letter of a file.
TEST(ReadDesigns, DepthAndLengthAreNoDanger) {
  Json file = sample_designs();
  file["title"] = "@";
  std::string deep = file.dump();
  deep.replace(deep.find("\"@\""), 3, std::string(100000, '[') + std::string(100000, ']'));
  try {
    static_cast<void>(read_designs_text(deep, "x/designs.json"));
    ADD_FAILURE();
  } catch (const ResultFileError& error) {
    EXPECT_EQ(std::string(error.what()),
              "x/designs.json: found lists or objects nested deeper than 64; allowed: what a sweep "
              "writes; run the same `coilwright sweep` again, what it has solved is kept.");
  }
  const std::string note = "`" + std::string(300000, 'x') + " 820 degC` 12 mm";
  file["title"] = "long";
  file["designs"][0]["result"]["limits"] = {{{"part", "can"},
                                             {"quantity", "current_rms_A"},
                                             {"value", 1.0},
                                             {"verdict", "watch"},
                                             {"at_state", "cold"},
                                             {"advice", note}}};
  const std::string page = sweep_page(read_designs_text(file.dump(), "x"), {});
  EXPECT_NE(page.find("12\u00a0mm</data>"), std::string::npos);
}

// The verdict names the best design, and says that its value is at the end of the range; text from
// outside is escaped; the cautions are included.
TEST(SweepPage, SaysWhatMatters) {
  DesignsFile designs = sample_file();
  designs.sheet.best[1].value = 0.9 * *designs.sheet.best[0].value;
  const std::string page = sweep_page(designs, {});
  EXPECT_NE(page.find("Best: turns\u00a08"), std::string::npos);
  EXPECT_NE(page.find("The best design has the largest coil.turns of all that were tried"),
            std::string::npos);
  EXPECT_NE(page.find("Trial &lt;b&gt;"), std::string::npos);
  EXPECT_EQ(page.find("Trial <b>"), std::string::npos);
  EXPECT_NE(page.find("id=\"cautions\""), std::string::npos);
  EXPECT_NE(page.find("too many"), std::string::npos);
}

// Where no design does the job, the page names the one nearest to it, and by how much it misses.
TEST(SweepPage, NamesTheNearMiss) {
  DesignsFile designs = sample_file();
  designs.sheet.breaking = {designs.sheet.best[0]};
  designs.breaking = {designs.best[0]};
  designs.sheet.best.clear();
  designs.best.clear();
  designs.sheet.breaking[0].shortfall = 30.0;
  designs.sheet.breaking[0].broken = {"misses the target by 30 K, at 770 degC"};
  const std::string page = sweep_page(designs, {});
  EXPECT_NE(page.find("No design reaches the target within every limit. Nearest: turns\u00a08"),
            std::string::npos);
  EXPECT_NE(page.find("It misses the target by "), std::string::npos);
  EXPECT_NE(page.find("1 keeps every limit and misses the target"), std::string::npos);
}

// A lead of a tenth of a per cent is none: the first is called level with the other.
TEST(SweepPage, SmallLeadsCountAsTies) {
  DesignsFile designs = sample_file();
  designs.sheet.best[1].value = 0.999 * *designs.sheet.best[0].value;
  const std::string page = sweep_page(designs, {});
  EXPECT_NE(page.find("Equal at the top: turns\u00a08"), std::string::npos);
  EXPECT_NE(page.find("1 other design lies within 0.5\u00a0% of it"), std::string::npos);
  EXPECT_EQ(page.find("Best: turns"), std::string::npos);
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

// If there are many designs, the page holds the best; those that break a limit fill the rest.
TEST(SweepPage, HoldsTheBest) {
  DesignSheet sheet;
  sheet.best.resize(900);
  sheet.breaking.resize(900);
  EXPECT_EQ(shown_designs(sheet).best, 900U);
  EXPECT_EQ(shown_designs(sheet).breaking, most_designs_shown - 900U);
}

// Property: the command of a design has every key with its value, and a shell reads each as one
// word.
TEST(SweepPage, TheCommandOpensADesign) {
  DesignSheet sheet;
  sheet.keys = {"coil.turns", "coil.pitch", "workpiece.material"};
  DesignLine line;
  line.values = {"9", "7.5 mm", "own $(x)'s.toml"};
  EXPECT_EQ(live_command(sheet, line),
            "coilwright live CASE.toml --set coil.turns=9 --set 'coil.pitch=7.5 mm' "
            "--set 'workpiece.material=own $(x)'\\''s.toml'");
  const DesignsFile designs = sample_file();
  const std::string page = sweep_page(designs, {});
  EXPECT_NE(page.find("<p class=\"command\">B: <code>coilwright live CASE.toml "
                      "--set coil.turns=7</code>"),
            std::string::npos);
}
