// Every metal of the library in one coil.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <stdexcept>

#include "cases/compare/metals.hpp"
#include "cases/read/read_case.hpp"
#include "materials/figures.hpp"
#include "materials/library.hpp"
#include "postproc/text/metals_table.hpp"

namespace cw::cases {
namespace {

namespace fs = std::filesystem;

fs::path metals_example() {
  return fs::path(COILWRIGHT_EXAMPLES) / "metals-in-a-coil.toml";
}

/// The example at its own frequency and a lower one, solved once.
const MetalStudy& study() {
  static const MetalStudy solved =
      compare_metals(read_case(metals_example()), {Effort::fast, {{5e3}}, nullptr});
  return solved;
}

const MetalCurve& metal(const std::string& name) {
  for (const MetalCurve& m : study().comparison.metals)
    if (m.name == name) return m;
  throw std::runtime_error("no metal " + name);
}

double efficiency(const std::string& name) {
  return at_case(study().comparison, metal(name)).efficiency();
}

// Every metal of the library is included, at every frequency, and nothing else.
TEST(Metals, EveryMetalAndNothingElse) {
  const auto& all = study().comparison;
  for (const std::string& name : material_names()) {
    const double resistivity = find_material(name).resistivity(Temperature::celsius(20.0));
    const bool there = std::any_of(all.metals.begin(), all.metals.end(),
                                   [&](const MetalCurve& m) { return m.name == name; });
    EXPECT_EQ(there, resistivity < 20e-6) << name;
  }
  EXPECT_GE(all.metals.size(), 20U);
  EXPECT_EQ(study().states.size(), all.metals.size());
  for (const MetalCurve& m : all.metals) EXPECT_EQ(m.points.size(), 2U) << m.name;
}

// Efficiency at 100 kHz falls from magnetic steel over graphite and stainless to the good
// conductors, as known in the trade: it depends on the root of resistivity times permeability.
// Source: any text on induction heating, coil efficiency 1/(1 + k sqrt(rho_coil/(rho mu))).
TEST(Metals, OrderOfEfficiency) {
  const std::vector<std::string> order{
      "steel-low-carbon", "graphite",    "stainless-304", "brass-c26000",
      "aluminium-pure",   "copper-pure", "silver"};
  for (std::size_t k = 1; k < order.size(); ++k)
    EXPECT_GT(efficiency(order[k - 1]), efficiency(order[k])) << order[k];
  const auto& metals = study().comparison.metals;
  EXPECT_TRUE(
      std::is_sorted(metals.begin(), metals.end(), [](const MetalCurve& a, const MetalCurve& b) {
        return at_case(study().comparison, a).efficiency() >
               at_case(study().comparison, b).efficiency();
      }));
}

// If skins are thin compared with the radius R, power is proportional to surface resistance, apart
// from the curvature of the surface, 1 - d/2R for a skin depth d. Source: loss of a rod in an axial
// field, W. R. Smythe, Static and Dynamic Electricity, ch. X, expanded for thin skins (from
// memory). The rest is the effect of the ends of the bar.
TEST(Metals, ThinSkinsFollowTheirSurfaceResistance) {
  const auto& all = study().comparison;
  const auto per_ohm = [&](const std::string& name) {
    const MetalPoint& p = at_case(all, metal(name));
    return p.work / (metal(name).surface_resistance(p) * (1 - p.skin_depth / (2 * 8e-3)));
  };
  EXPECT_NEAR(per_ohm("brass-c26000") / per_ohm("silver"), 1.0, 0.01);
  EXPECT_NEAR(per_ohm("aluminium-pure") / per_ohm("silver"), 1.0, 0.01);
}

// Copper's power, coil loss and efficiency are those of a run of the same case with copper in it,
// steel's too.
TEST(Metals, AgreeWithTheDirectRun) {
  for (const char* name : {"copper-pure", "steel-low-carbon"}) {
    const std::vector<Change> change{{"workpiece.material", name}};
    const StateResult run =
        run_case(read_case(metals_example(), change), Effort::fast).result.states.at(0);
    const double square = run.drive.current_rms * run.drive.current_rms;
    const MetalPoint& p = at_case(study().comparison, metal(name));
    EXPECT_NEAR(p.work, *run.power.workpiece / square, 1e-3 * p.work) << name;
    EXPECT_NEAR(p.coil, run.power.coil / square, 1e-3 * p.coil) << name;
    EXPECT_NEAR(p.efficiency(), *run.efficiency, 1e-3) << name;
    EXPECT_NEAR(p.skin_depth, *run.skin_depth, 1e-3 * p.skin_depth) << name;
  }
}

// The sentence on aluminium contains the numbers of this run.
TEST(Metals, WhyAluminiumBarelyWarms) {
  const std::string name = "aluminium-6061-t6";
  const MetalCurve& m = metal(name);
  const MetalPoint& p = at_case(study().comparison, m);
  std::string text = metals_text(study().comparison, study().result);
  std::replace(text.begin(), text.end(), '\n', ' ');
  for (std::size_t at = text.find("  "); at != std::string::npos; at = text.find("  "))
    text.erase(at, 1);
  const std::size_t start = text.find(name + " barely warms:");
  ASSERT_NE(start, std::string::npos) << text;
  const std::string sentence = text.substr(start, text.find(" - ", start) - start);
  for (const std::string& words :
       {figure(1e3 * m.surface_resistance(p)) + " mohm", figure(1e3 * p.coil_surface) + " mohm",
        figure(m.surface_resistance(p) / p.coil_surface) + " times",
        "only " + percent(p.efficiency()) + " of the power enters it"})
    EXPECT_NE(sentence.find(words), std::string::npos) << words << "\n" << sentence;
}

// Above its Curie point steel heats poorly, and the text says that it is no longer magnetic.
TEST(Metals, SteelPastItsCuriePoint) {
  const std::vector<Change> change{{"workpiece.temperature", "800 degC"}};
  const MetalStudy hot =
      compare_metals(read_case(metals_example(), change), {Effort::fast, {}, nullptr});
  int found = 0;
  for (const MetalCurve& m : hot.comparison.metals) {
    if (m.name != "steel-low-carbon") continue;
    ++found;
    EXPECT_TRUE(m.lost_magnetism);
    EXPECT_LT(at_case(hot.comparison, m).efficiency(), 0.9 * efficiency("steel-low-carbon"));
  }
  EXPECT_EQ(found, 1);
}

// The size compared with a skin depth: radius of a bar, wall of a tube, height of a disc.
TEST(Metals, ThicknessOfBarTubeAndDisc) {
  const auto thickness = [](const std::vector<Change>& change) {
    const auto all =
        compare_metals(read_case(metals_example(), change), {Effort::fast, {}, nullptr});
    return std::pair(all.comparison.size_name, all.comparison.thickness);
  };
  const auto [bar, radius] = std::pair(study().comparison.size_name, study().comparison.thickness);
  EXPECT_EQ(bar, "radius");
  EXPECT_NEAR(radius, 8e-3, 1e-12);
  const auto [tube, wall] = thickness({{"workpiece.bore", "10 mm"}});
  EXPECT_EQ(tube, "wall");
  EXPECT_NEAR(wall, 3e-3, 1e-12);
  const auto [disc, height] = thickness({{"workpiece.length", "4 mm"}});
  EXPECT_EQ(disc, "height");
  EXPECT_NEAR(height, 4e-3, 1e-12);
}

// Without a workpiece there is nothing to compare, and the message says what to write.
TEST(Metals, RefusesWhatCannotBeCompared) {
  Case subject = read_case(metals_example());
  subject.workpiece.reset();
  try {
    compare_metals(subject, {});
    FAIL() << "accepted";
  } catch (const CaseError& error) {
    ASSERT_EQ(error.messages().size(), 1U);
    EXPECT_NE(std::string(error.what()).find("[workpiece]"), std::string::npos);
  }
}

// For a heater the comparison uses the frequency and coil current of its cold state: its own metal
// then takes the power of that state.
TEST(Metals, AnyHeaterLendsItsColdCurrent) {
  const Case subject = read_case(fs::path(COILWRIGHT_EXAMPLES) / "chisel-blank.toml");
  MetalOptions options;
  options.effort = Effort::fast;
  options.frequencies = {};
  const MetalStudy lent = compare_metals(subject, options);
  const auto& states = lent.result.states;
  const auto cold = std::ranges::find(states, "cold", &StateResult::name);
  ASSERT_NE(cold, states.end());
  EXPECT_EQ(lent.comparison.frequencies.at(0).hertz, cold->frequency.hertz);
  EXPECT_EQ(lent.comparison.current, cold->tank->current_rms);
  const auto own = std::ranges::find(lent.comparison.metals, subject.workpiece->material.name,
                                     &MetalCurve::name);
  ASSERT_NE(own, lent.comparison.metals.end());
  const double square = lent.comparison.current * lent.comparison.current;
  EXPECT_NEAR(own->points.at(0).work * square, *cold->power.workpiece,
              0.01 * *cold->power.workpiece);
}

// All files are written, a field for each metal, and the directory can be overwritten by a study or
// by a run.
TEST(Metals, WriteTheirFiles) {
  const fs::path folder = fs::temp_directory_path() / "coilwright_metals_test";
  fs::remove_all(folder);
  for (int k = 0; k < 2; ++k) write_metals(study(), folder);
  for (const char* file : {"result.json", "report.html", "tables/metals.csv", "tables/reasons.csv",
                           "pictures/metals.svg", "pictures/metals.png"})
    EXPECT_GT(fs::file_size(folder / file), 1000U) << file;
  ASSERT_FALSE(study().comparison.metals.empty());
  for (const MetalCurve& m : study().comparison.metals)
    EXPECT_GT(fs::file_size(folder / "fields" / (m.name + ".vtu")), 100000U) << m.name;
  fs::remove_all(folder);
}

}  // namespace
}  // namespace cw::cases
