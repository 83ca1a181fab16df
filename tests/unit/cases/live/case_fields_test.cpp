#include "cases/live/case_fields.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>

#include "cases/live/live_check.hpp"

namespace cw::cases {
namespace {

namespace fs = std::filesystem;

constexpr const char* short_case =
    "[coil]\nturns = 8       # wound by hand\nbore = \"32 mm\"\n"
    "[drive]\nsupply = { battery = \"24 V\" }\n"
    "[workpiece]\nmaterial = \"brass\"  # with a # sign\n";

// Property: the fields are the values of the text, and a changed text differs in that value alone.

TEST(CaseFields, AreThoseOfTheText) {
  const auto fields = fields_of(short_case);
  ASSERT_EQ(fields.size(), 3U);  // the supply is a table, and not one value
  EXPECT_EQ(fields[0].key, "coil.turns");
  EXPECT_EQ(fields[0].value, "8");
  EXPECT_EQ(fields[1].value, "32 mm");
  EXPECT_EQ(fields[2].value, "brass");
  EXPECT_TRUE(fields_of("[coil").empty());
}

TEST(CaseFields, AChangeKeepsEverythingElse) {
  const auto changed = with_field(short_case, "coil.turns", "9");
  ASSERT_TRUE(changed);
  std::string expected = short_case;
  expected.replace(expected.find("turns = 8"), 9, "turns = 9");
  EXPECT_EQ(*changed, expected);
  const auto back = with_field(*changed, "coil.turns", "8");
  ASSERT_TRUE(back);
  EXPECT_EQ(*back, short_case);
}

TEST(CaseFields, AValueCannotLeaveItsPlace) {
  for (const char* wrong : {"", "8\"\nx = \"1", "8\\", "8\n"})
    EXPECT_FALSE(with_field(short_case, "coil.bore", wrong)) << wrong;
  EXPECT_FALSE(with_field(short_case, "coil.wire", "1 mm"));
  EXPECT_FALSE(with_field(short_case, "drive.supply", "12 V"));
  const auto words = with_field(short_case, "coil.turns", "8 # x");
  ASSERT_TRUE(words);  // a mistake for the check, in quotes
  EXPECT_NE(words->find("turns = \"8 # x\""), std::string::npos) << *words;
}

constexpr const char* bank_case =
    "[tank]\ncapacitance = \"1.98 uF\"  # bought as a lot\ncans = 6\n"
    "[workpiece]\nmaterial = \"brass\"\nlength = \"60 mm\"\n"
    "[heat]\nheated = [\"2 mm\", \"3 cm\"]\n";

// Property: cans of one kind, so the bank grows with their number.
TEST(CaseFields, MoreCansAreMoreCapacitance) {
  const auto changed = with_field(bank_case, "tank.cans", "8");
  ASSERT_TRUE(changed);
  EXPECT_NE(changed->find("capacitance = \"2.64 uF\"  # bought as a lot\ncans = 8\n"),
            std::string::npos)
      << *changed;
}

// Property: the stretch to be heated is one of the work, and moves with it.
TEST(CaseFields, TheHeatedStretchMovesWithTheWork) {
  const auto changed = with_field(bank_case, "workpiece.centre", "10 mm");
  ASSERT_TRUE(changed);
  EXPECT_NE(changed->find("centre = \"10 mm\""), std::string::npos) << *changed;
  EXPECT_NE(changed->find("heated = [\"12 mm\", \"40 mm\"]"), std::string::npos) << *changed;
  const std::string deep = std::string(bank_case).insert(std::string(bank_case).find("length"),
                                                         "insertion = \"30 mm\"\n");
  const auto deeper = with_field(deep, "workpiece.insertion", "35 mm");
  ASSERT_TRUE(deeper);
  EXPECT_NE(deeper->find("heated = [\"-3 mm\", \"25 mm\"]"), std::string::npos) << *deeper;
}

// Property: any value of a section can be written as --set means it, also a new one; the rest of
// the text stays as it is, comments of other lines included.
TEST(CaseFields, ValuesOfAnyKeyAreWritten) {
  const auto battery = with_value(short_case, "drive.supply.battery", "12 V");
  ASSERT_TRUE(battery);
  std::string expected = short_case;
  expected.replace(expected.find("24 V"), 4, "12 V");
  EXPECT_EQ(*battery, expected);
  const auto longer = with_value(short_case, "coil.pitch", "7 mm");
  ASSERT_TRUE(longer);
  expected = short_case;
  expected.insert(expected.find("turns"), "pitch = \"7 mm\"\n");
  EXPECT_EQ(*longer, expected);
  const auto turns = with_value(short_case, "coil.turns", "9.5");
  ASSERT_TRUE(turns);
  EXPECT_NE(turns->find("turns = 9.5     # wound by hand"), std::string::npos) << *turns;
}

TEST(CaseFields, AValueThatCannotBeWrittenIsRefused) {
  using Pair = std::pair<const char*, const char*>;
  for (const auto& [key, value] :
       {Pair{"turns", "9"}, Pair{"coil.turns", "9\"\nx = \"1"}, Pair{"coil.turns.of", "9"},
        Pair{"tank.capacitance", "1 uF"}, Pair{"coil.at.0", "9"}, Pair{".", "9"}})
    EXPECT_FALSE(with_value(short_case, key, value)) << key;
}

class LiveChecks : public testing::Test {
 protected:
  void SetUp() override {
    fs::create_directories(folder_ / "cases");
    std::ofstream(folder_ / "secret.toml") << "name = \"secret\"\n";
    fs::create_symlink(folder_ / "secret.toml", folder_ / "cases" / "link.toml");
  }
  void TearDown() override { fs::remove_all(folder_); }
  [[nodiscard]] LiveCheck checked_with(const std::string& material) const {
    return check_live("[workpiece]\nmaterial = \"" + material + "\"\n",
                      folder_ / "cases" / "case.toml");
  }
  fs::path folder_ = fs::temp_directory_path() / ("coilwright_live_" + std::to_string(::getpid()));
};

// Property: no file outside the folder of the case is opened, by whatever name.
TEST_F(LiveChecks, MaterialFilesStandInTheFolderOfTheCase) {
  for (const std::string& wrong :
       {std::string("../secret.toml"), std::string("/etc/passwd"), std::string("link.toml"),
        std::string("x/../../secret.toml"), (folder_ / "secret.toml").string()}) {
    const LiveCheck check = checked_with(wrong);
    ASSERT_EQ(check.mistakes.size(), 1U) << wrong;
    EXPECT_EQ(check.mistakes[0].at.line, 2U);
    EXPECT_NE(check.mistakes[0].text.find("in the folder of the case"), std::string::npos);
    EXPECT_FALSE(check.subject);
  }
  for (const LiveCheck& check : {checked_with("own.toml"), checked_with("parts/own.toml")})
    for (const Complaint& mistake : check.mistakes)
      EXPECT_EQ(mistake.text.find("in the folder of the case"), std::string::npos) << mistake.text;
}

}  // namespace
}  // namespace cw::cases
