#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <functional>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "cases/check/check_case.hpp"
#include "cases/read/read_case.hpp"
#include "tests/faults/wrong_cases.hpp"

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

/// All messages about a case that is read, a line each; warnings are marked.
std::string verdict(const std::function<Case()>& read) {
  std::string text;
  try {
    const CheckResult result = check_case(read());
    for (const auto& line : result.errors) text += line + "\n";
    for (const auto& line : result.warnings) text += "warning: " + line + "\n";
  } catch (const CaseError& error) {
    for (const auto& line : error.messages()) text += line + "\n";
  }
  return text;
}

std::string verdict(const fs::path& file) {
  return verdict([&] { return read_case(file); });
}

std::string content(const fs::path& file) {
  std::ostringstream text;
  text << std::ifstream(file, std::ios::binary).rdbuf();
  return text.str();
}

/// Messages name the file as the caller does; materials are beside it: "inputs/<name>.toml".
class InFolder : public testing::TestWithParam<std::string> {
 protected:
  void SetUp() override {
    before_ = fs::current_path();
    fs::current_path(folder);
  }
  void TearDown() override { fs::current_path(before_); }

 private:
  fs::path before_;
};

std::string test_name(std::string name) {
  std::ranges::replace(name, '-', '_');
  return name;
}

const std::vector<faults::WrongCase>& tables() {
  static const std::vector<faults::WrongCase> all = faults::wrong_cases(folder / "wrong");
  return all;
}

/// None if a table has a fault: FaultInputs.AreThere names it.
std::vector<std::string> names_of_tables() {
  std::vector<std::string> names;
  try {
    for (const auto& wrong : tables()) names.push_back(wrong.name);
  } catch (const std::runtime_error&) {
    names.clear();
  }
  return names;
}

class WrongCases : public InFolder {};

// Property: a wrong case gets exactly the lines of its table, every mistake at once with its line
// and column, and nothing else happens. Origin of the expectations: each was checked by hand
// against its case.
TEST_P(WrongCases, AreAnsweredWithTheExpectedLines) {
  const auto wrong = std::ranges::find(tables(), GetParam(), &faults::WrongCase::name);
  const std::string file = "inputs/" + wrong->name + ".toml", warning = "warning: ";
  std::string expected;
  for (const std::string& line : wrong->expected)
    expected += line.starts_with(warning)
                    ? warning + file + ":" + line.substr(warning.size()) + "\n"
                    : file + ":" + line + "\n";
  EXPECT_EQ(verdict([&] { return read_case_text(wrong->text, file); }), expected) << wrong->text;
}

INSTANTIATE_TEST_SUITE_P(Tables, WrongCases, testing::ValuesIn(names_of_tables()),
                         [](const auto& input) { return test_name(input.param); });

// Property: the correct cases from which the wrong ones are made give no messages, except for
// assumed values of parts that they leave out.
TEST(WrongCasesBases, AreSound) {
  for (const char* base : {"bench", "push-pull"}) {
    std::istringstream lines(verdict(folder / "wrong/bases" / (std::string(base) + ".toml")));
    for (std::string line; std::getline(lines, line);)
      EXPECT_NE(line.find(": assumed: "), std::string::npos) << base << ": " << line;
  }
}

class Faults : public InFolder {};

// Property: input that is not text, or too large, gets exactly the lines beside it, and nothing
// else happens.
TEST_P(Faults, AreAnsweredWithTheExpectedLines) {
  const fs::path file = fs::path("inputs") / (GetParam() + ".toml");
  const std::string expected = content(fs::path("inputs") / (GetParam() + ".expected"));
  ASSERT_FALSE(expected.empty()) << "no expectation beside " << file;
  EXPECT_EQ(verdict(file), expected);
}

INSTANTIATE_TEST_SUITE_P(Inputs, Faults, testing::ValuesIn(input_names()),
                         [](const auto& input) { return test_name(input.param); });

// Property: the collection is complete: at least two hundred wrong cases and five odd files.
TEST(FaultInputs, AreThere) {
  EXPECT_GE(tables().size(), 200U);
  EXPECT_GE(input_names().size(), 5U);
}

// Property: a missing file gives a message, not a crash.
TEST(FaultInputs, MissingFileIsAnswered) {
  EXPECT_EQ(verdict("inputs/no-such-case.toml"),
            "inputs/no-such-case.toml: found no such file; write the path of a case file\n");
}

}  // namespace
}  // namespace cw::cases
