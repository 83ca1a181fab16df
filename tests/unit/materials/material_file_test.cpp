#include <unistd.h>

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>

#include "materials/library.hpp"

namespace cw {
namespace {

std::filesystem::path written(const std::string& name, const std::string& text) {
  // One folder a process: ctest runs the tests of a file side by side.
  const auto folder =
      std::filesystem::path(testing::TempDir()) / ("coilwright-" + std::to_string(::getpid()));
  std::filesystem::create_directories(folder);
  auto path = folder / name;
  std::ofstream(path) << text;
  return path;
}

std::string complaint_about(const std::string& text) {
  try {
    (void)read_material(written("complaint.toml", text));
  } catch (const MaterialError& error) {
    return error.what();
  }
  return "accepted";
}

const std::string bronze = R"toml(
name = "shop-bronze"
title = "Tin bronze, shop stock"
density = "8780 kg/m3"
resistivity = "0.17 uohm m"
relative_permeability = 1.0
thermal_conductivity = "50 W/(m K)"
heat_capacity = "380 J/(kg K)"
emissivity = 0.6
melting = { solidus = "830 degC", liquidus = "1000 degC", latent = "190 kJ/kg" }
)toml";

/// `bronze` with one of its lines replaced.
std::string bronze_with(const std::string& start_of_line, const std::string& line) {
  std::string text = bronze;
  const auto at = text.find("\n" + start_of_line) + 1;
  return text.replace(at, text.find('\n', at) - at, line);
}

// The short form of a user's file is read into SI; without a source of its own, the source is the
// file.
TEST(MaterialFile, short_form_is_read) {
  const Material m = read_material(written("bronze.toml", bronze));
  const Temperature t = Temperature::celsius(20.0);
  EXPECT_EQ(m.name, "shop-bronze");
  EXPECT_DOUBLE_EQ(m.density.value, 8780.0);
  EXPECT_NEAR(m.resistivity(t), 0.17e-6, 1e-18);
  EXPECT_NEAR(m.conductivity(t), 1.0 / 0.17e-6, 1e-3);
  EXPECT_DOUBLE_EQ(m.thermal_conductivity(t), 50.0);
  EXPECT_DOUBLE_EQ(m.heat_capacity(t), 380.0);
  EXPECT_DOUBLE_EQ(m.emissivity.value, 0.6);
  EXPECT_DOUBLE_EQ(m.melting->solidus.in_celsius(), 830.0);
  EXPECT_DOUBLE_EQ(m.melting->latent, 190e3);
  EXPECT_EQ(m.density.source.text, "stated in bronze.toml");
  EXPECT_EQ(m.density.source.provenance, "user");
  EXPECT_FALSE(m.insulator());
}

// Tables carry their unit once or in every entry; a list of tables is merged and sorted by
// temperature.
TEST(MaterialFile, tables_are_read_either_way) {
  const Material m =
      read_material(written("tables.toml", bronze_with("resistivity", R"(resistivity = [
    { T = [200, 300], T_unit = "degC", value = [0.2, 0.25], unit = "uohm m", uncertainty = "5 %" },
    { T = ["20 degC", "212 degF"], value = ["0.17 uohm m", "18 uohm cm"], source = "own bridge" } ])")));
  EXPECT_NEAR(m.resistivity(Temperature::celsius(20.0)), 0.17e-6, 1e-15);
  EXPECT_NEAR(m.resistivity(Temperature::celsius(100.0)), 0.18e-6, 1e-15);
  EXPECT_NEAR(m.resistivity(Temperature::celsius(250.0)), 0.225e-6, 1e-15);
  EXPECT_DOUBLE_EQ(m.resistivity.uncertainty, 0.05);
  ASSERT_EQ(m.resistivity.sources.size(), 2U);
  EXPECT_EQ(m.resistivity.sources[1].text, "own bridge");
}

// An insulator is marked by its resistivity, and does not conduct.
TEST(MaterialFile, insulator_is_a_resistivity) {
  const Material m = read_material(
      written("brick.toml", bronze_with("resistivity", "resistivity = \"insulator\"")));
  EXPECT_TRUE(m.insulator());
  EXPECT_EQ(m.conductivity(Temperature::celsius(20.0)), 0.0);
}

// A magnetic metal is given by two numbers and its Curie point, or by a B(H) table that is kept and
// fitted.
TEST(MaterialFile, magnetic_metals_are_read_either_way) {
  const Material law = read_material(written("law.toml", bronze_with("relative", R"(
magnetisation = { saturation = "2.0 T", half_field = "2 kA/m", curie = "770 degC" })")));
  EXPECT_DOUBLE_EQ(law.magnetisation->saturation.value, 2.0);
  EXPECT_DOUBLE_EQ(law.magnetisation->half_field.value, 2000.0);
  EXPECT_DOUBLE_EQ(law.magnetisation->law_curie.in_celsius(), 770.0);
  EXPECT_FALSE(law.magnetisation_curve);
  const Material table = read_material(written("table.toml", bronze_with("relative", R"(
BH = { H = [0, 1, 10, 100], H_unit = "kA/m", B = [0, 0.6, 1.5, 1.9], B_unit = "T", curie = "760 degC" })")));
  ASSERT_TRUE(table.magnetisation_curve);
  EXPECT_EQ(table.magnetisation_curve->field, (std::vector<double>{0, 1e3, 1e4, 1e5}));
  // H/J = 1670.2, 6723.0, 56359 A/(m T); their least-squares slope on H, worked by hand, is
  // 0.552047 per tesla.
  EXPECT_NEAR(table.magnetisation->saturation.value, 1.0 / 0.552047, 1e-4);
  EXPECT_DOUBLE_EQ(table.magnetisation->curie.in_celsius(), 760.0);
}

// The band a user gives for a B(H) table is kept and passes to the saturation; without one there is
// none.
TEST(MaterialFile, curves_carry_the_band_of_their_user) {
  const std::string curve =
      "BH = { H = [0, 1, 10, 100], H_unit = \"kA/m\", B = [0, 0.6, 1.5, 1.9], "
      "B_unit = \"T\", curie = \"760 degC\"";
  const Material plain =
      read_material(written("plain.toml", bronze_with("relative", curve + " }")));
  EXPECT_EQ(plain.magnetisation->saturation.low, plain.magnetisation->saturation.high);
  const Material banded = read_material(
      written("banded.toml", bronze_with("relative", curve + ", uncertainty = 0.04 }")));
  EXPECT_DOUBLE_EQ(banded.magnetisation_curve->uncertainty, 0.04);
  const Sourced& js = banded.magnetisation->saturation;
  EXPECT_DOUBLE_EQ(js.low, 0.96 * js.value);
  EXPECT_DOUBLE_EQ(js.high, 1.04 * js.value);
}

// Every mistake of a file is reported at once, in order, each with its place, its key and what to
// write.
TEST(MaterialFile, all_mistakes_are_reported_at_once) {
  const std::string all = complaint_about(R"(name = "shop-bronze"
tilte = "Tin bronze"
density = 8780
resistivity = { T = [20, 200, 100], value = [0.17, 0.2], unit = "uohm m", T_unit = "degC" }
magnetisation = { saturation = "2 T", half_feild = "2 kA/m", curie = "770 C" }
thermal_conductivity = "50 W/mK"
heat_capacity = { pieces = [ { from = "20 degC", to = "600 degC", form = "polynom", c = [1] } ] }
emissivity = 1.6
melting = { solidus = "1000 degC", liquidus = "830 degC", latent = "190 kJ" }
)");
  std::size_t from = 0;
  for (const char* part :
       {":2:1: tilte: unknown key", "write \"title\"",
        ":3:11: density: found \"8780\" without a unit", "write \"8780 kg/m3\"",
        ":4:31: resistivity.T: found 100 degC after 200 degC",
        ":4:45: resistivity.value: found 2 values for 3",
        ":5:17: magnetisation.half_field: found nothing",
        ":5:39: magnetisation.half_feild: unknown key", "write \"half_field\"",
        "magnetisation.curie: found \"770 C\"", "write \"770 degC\"",
        ":6:24: thermal_conductivity: found", "heat_capacity.pieces.form: found \"polynom\"",
        ":8:14: emissivity: found \"1.6\"", "melting.solidus: is above liquidus",
        "melting.latent: found \"190 kJ\""}) {
    const auto at = all.find(part, from);
    EXPECT_NE(at, std::string::npos) << part << "\nnot found in order in\n" << all;
    if (at != std::string::npos) from = at;
  }
}

// One wrong line draws one complaint about that line, whatever the kind of mistake.
TEST(MaterialFile, single_mistakes_are_named) {
  struct Row {
    const char *key, *line, *complaint;
  };
  const Row rows[] = {
      {"density", "density = \"-1 kg/m3\"",
       "density: found \"-1 kg/m3\"; allowed: more than 0 kg/m3"},
      {"density", "density = [1]", "density: found a list"},
      {"density", "density = { value = \"1 g/cm3\", low = \"2 g/cm3\" }",
       "density.value: lies outside its own band"},
      {"density", "density = { value = \"1 g/cm3\", provenance = \"seen\" }",
       "provenance: found \"seen\"; allowed: \"read\", \"recalled, not checked\", \"user\""},
      {"density", "", "density: found nothing; this key is needed"},
      {"resistivity", "resistivity = { T = [20], value = [1], unit = \"uohm m\" }",
       "write T_unit = \"degC\""},
      {"resistivity", "resistivity = \"inf ohm m\"", "resistivity: found \"inf ohm m\""},
      {"resistivity", "resistivity = nan", "resistivity: found \"nan\""},
      {"relative", "", "found none of relative_permeability, magnetisation, BH"},
      {"relative", "BH = { H = [\"0 A/m\"], B = [\"0 T\"], curie = \"770 degC\" }",
       "BH.B: found 1 points"},
      {"relative",
       "BH = { H = [0, 2, 1], H_unit = \"kA/m\", B = [0, 1, 1.2], B_unit = \"T\", curie = \"770 "
       "degC\" }",
       "BH.B: found H = 1000 A/m after 2000 A/m"},
      {"relative",
       "BH = { H = [0, 1, 2], H_unit = \"kA/m\", B = [0, 1, 0.9], B_unit = \"T\", curie = \"770 "
       "degC\" }",
       "BH.B: found B = 0.9 T at H = 2000 A/m after 1 T: flatter than air"},
      {"relative",
       "BH = { H = [0, 1, 9], H_unit = \"kA/m\", B = [0, 1, 1.5], B_unit = \"T\", uncertainty = "
       "4, curie = \"770 degC\" }",
       "BH.uncertainty: found \"4\""},
      {"heat",
       "heat_capacity = { pieces = [ { from = \"0 degC\", to = \"9 degC\", form = \"pole\", c = "
       "[1, 2, 5] } ] }",
       "heat_capacity.pieces.c: has its pole"},
      {"heat",
       "heat_capacity = { pieces = [ { from = \"0 degC\", to = \"9 degC\", form = \"polynomial\", "
       "c = [1, -1] } ] }",
       "heat_capacity: is"},
      {"emissivity", "emissivity = \"0.6 W\"", "emissivity: found \"0.6 W\" with a unit"},
      {"melting", "transformation = [ { at = \"900 degC\", latent = \"9 kJ/kg\" } ]",
       "transformation: found a transformation"},
  };
  for (const Row& row : rows) {
    const std::string complaint = complaint_about(bronze_with(row.key, row.line));
    EXPECT_NE(complaint.find(row.complaint), std::string::npos) << row.line << "\n" << complaint;
    EXPECT_EQ(complaint.find('\n'), std::string::npos) << row.line << "\n" << complaint;
  }
}

// A file that is no TOML, no file, or no text is refused with its place.
TEST(MaterialFile, unreadable_files_are_refused) {
  EXPECT_NE(complaint_about("name = \"x\"\ndensity = = 3\n").find(":2:"), std::string::npos);
  EXPECT_NE(complaint_about("notes = [ }\n").find(":1:11: not readable as TOML"),
            std::string::npos);
  EXPECT_NE(complaint_about("\xff\xfe").find("not readable as TOML"), std::string::npos);
  EXPECT_THROW((void)read_material("/nowhere/at/all.toml"), MaterialError);
  EXPECT_THROW((void)read_material(testing::TempDir()), MaterialError);
}

}  // namespace
}  // namespace cw
