#include "cases/read/read_case.hpp"

#include <unistd.h>

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "cases/read/fingerprint.hpp"
#include "tests/unit/cases/case_text.hpp"

namespace cw::cases {
namespace {

Case read(const std::string& text) {
  return read_case_text(text, "small.toml");
}

/// The messages a text is refused with; none when it is taken.
std::vector<std::string> refusals(const std::string& text) {
  try {
    read(text);
  } catch (const CaseError& error) {
    return error.messages();
  }
  return {};
}

// Property: every section of a case arrives in SI with the defaults the header states.
TEST(ReadCase, ConvertsToSiAndFillsDefaults) {
  const Case c = read(small_case);
  EXPECT_EQ(c.title, "Small");
  ASSERT_TRUE(c.workpiece);
  EXPECT_EQ(c.workpiece->material.name, "steel-high-carbon");
  EXPECT_DOUBLE_EQ(*c.workpiece->outline.diameter, 0.014);
  EXPECT_DOUBLE_EQ(c.workpiece->temperature.kelvin, 293.15);
  EXPECT_EQ(c.coil.shape, CoilShape::helix);
  EXPECT_DOUBLE_EQ(c.coil.turns, 8.0);
  EXPECT_DOUBLE_EQ(c.coil.pitch, 0.0075);
  EXPECT_EQ(c.coil.conductor.material.name, "copper-tube");
  EXPECT_FALSE(c.coil.leads || c.coil.coolant || c.coil.temperature || c.tank || c.heat || c.sweep);
  const auto& drive = std::get<CurrentDrive>(c.drive);
  EXPECT_DOUBLE_EQ(drive.frequency.hertz, 100e3);
  EXPECT_DOUBLE_EQ(drive.rms, 100.0);
  EXPECT_EQ(c.sha256, sha256_hex(small_case));
}

// Property: the default tolerance of the gap is 1 mm, or an eighth of the bore if that is too
// narrow; a given value is kept.
TEST(ReadCase, AssumesAToleranceOfTheGapThatFitsTheBore) {
  EXPECT_DOUBLE_EQ(read(small_case).tolerance.gap, 1e-3);
  const std::string narrow = small_case_with("\"32 mm\"", "\"2 mm\"");
  EXPECT_DOUBLE_EQ(read(narrow).tolerance.gap, 2.5e-4);
  EXPECT_DOUBLE_EQ(read(narrow + "[tolerance]\ngap = \"0.9 mm\"\n").tolerance.gap, 9e-4);
}

// Property: a part given by diameter becomes the rectangle of its half section.
TEST(ReadCase, CylinderBecomesFourCorners) {
  const Case c = read(small_case_with("length = \"60 mm\"",
                                      "bore = \"6 mm\"\nlength = \"60 mm\"\ncentre = \"10 mm\""));
  const auto& profile = c.workpiece->outline.profile;
  ASSERT_EQ(profile.size(), 4U);
  EXPECT_DOUBLE_EQ(profile[0].r, 0.003);
  EXPECT_DOUBLE_EQ(profile[0].z, -0.020);
  EXPECT_DOUBLE_EQ(profile[2].r, 0.007);
  EXPECT_DOUBLE_EQ(profile[2].z, 0.040);
}

// Property: a gap between turns gives the pitch by the size of the conductor along the row.
TEST(ReadCase, GapBecomesPitch) {
  const std::string gap = small_case_with("pitch = \"7.5 mm\"", "gap = \"1.5 mm\"");
  EXPECT_DOUBLE_EQ(read(gap).coil.pitch, 0.0075);
  std::string bar = gap;
  bar.replace(bar.find("{ tube = \"6 mm\""), 15, "{ bar = [\"8 mm\", \"4 mm\"]");
  EXPECT_DOUBLE_EQ(read(bar).coil.pitch, 0.0055);  // axial
  bar.insert(bar.find("turns"), "shape = \"flat\"\n");
  EXPECT_DOUBLE_EQ(read(bar).coil.pitch, 0.0095);  // radial
}

// Property: each kind of conductor is read, with its outside size.
TEST(ReadCase, KnowsEveryConductor) {
  const std::string tube = "{ tube = \"6 mm\", wall = \"1 mm\" }";
  const auto conductor = [&](const std::string& text) {
    return read(small_case_with(tube, text)).coil.conductor;
  };
  EXPECT_DOUBLE_EQ(std::get<RoundWire>(conductor("{ wire = \"2 mm\" }").section).diameter, 0.002);
  const Conductor bar = conductor("{ bar = [\"8 mm\", \"4 mm\"], wall = \"1 mm\" }");
  EXPECT_DOUBLE_EQ(bar.radial_size(), 0.008);
  EXPECT_DOUBLE_EQ(bar.axial_size(), 0.004);
  EXPECT_DOUBLE_EQ(*std::get<RectangularBar>(bar.section).thickness, 0.001);
  const Conductor strands =
      conductor("{ strands = 400, strand = \"0.1 mm\", bundle = \"5 mm\", lay = 1.04 }");
  EXPECT_EQ(std::get<StrandBundle>(strands.section).strands, 400);
  EXPECT_DOUBLE_EQ(std::get<StrandBundle>(strands.section).lay, 1.04);
  EXPECT_DOUBLE_EQ(strands.axial_size(), 0.005);
}

// Property: explicit turns are counted, and their clear bore follows from the smallest.
TEST(ReadCase, ReadsExplicitRings) {
  const Case c = read(small_case_with("turns = 8\nbore = \"32 mm\"\npitch = \"7.5 mm\"",
                                      "shape = \"rings\"\nring = [{ r = \"25 mm\", z = \"-9 mm\" },"
                                      " { r = \"30 mm\", z = \"9 mm\" }]"));
  ASSERT_EQ(c.coil.rings.size(), 2U);
  EXPECT_DOUBLE_EQ(c.coil.rings[1].r, 0.030);
  EXPECT_DOUBLE_EQ(c.coil.turns, 2.0);
  EXPECT_NEAR(c.coil.bore, 0.044, 1e-15);
}

// Property: a changed value is read as if it were in the file; a body is addressed by its name or
// number.
TEST(ReadCase, AppliesChanges) {
  const std::string text =
      small_case +
      "\n[[body]]\nname = \"liner\"\nmaterial = \"quartz\"\ndiameter = \"20 mm\"\n"
      "bore = \"16 mm\"\nlength = \"50 mm\"\n";
  const std::vector<Change> changes = {{"coil.turns", "6.5"},
                                       {"body.liner.length", "40 mm"},
                                       {"body.0.bore", "17 mm"},
                                       {"workpiece.material", "aluminium-pure"},
                                       {"coil.temperature", "60 degC"}};
  const Case c = read_case_text(text, "small.toml", changes);
  EXPECT_DOUBLE_EQ(c.coil.turns, 6.5);
  EXPECT_DOUBLE_EQ(*c.bodies[0].outline.length, 0.040);
  EXPECT_DOUBLE_EQ(*c.bodies[0].outline.bore, 0.017);
  EXPECT_EQ(c.workpiece->material.name, "aluminium-pure");
  EXPECT_DOUBLE_EQ(c.coil.temperature->kelvin, 333.15);
  const std::vector<Change> wrong = {{"coil.turns.more", "6"}, {"body.sleeve.length", "40 mm"}};
  EXPECT_THROW(read_case_text(text, "small.toml", wrong), CaseError);
}

// Property: a range of a sweep becomes evenly spaced values in the unit it was written in.
TEST(ReadCase, SpreadsASweepRange) {
  const Case c =
      read(small_case +
           "\n[sweep]\nvary = [{ key = \"coil.pitch\", from = \"7 mm\", to = \"8 mm\", count = 5 },"
           " { key = \"coil.turns\", values = [6, 7.5] }]\nrank = \"-efficiency\"\n");
  ASSERT_TRUE(c.sweep);
  ASSERT_EQ(c.sweep->vary.size(), 2U);
  const std::vector<std::string> pitches = {"7 mm", "7.25 mm", "7.5 mm", "7.75 mm", "8 mm"};
  EXPECT_EQ(c.sweep->vary[0].values, pitches);
  const std::vector<std::string> turns = {"6", "7.5"};
  EXPECT_EQ(c.sweep->vary[1].values, turns);
  EXPECT_EQ(c.sweep->rank, "-efficiency");
}

// Property: the place of a key is that of its text, and of the enclosing section for a key that is
// not written.
TEST(ReadCase, KnowsThePlacesOfKeys) {
  const Case c = read(small_case);
  EXPECT_EQ(c.where.of("coil.pitch").line, 11U);
  EXPECT_EQ(c.where.of("coil.conductor.wall").column, 30U);
  EXPECT_EQ(c.where.of("coil.leads.length").line, 8U);
  EXPECT_EQ(c.where.of("heat.target").line, 1U);
}

// Property: a path for a material is taken from the folder of the case file, not from where the
// program runs.
TEST(ReadCase, FindsMaterialFilesBesideTheCase) {
  const auto folder = std::filesystem::temp_directory_path() /
                      ("coilwright-read-case-test-" + std::to_string(::getpid()));
  std::filesystem::create_directories(folder);
  std::ofstream(folder / "shop.toml")
      << "name = \"shop-bronze\"\ntitle = \"Tin bronze, shop stock\"\n"
         "density = \"8780 kg/m3\"\nresistivity = \"0.17 uohm m\"\n"
         "relative_permeability = 1.0\nthermal_conductivity = \"50 W/(m K)\"\n"
         "heat_capacity = \"380 J/(kg K)\"\nemissivity = 0.6\n";
  std::ofstream(folder / "case.toml") << small_case_with("steel-high-carbon", "shop.toml");
  const Case c = read_case(folder / "case.toml");
  EXPECT_EQ(c.workpiece->material.name, "shop-bronze");
  std::filesystem::remove_all(folder);
}

// Property: several mistakes are reported together, in the order of the file, and what() has all of
// them.
TEST(ReadCase, ReportsEveryMistakeAtOnce) {
  std::string text = small_case_with("\"32 mm\"", "32");
  text.replace(text.find("\"100 A\""), 7, "\"100 V\"");
  const auto messages = refusals(text);
  ASSERT_EQ(messages.size(), 2U);
  EXPECT_TRUE(
      messages[0].starts_with("small.toml:10:1: coil.bore: found the number 32 without a unit"));
  EXPECT_TRUE(messages[0].ends_with("write \"32 mm\""));
  EXPECT_TRUE(messages[1].starts_with("small.toml:17:1: drive.rms: "));
  try {
    read(text);
  } catch (const CaseError& error) {
    EXPECT_EQ(error.what(), messages[0] + "\n" + messages[1]);
  }
}

// Property: a file too large to be a case is refused before it is parsed, and a message never spans
// lines.
TEST(ReadCase, RefusesHugeFilesAndKeepsMessagesOnOneLine) {
  const auto file = std::filesystem::temp_directory_path() /
                    ("coilwright-huge-" + std::to_string(::getpid()) + ".toml");
  std::ofstream(file) << small_case << std::string(1'000'000, '#');
  EXPECT_THROW(read_case(file), CaseError);
  std::filesystem::remove(file);
  const auto messages = refusals(small_case_with("\"32 mm\"", "\"\"\"3\n2 mm\"\"\""));
  ASSERT_EQ(messages.size(), 1U);
  EXPECT_EQ(messages[0].find('\n'), std::string::npos);
}

}  // namespace
}  // namespace cw::cases
