#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "cases/check/check_case.hpp"
#include "cases/read/read_case.hpp"

namespace cw::cases {
namespace {

namespace fs = std::filesystem;

const fs::path folder = fs::absolute(fs::path(__FILE__).parent_path());

std::vector<std::string> input_names() {
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(folder / "inputs")) {
    if (entry.path().extension() == ".toml") names.push_back(entry.path().stem().string());
  }
  std::ranges::sort(names);
  return names;
}

/// Everything that is said about a file, a line each; warnings marked as such.
std::string verdict(const fs::path& file) {
  std::string text;
  try {
    const CheckResult result = check_case(read_case(file));
    for (const auto& line : result.errors) text += line + "\n";
    for (const auto& line : result.warnings) text += "warning: " + line + "\n";
  } catch (const CaseError& error) {
    for (const auto& line : error.messages()) text += line + "\n";
  }
  return text;
}

std::string content(const fs::path& file) {
  std::ostringstream text;
  text << std::ifstream(file, std::ios::binary).rdbuf();
  return text.str();
}

class Faults : public testing::TestWithParam<std::string> {
 protected:
  // The messages name the file as the caller does: "inputs/<name>.toml".
  void SetUp() override {
    before_ = fs::current_path();
    fs::current_path(folder);
  }
  void TearDown() override { fs::current_path(before_); }

 private:
  fs::path before_;
};

// Property: a wrong file is answered with exactly the lines that lie beside it, every mistake at
// once, and nothing else happens. Origin of the expectations: read one by one against the file they
// belong to.
TEST_P(Faults, AreAnsweredWithTheExpectedLines) {
  const fs::path file = fs::path("inputs") / (GetParam() + ".toml");
  const std::string expected = content(fs::path("inputs") / (GetParam() + ".expected"));
  ASSERT_FALSE(expected.empty()) << "no expectation beside " << file;
  EXPECT_EQ(verdict(file), expected);
}

INSTANTIATE_TEST_SUITE_P(Inputs, Faults, testing::ValuesIn(input_names()), [](const auto& input) {
  std::string name = input.param;
  std::ranges::replace(name, '-', '_');
  return name;
});

// Property: the collection is not lost: at least a hundred and fifty wrong files were found.
TEST(FaultInputs, AreThere) {
  EXPECT_GE(input_names().size(), 150U);
}

// Property: a file that is not there is answered, not crashed on.
TEST(FaultInputs, MissingFileIsAnswered) {
  EXPECT_EQ(verdict("inputs/no-such-case.toml"),
            "inputs/no-such-case.toml: found no such file; write the path of a case file\n");
}

}  // namespace
}  // namespace cw::cases
