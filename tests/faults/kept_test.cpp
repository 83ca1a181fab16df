// Files written by versions of the program: kept/<number of the result format of the version>/.
// Later versions read them, continue from them, or say what to do; none is mistaken for something
// else.
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "cases/run/build_info.hpp"
#include "cases/sweep/store.hpp"
#include "postproc/result/write_result.hpp"
#include "tests/shell.hpp"

namespace cw::cases {
namespace {

namespace fs = std::filesystem;

const fs::path kept_files = fs::absolute(fs::path(__FILE__).parent_path()) / "kept";

std::vector<std::string> kept_numbers() {
  std::vector<std::string> numbers;
  for (const auto& entry : fs::directory_iterator(kept_files))
    numbers.push_back(entry.path().filename().string());
  std::ranges::sort(numbers);
  return numbers;
}

std::string bytes_of(const fs::path& file) {
  std::ostringstream text;
  text << std::ifstream(file, std::ios::binary).rdbuf();
  return text.str();
}

/// Files of one version, copied to a folder where they may be changed.
class Kept : public testing::TestWithParam<std::string> {
 protected:
  void SetUp() override {
    fs::remove_all(folder_);
    fs::copy(kept_files / GetParam(), folder_, fs::copy_options::recursive);
  }
  void TearDown() override { fs::remove_all(folder_); }

  [[nodiscard]] Shell program(const std::string& words) const {
    return shell("cd '" + folder_.string() + "' && " + COILWRIGHT_PROGRAM + " " + words);
  }
  [[nodiscard]] double time_to_target() const {
    const auto result = nlohmann::json::parse(bytes_of(folder_ / "rod/result.json"));
    return result.at("heat").at("time_to_target_s").get<double>();
  }
  /// Sets the identity of the program in the stored heating run.
  void pretend_left_by(const std::string& form) const {
    std::string bytes = bytes_of(folder_ / "rod.heating");
    const std::string word = "\nprogram ";
    const std::size_t at = bytes.find(word);
    ASSERT_NE(at, std::string::npos);
    bytes.replace(at + word.size(), form.size(), form);
    std::ofstream(folder_ / "rod.heating", std::ios::binary) << bytes;
  }

  fs::path folder_ =
      fs::temp_directory_path() / ("coilwright_kept_test_" + std::to_string(::getpid()));
};

void expect_text(const Shell& ended, const std::string& text) {
  EXPECT_NE(ended.text.find(text), std::string::npos) << ended.text;
}

// A result of this format becomes a page again; one of another format is refused with its format
// and what to do, and is not changed.
TEST_P(Kept, ResultIsShownOrRefused) {
  const std::string format = result_format, before = bytes_of(folder_ / "rod/result.json");
  const Shell ended = program("report rod");
  if (format == "coilwright-result-" + GetParam()) {
    EXPECT_EQ(ended.code, 0) << ended.text;
    EXPECT_NE(bytes_of(folder_ / "rod/report.html").find("Kept rod"), std::string::npos);
  } else {
    EXPECT_EQ(ended.code, 2);
    expect_text(ended, "of another version of the program");
    expect_text(ended, "run the case again");
    EXPECT_FALSE(fs::exists(folder_ / "rod/report.html"));
  }
  EXPECT_EQ(bytes_of(folder_ / "rod/result.json"), before);
}

// A sweep continues with the store of an earlier version: its rows stay, and both designs are
// ranked. A store of an unknown form is refused, and not changed.
TEST_P(Kept, StoreIsContinuedOrRefused) {
  fs::create_directories(folder_ / "bars");
  fs::rename(folder_ / "designs.sqlite", folder_ / "bars/designs.sqlite");
  const std::string before = bytes_of(folder_ / "bars/designs.sqlite");
  const Shell ended = program("sweep bars.toml --accuracy fast --jobs 1 --out bars");
  if (ended.code != 0) {
    EXPECT_EQ(ended.code, 4) << ended.text;
    expect_text(ended, "another directory with --out");
    EXPECT_EQ(bytes_of(folder_ / "bars/designs.sqlite"), before);
    return;
  }
  expect_text(ended, "2 designs, ranked");
  Store store(folder_ / "bars/designs.sqlite");
  for (const char* id : {"f95d6d0db87caaad357b42c89594c3006ece2c221df57d6d1ade6c8fe824f227",
                         "0f022bbc753de567da55d9efcbabcf7da6b61897e30859a1891bcd6d266c4f3e"})
    EXPECT_TRUE(store.done(id)) << id;
}

// A heating run of another build is refused with what to do, and not changed.
TEST_P(Kept, HeatingRunOfAnotherBuildIsRefused) {
  pretend_left_by(std::string(program_form().size(), '0'));
  const std::string before = bytes_of(folder_ / "rod.heating");
  fs::remove_all(folder_ / "rod");
  const Shell ended = program("run rod.toml --accuracy fast --resume --out rod");
  EXPECT_EQ(ended.code, 2) << ended.text;
  expect_text(ended, "rod.heating: found ");
  expect_text(ended, "run without --resume");
  EXPECT_FALSE(fs::exists(folder_ / "rod"));
  EXPECT_EQ(bytes_of(folder_ / "rod.heating"), before);
}

// The same as if this build had written it: resumed, it reaches the target when the whole run did;
// if the form of the state has changed since, it is refused with what to do.
TEST_P(Kept, HeatingRunIsResumedOrRefused) {
  pretend_left_by(program_form());
  const double whole = time_to_target();
  fs::remove_all(folder_ / "rod");
  const Shell ended = program("run rod.toml --accuracy fast --resume --out rod");
  if (ended.code == 0) {
    EXPECT_NEAR(time_to_target(), whole, 1e-3 * whole);
    EXPECT_FALSE(fs::exists(folder_ / "rod.heating"));
  } else {
    EXPECT_EQ(ended.code, 2);
    expect_text(ended, "run without --resume");
  }
}

INSTANTIATE_TEST_SUITE_P(Files, Kept, testing::ValuesIn(kept_numbers()),
                         [](const auto& info) { return "format" + info.param; });

// There are files of the version under test too.
TEST(KeptFiles, AreThereOfThisFormat) {
  const std::string format = result_format;
  EXPECT_TRUE(fs::exists(kept_files / format.substr(format.rfind('-') + 1) / "rod/result.json"));
}

}  // namespace
}  // namespace cw::cases
