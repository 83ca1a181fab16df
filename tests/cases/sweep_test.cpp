// The sweep as a user sees it: ranking, other rankings, methods, two designs side by side.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "cases/check/check_case.hpp"
#include "cases/run/run_case.hpp"
#include "cases/sweep/plan.hpp"
#include "cases/sweep/rank.hpp"
#include "postproc/result/write_result.hpp"
#include "tests/cases/sweep_program.hpp"

namespace cw::cases {
namespace {

/// At most 80 columns.
void expect_narrow(const std::string& text) {
  std::size_t column = 0;
  for (const char c : text) {
    column = c == '\n' ? 0 : column + ((c & 0xC0) != 0x80 ? 1 : 0);
    ASSERT_LE(column, 80U) << text;
  }
}

// Every combination has its row; the table is sorted by the key and respects the requirement; no
// line is longer than 80 columns; impossible combinations are listed with their reason.
TEST_F(SweepProgram, RanksEveryDesign) {
  const Shell run = shell(command());
  ASSERT_EQ(run.code, 0) << run.text;
  expect_complete();
  EXPECT_NE(run.text.find("4 cannot be built"), std::string::npos) << run.text;
  EXPECT_NE(run.text.find("they\n    overlap or touch"), std::string::npos) << run.text;
  const auto json = nlohmann::json::parse(std::ifstream(out_ / "designs.json"));
  double before = 1e300;
  int ranked = 0, breaking = 0;
  for (const auto& design : json.at("designs")) {
    if (design.at("status") != "solved") continue;
    const auto& power = design.at("result").at("states").at(0).at("power");
    EXPECT_EQ(power.at("coil_W").get<double>() > 18, design.contains("broken"));
    breaking += design.contains("broken") ? 1 : 0;
    if (!design.contains("place")) continue;
    EXPECT_LE(power.at("workpiece_W").get<double>(), before);
    before = power.at("workpiece_W").get<double>();
    EXPECT_EQ(design.at("place"), ++ranked);
  }
  EXPECT_GT(ranked, 3);
  EXPECT_GT(breaking, 3);
  const std::string text = run.text.substr(0, run.text.find("Store  "));
  expect_narrow(text);
}

// Designs in the store are not solved again: the times of the first run stay. One more value solves
// only its own designs.
TEST_F(SweepProgram, SolvesOnlyNewDesigns) {
  ASSERT_EQ(shell(command()).code, 0);
  const auto first = rows();
  ASSERT_EQ(shell(command()).code, 0);
  const auto second = rows();
  ASSERT_EQ(first.size(), second.size());
  for (std::size_t k = 0; k < first.size(); ++k)
    EXPECT_EQ(first[k].outcome.total_s, second[k].outcome.total_s);
  std::string longer = small_sweep;
  longer.replace(longer.find("[2, 3, 4, 5]"), 12, "[2, 3, 4, 5, 6]");
  std::ofstream(folder_ / "small.toml") << longer;
  ASSERT_EQ(shell(command()).code, 0);
  EXPECT_EQ(rows().size(), first.size() + 6);
}

/// A material file with a resistivity of its own.
void write_metal(const fs::path& file, double nano_ohm_metres) {
  std::ofstream(file) << fmt::format(R"toml(
name = "shop-metal"
density = "2700 kg/m3"
relative_permeability = 1.0
thermal_conductivity = "150 W/(m K)"
heat_capacity = "900 J/(kg K)"
emissivity = 0.1
resistivity = "{} nohm m"
)toml",
                                     nano_ohm_metres);
}

// A design depends on the bytes of the material files that the case or a varied value names: an
// edited file gives new designs of those that name it, and no others.
TEST_F(SweepProgram, EditedMaterialFilesMakeNewDesigns) {
  std::string text = bar_in_three_turns + R"toml(rms = "100 A"
[[body]]
name = "plug"
material = "./plug.toml"
diameter = "10 mm"
length = "4 mm"
centre = "20 mm"
[sweep]
vary = [{ key = "workpiece.material", values = ["shop.toml", "other.toml"] }]
)toml";
  std::ofstream(folder_ / "small.toml") << text;
  write_metal(folder_ / "shop.toml", 40);
  write_metal(folder_ / "other.toml", 40);
  write_metal(folder_ / "plug.toml", 40);
  const auto solved = [&] {
    const Shell run = shell(command());
    EXPECT_EQ(run.code, 0) << run.text;
    std::map<std::string, std::string> results;
    const auto json = nlohmann::json::parse(std::ifstream(out_ / "designs.json"));
    for (const auto& design : json.at("designs"))
      results[design.at("inputs").at("workpiece.material")] = design.at("result").dump();
    return results;
  };
  const auto first = solved();
  ASSERT_EQ(first.size(), 2U);
  EXPECT_EQ(solved(), first);
  write_metal(folder_ / "other.toml", 80);
  const auto second = solved();
  EXPECT_EQ(second.at("shop.toml"), first.at("shop.toml"));
  EXPECT_NE(second.at("other.toml"), first.at("other.toml"));
  write_metal(folder_ / "plug.toml", 80);
  const auto third = solved();
  EXPECT_NE(third.at("shop.toml"), first.at("shop.toml"));
  EXPECT_NE(third.at("other.toml"), second.at("other.toml"));
  // With the old files the figures of the first run come from the store.
  write_metal(folder_ / "other.toml", 40);
  write_metal(folder_ / "plug.toml", 40);
  EXPECT_EQ(solved(), first);
}

/// Compares every figure of `keys` by the fast method with the plain one, design by design: within
/// 0.5 %.
class SweepMethods : public SweepProgram {
 protected:
  /// Both methods on `text`; by design and method.
  void solve(const std::string& text) {
    std::ofstream(folder_ / "small.toml") << text;
    // On coarse meshes the plain method itself is 0.4 % off.
    ASSERT_EQ(shell(command(2, "normal")).code, 0);
    fast_ = shell(command(2, "normal") + " --method fast");
    ASSERT_EQ(fast_.code, 0) << fast_.text;
    Store store(out_ / "designs.sqlite");
    for (const DesignRow& row : store.rows(study_of({folder_ / "small.toml", text}))) {
      if (row.outcome.status != DesignStatus::solved) continue;
      by_design_[spoken(row.changes)][row.method] = figures_of(row.outcome.result);
      if (row.method != "fast") continue;
      const auto result = nlohmann::json::parse(row.outcome.result);
      how_.insert(result.at("states").at(0).at("accuracy").at("method").get<std::string>());
    }
  }
  void expect_agreement(const std::vector<std::string>& keys) {
    ASSERT_FALSE(by_design_.empty());
    for (auto& [design, methods] : by_design_) {
      ASSERT_EQ(methods.size(), 2U) << design;
      for (const std::string& key : keys) {
        const double plain = *figure_of(methods["plain"], key);
        EXPECT_NEAR(*figure_of(methods["fast"], key), plain, 0.005 * std::abs(plain))
            << design << " " << key;
      }
    }
  }

  Shell fast_{};
  std::map<std::string, std::map<std::string, Figures>> by_design_;
  std::set<std::string> how_;
};

// The fast method gives every power and inductance within 0.5 % of the plain one, and shows by how
// much the best differ from their full solutions.
TEST_F(SweepMethods, FastAgreesWithPlain) {
  solve(small_sweep);
  EXPECT_NE(fast_.text.find("Solved in full as well"), std::string::npos) << fast_.text;
  EXPECT_EQ(by_design_.size(), static_cast<std::size_t>(designs - invalid));
  EXPECT_TRUE(std::ranges::all_of(how_, [](const std::string& how) {
    return how.find("rings and work") != std::string::npos;
  }));
  expect_agreement({"power.workpiece_W", "power.coil_W", "power.total_W", "coil.inductance_H",
                    "coil.resistance_ohm", "coil.dc_resistance_ohm"});
}

// The same if the water lets the tube get warm, by some 40 K here.
TEST_F(SweepMethods, FastFollowsTheWarmTube) {
  std::string text = small_sweep;
  text.replace(text.find("turns = 3"), 9,
               "coolant = { flow = \"0.15 L/min\", inlet = \"20 degC\" }\nturns = 3");
  text.replace(text.find("rms = \"100 A\""), 13, "rms = \"500 A\"");
  text.replace(text.find("[2, 3, 4, 5]"), 12, "[2, 5]");
  solve(text);
  const double warm = *figure_of(by_design_.rbegin()->second["plain"], "coil.temperature_K");
  EXPECT_GT(warm, 273.15 + 35);
  expect_agreement({"power.workpiece_W", "power.coil_W", "power.leads_W", "coil.inductance_H",
                    "coil.temperature_K"});
}

// Sixteen frequencies of one coil with a cup and its charge, with one model over the band: every
// power and the inductance within 0.5 %.
TEST_F(SweepMethods, FastOverFrequencies) {
  solve(R"toml(
title = "Cup over frequencies"
[workpiece]
material = "graphite"
profile = [["0 mm", "-15 mm"], ["12 mm", "-15 mm"], ["12 mm", "15 mm"], ["9 mm", "15 mm"],
           ["9 mm", "-11 mm"], ["0 mm", "-11 mm"]]
[[body]]
name = "charge"
material = "copper-pure"
diameter = "18 mm"
length = "10 mm"
centre = "-6 mm"
[coil]
turns = 3
bore = "32 mm"
pitch = "8 mm"
conductor = { tube = "6 mm", wall = "1 mm" }
coolant = { flow = "0.3 L/min", inlet = "20 degC" }
[drive]
kind = "current"
frequency = "20 kHz"
rms = "200 A"
[sweep]
vary = [{ key = "drive.frequency", from = "10 kHz", to = "160 kHz", count = 16 }]
rank = "-power.workpiece_W"
)toml");
  EXPECT_EQ(by_design_.size(), 16U);
  EXPECT_EQ(how_,
            (std::set<std::string>{"one model of the coil over the frequency band; no estimate"}));
  expect_agreement({"power.workpiece_W", "power.bodies_W.charge", "power.coil_W", "power.total_W",
                    "coil.inductance_H", "coil.resistance_ohm", "coil.temperature_K",
                    "exposure.keep_out_m"});
}

// The optimiser's best is no worse than the best of a fine grid between the same ends, and its
// steps are in the store.
TEST_F(SweepProgram, OptimiserBeatsAFineGrid) {
  std::string text = small_sweep;
  text.replace(text.find("count = 6"), 9, "count = 51");
  text.replace(text.find("from = \"6 mm\""), 13, "from = \"6.1 mm\"");
  text += "optimiser = { evaluations = 80, starts = 2 }\n";
  std::ofstream(folder_ / "small.toml") << text;
  const auto best = [&] {
    const auto json = nlohmann::json::parse(std::ifstream(out_ / "designs.json"));
    return json.at("designs")
        .at(0)
        .at("result")
        .at("states")
        .at(0)
        .at("power")
        .at("workpiece_W")
        .get<double>();
  };
  ASSERT_EQ(shell(command() + " --method fast").code, 0);
  const double grid = best();
  const Shell run = shell(command() + " --method fast --optimise");
  ASSERT_EQ(run.code, 0) << run.text;
  EXPECT_GE(best(), grid * (1 - 1e-3)) << run.text;
  Store store(out_ / "designs.sqlite");
  const auto trace = store.trace(study_of({folder_ / "small.toml", text}));
  EXPECT_GT(trace.size(), 20U);
  EXPECT_LE(trace.size(), 80U);
}

// The best design of the grid is that of an exhaustive search with the library that solves each
// design alone, on its own mesh: the same inputs, its figure within 0.2 % (moved meshes).
TEST_F(SweepProgram, BestIsThatOfAnExhaustiveSearch) {
  ASSERT_EQ(shell(command()).code, 0);
  const Case subject = read_case_text(small_sweep, folder_ / "small.toml");
  std::string best;
  double most = 0.0;
  int tried = 0;
  for (const auto& changes : plan_designs(subject)) {
    const Case design = read_case_text(small_sweep, folder_ / "small.toml", changes);
    if (!check_case(design).errors.empty()) continue;
    const PowerBalance power = run_case(design, Effort::fast).result.states.at(0).power;
    ++tried;
    if (power.coil > 18 || *power.workpiece <= most) continue;
    most = *power.workpiece;
    best = spoken(changes);
  }
  EXPECT_EQ(tried, designs - invalid);
  const Ranking ranking = rank_designs(*subject.sweep, rows());
  EXPECT_EQ(spoken(ranking.best.at(0).row.changes), best);
  EXPECT_NEAR(*ranking.best.at(0).value, most, 2e-3 * most);
}

// An unknown key, and a rank key that needs a [heat] section which is missing, are reported before
// anything is solved.
TEST_F(SweepProgram, RefusesWhatNoDesignCanHave) {
  std::string text = small_sweep;
  text.replace(text.find("key = \"coil.turns\""), 18, "key = \"coil.trns\"");
  std::ofstream(folder_ / "small.toml") << text;
  const Shell wrong_key = shell(command());
  EXPECT_EQ(wrong_key.code, 2) << wrong_key.text;
  EXPECT_NE(wrong_key.text.find("turns"), std::string::npos) << wrong_key.text;
  std::ofstream(folder_ / "small.toml") << small_sweep;
  const Shell cold = shell(command() + " --rank heat.time_to_target_s");
  EXPECT_EQ(cold.code, 2) << cold.text;
  EXPECT_NE(cold.text.find("no [heat]"), std::string::npos) << cold.text;
  const Shell slip = shell(command() + " --rank -power.workpice_W --against states.hot.efficiency");
  EXPECT_EQ(slip.code, 2) << slip.text;
  EXPECT_NE(slip.text.find("--rank: found \"-power.workpice_W\", which no result has; allowed: "
                           "power.workpiece_W, power.coil_W, "),
            std::string::npos)
      << slip.text;
  EXPECT_NE(slip.text.find("write for example \"-power.workpiece_W\""), std::string::npos);
  EXPECT_NE(slip.text.find("--against: found"), std::string::npos) << slip.text;
  EXPECT_FALSE(fs::exists(out_ / "designs.sqlite"));
}

// The key of every number of a solved result, also with the name of a part or an index in a list,
// is known before anything is solved; with one letter changed it is not.
TEST_F(SweepProgram, KnowsTheKeysOfResults) {
  const fs::path examples = COILWRIGHT_EXAMPLES;
  for (const char* name : {"axle-nut", "aluminium-bar", "bronze-melt-bench"}) {
    Case subject = read_case(examples / fmt::format("{}.toml", name));
    subject.sweep.emplace();
    const auto run = run_case(subject, Effort::fast);
    const Figures figures = figures_of(result_json(run.result));
    EXPECT_GT(figures.size(), 100U);
    for (const auto& [key, value] : figures) EXPECT_EQ(unknown_key(subject, key), "") << key;
    EXPECT_EQ(unknown_key(subject, "-efficiency"), "");
    EXPECT_NE(unknown_key(subject, "power.workpice_W"), "");
    EXPECT_NE(unknown_key(subject, "states.fixd_frequency.efficiency"), "");
  }
}

// Two designs side by side: inputs, figures and the changes of the second, in 80 columns; every
// figure in a table; a rank that does not exist is refused.
TEST_F(SweepProgram, PutsTwoDesignsSideBySide) {
  ASSERT_EQ(shell(command()).code, 0);
  const Ranking ranking = rank_designs(*read_case_text(small_sweep, "small.toml").sweep, rows());
  const Shell both = shell(command() + " --compare 1 3");
  ASSERT_EQ(both.code, 0) << both.text;
  expect_narrow(both.text.substr(0, both.text.find("Every figure")));
  const double change = 100 * (*ranking.best[2].value / *ranking.best[0].value - 1);
  EXPECT_NE(both.text.find(fmt::format("{:+.1f} %", change)), std::string::npos) << both.text;
  EXPECT_NE(both.text.find("Place 1 keeps every limit."), std::string::npos) << both.text;
  std::ifstream table(out_ / "tables" / "places-1-and-3.csv");
  std::string line, found;
  while (std::getline(table, line))
    if (line.starts_with("states.fixed_frequency.power.workpiece_W,")) found = line;
  EXPECT_EQ(found, fmt::format("states.fixed_frequency.power.workpiece_W,{},{},{:.6g}",
                               *ranking.best[0].value, *ranking.best[2].value,
                               *ranking.best[2].value / *ranking.best[0].value));
  const std::size_t all = ranking.best.size() + ranking.breaking.size();
  const Shell breaking = shell(command() + fmt::format(" --compare 1 {}", all));
  EXPECT_NE(breaking.text.find(fmt::format("Place {} breaks", all)), std::string::npos)
      << breaking.text;
  EXPECT_EQ(shell(command() + fmt::format(" --compare 1 {}", all + 1)).code, 2);
}

}  // namespace
}  // namespace cw::cases
