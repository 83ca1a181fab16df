#include "postproc/text/metals_table.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>

#include "materials/figures.hpp"
#include "postproc/text/metals_reasons.hpp"
#include "tests/unit/postproc/sample_case.hpp"
#include "tests/unit/postproc/sample_metals.hpp"

namespace {

const cw::MetalCurve& named(const cw::MetalComparison& all, const std::string& name) {
  return *std::find_if(all.metals.begin(), all.metals.end(),
                       [&](const cw::MetalCurve& m) { return m.name == name; });
}

std::size_t count(const std::string& text, const std::string& words) {
  std::size_t found = 0;
  for (std::size_t at = text.find(words); at != std::string::npos; at = text.find(words, at + 1))
    ++found;
  return found;
}

// Property: the table has one line per metal and frequency, each with as many fields as the header.
TEST(MetalsTable, OneLinePerMetalAndFrequency) {
  const auto all = cw::sample::metals();
  std::istringstream lines(cw::metals_table(all));
  std::string header, line;
  std::getline(lines, header);
  EXPECT_NE(header.find("power in workpiece [W/A^2]"), std::string::npos);
  std::size_t rows = 0;
  for (; std::getline(lines, line); ++rows) EXPECT_EQ(count(line, ","), count(header, ",")) << line;
  EXPECT_EQ(rows, all.metals.size() * all.frequencies.size());
}

// Property: a number of the table is read back exactly: efficiency of a metal at the case's
// frequency.
TEST(MetalsTable, FullPrecision) {
  const auto all = cw::sample::metals();
  const auto& p = cw::at_case(all, named(all, "silver"));
  std::istringstream lines(cw::metals_table(all));
  bool seen = false;
  for (std::string line; std::getline(lines, line);) {
    if (!line.starts_with("silver,100000,")) continue;
    std::istringstream fields(line);
    std::string field;
    for (int k = 0; k < 6; ++k) std::getline(fields, field, ',');
    EXPECT_EQ(std::stod(field), p.efficiency());
    seen = true;
  }
  EXPECT_TRUE(seen);
}

// Property: the reason for a poor metal contains its surface resistance, that of the coil, their
// ratio, the ratio for equal power (two, by construction of the sample) and the share that enters
// it.
TEST(MetalReasons, OfAPoorMetalAreItsNumbers) {
  const auto all = cw::sample::metals();
  const auto& metal = named(all, "aluminium-pure");
  const auto& p = cw::at_case(all, metal);
  const double surface = metal.surface_resistance(p);
  const std::string text = cw::metal_reason(all, metal);
  for (const std::string& words :
       {std::string("aluminium-pure barely warms"), cw::figure(1e3 * surface) + " mohm",
        cw::figure(1e3 * p.coil_surface) + " mohm", cw::figure(surface / p.coil_surface) + " times",
        std::string("take equal power at about 2.00 times"),
        cw::percent(p.efficiency()) + " of the power"})
    EXPECT_NE(text.find(words), std::string::npos) << words << "\n" << text;
}

// Property: magnetic metals are explained by their permeability, thin ones by radius over skin
// depth and what a thick part would take (1/0.4 of it, by the construction of the sample).
TEST(MetalReasons, TellMagneticAndThinFromTheRest) {
  const auto all = cw::sample::metals();
  const std::string steel = cw::metal_reason(all, named(all, "steel-low-carbon"));
  EXPECT_NE(steel.find("relative permeability to 100"), std::string::npos) << steel;
  EXPECT_NE(steel.find("(300 in a weak field)"), std::string::npos) << steel;
  const auto& graphite = named(all, "graphite");
  const auto& p = cw::at_case(all, graphite);
  const std::string text = cw::metal_reason(all, graphite);
  EXPECT_NE(text.find(cw::figure(8e-3 / p.skin_depth) + " skin depths"), std::string::npos) << text;
  EXPECT_NE(text.find("about " + cw::figure(p.work / 0.4, "W")), std::string::npos) << text;
}

// Property: if every skin depth exceeds a third of the part, the text does not mention thick parts.
TEST(MetalReasons, NothingThickToCompareWith) {
  auto all = cw::sample::metals();
  all.thickness = 0.2e-3;
  const std::string text = cw::metal_reason(all, named(all, "silver"));
  EXPECT_NE(text.find("silver is too thin to shield the field"), std::string::npos) << text;
  EXPECT_EQ(text.find("thick part"), std::string::npos) << text;
}

// Property: best and worst, the case's own, an aluminium and the thinnest for its skin are named,
// each once.
TEST(MetalReasons, NotableMetals) {
  const auto all = cw::sample::metals();
  std::vector<std::string> names;
  for (const cw::MetalCurve* m : cw::notable_metals(all)) names.push_back(m->name);
  EXPECT_EQ(names, (std::vector<std::string>{"steel-low-carbon", "graphite", "brass-c26000",
                                             "aluminium-pure", "silver"}));
}

// Property: no line is wider than a terminal of 80 columns, every metal has its row, metals outside
// their data are marked, parts too thin for the permeability law are named with the frequency, and
// the cautions end the text.
TEST(MetalsText, FitsEightyColumnsAndSaysAll) {
  auto all = cw::sample::metals();
  all.title = std::string(200, 'x');
  all.metals[2].beyond_data = true;
  all.metals[0].points[1].law_valid = false;
  const std::string text = cw::metals_text(all, cw::sample::result());
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) EXPECT_LE(line.size(), 80U) << line;
  for (const auto& metal : all.metals)
    EXPECT_NE(text.find("\n" + metal.name), std::string::npos) << metal.name;
  EXPECT_NE(text.find("brass-c26000*"), std::string::npos);
  EXPECT_NE(text.find("steel-low-carbon up to 10.0 kHz"), std::string::npos) << text;
  EXPECT_GT(text.find("Cautions"), text.find("Warnings"));
}

}  // namespace
