#include "cases/run/checkpoint.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <cstring>
#include <fstream>
#include <iterator>
#include <limits>

#include "cases/read/read_case.hpp"
#include "tests/unit/cases/case_text.hpp"

namespace cw::cases {
namespace {
namespace fs = std::filesystem;

/// A stored run of the small case with a material file.
class Checkpoint : public testing::Test {
 protected:
  void SetUp() override {
    subject_ = read_case_text(small_case, "small.toml");
    subject_.files = {{"my steel.toml", std::string(64, 'a')}};
    state_.thermal.time = 3.25;
    state_.thermal.enthalpy = Eigen::VectorXd::LinSpaced(20, 1e6, 2e6);
    state_.energy = {1.0, 2.0};
    write_checkpoint(file_, subject_, Effort::normal, state_);
    std::ifstream stream(file_, std::ios::binary);
    bytes_ = {std::istreambuf_iterator<char>(stream), {}};
  }
  void TearDown() override { fs::remove(file_); }

  /// What it is refused with; empty: taken.
  [[nodiscard]] std::string refusal(const Case& subject, Effort effort = Effort::normal) const {
    try {
      static_cast<void>(read_checkpoint(file_, subject, effort));
      return {};
    } catch (const CaseError& error) {
      return error.what();
    }
  }
  [[nodiscard]] std::string refusal_of(const std::string& bytes) const {
    std::ofstream(file_, std::ios::binary) << bytes;
    return refusal(subject_);
  }

  Case subject_;
  HeatingState state_;
  std::string bytes_;
  fs::path file_ = fs::temp_directory_path() /
                   ("coilwright_checkpoint_test_" + std::to_string(::getpid()) + ".heating");
};

// A stored run is read back; without a file nothing is read.
TEST_F(Checkpoint, ComesBack) {
  const auto found = read_checkpoint(file_, subject_, Effort::normal);
  ASSERT_TRUE(found);
  EXPECT_EQ(found->thermal.time, 3.25);
  EXPECT_EQ(found->thermal.enthalpy, state_.thermal.enthalpy);
  EXPECT_EQ(found->energy, state_.energy);
  fs::remove(file_);
  EXPECT_FALSE(read_checkpoint(file_, subject_, Effort::normal));
}

// If anything on which the run depends has changed, it is refused with its name and what to do:
// accuracy, text of the case, bytes of a file that it names.
TEST_F(Checkpoint, ChangesWithEverythingTheRunDependsOn) {
  const auto expect = [](const std::string& text, const char* what) {
    EXPECT_NE(text.find(what), std::string::npos) << text;
    EXPECT_NE(text.find("run without --resume"), std::string::npos) << text;
  };
  expect(refusal(subject_, Effort::fine), "another accuracy");
  Case edited = subject_;
  edited.sha256 = std::string(64, 'b');
  expect(refusal(edited), "another case");
  Case file = subject_;
  file.files["my steel.toml"] = std::string(64, 'b');
  expect(refusal(file), "with my steel.toml before it was edited");
  std::string other = bytes_;
  other[other.find("program ") + 8] = 'x';
  expect(refusal_of(other), "another build of the program");
  expect(refusal_of("something else\n"), "no heating run of this version");
}

// No damaged file is taken up: any bit turned, any length cut, bytes more, zeros, no number (NaN)
// in the place of an enthalpy.
TEST_F(Checkpoint, DamagedBytesAreRefused) {
  for (std::size_t i = 0; i < bytes_.size(); ++i) {
    std::string turned = bytes_;
    turned[i] = static_cast<char>(turned[i] ^ (1 << (i % 8)));
    EXPECT_NE(refusal_of(turned), "") << "byte " << i;
    EXPECT_NE(refusal_of(bytes_.substr(0, i)), "") << "cut at " << i;
  }
  EXPECT_NE(refusal_of(bytes_ + '\0'), "");
  std::string zeroed = bytes_;
  std::fill(zeroed.end() - 40, zeroed.end(), '\0');
  EXPECT_NE(refusal_of(zeroed), "");
  const double stored = state_.thermal.enthalpy[7], nan = std::numeric_limits<double>::quiet_NaN();
  std::string place(sizeof stored, '\0'), none = place, spoiled = bytes_;
  std::memcpy(place.data(), &stored, sizeof stored);
  std::memcpy(none.data(), &nan, sizeof nan);
  ASSERT_NE(spoiled.find(place), std::string::npos);
  spoiled.replace(spoiled.find(place), place.size(), none);
  EXPECT_NE(refusal_of(spoiled).find("damaged bytes"), std::string::npos);
  EXPECT_EQ(refusal_of(bytes_), "");
}

}  // namespace
}  // namespace cw::cases
