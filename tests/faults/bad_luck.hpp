#pragma once

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "tests/shell.hpp"

namespace cw::faults {

namespace fs = std::filesystem;

using Ended = Shell;

/// A folder of its own, in which the program runs as a separate process. DEVELOPERS.md lists the
/// outcomes.
class BadLuck : public testing::Test {
 protected:
  void SetUp() override {
    fs::create_directories(folder_);
    before_ = fs::current_path();
    fs::current_path(folder_);
  }
  void TearDown() override {
    fs::current_path(before_);
    fs::remove_all(folder_);
  }

  /// Runs a line of shell in the folder. $P is the program, $C a quick case and $F its file.
  static Ended shell(const std::string& line) {
    return cw::shell("P='" COILWRIGHT_PROGRAM "'; C='" COILWRIGHT_EXAMPLES
                     "/aluminium-bar.toml --accuracy fast'; F='" COILWRIGHT_EXAMPLES
                     "/aluminium-bar.toml'; " +
                     line);
  }
  [[nodiscard]] std::vector<std::string> left() const {
    std::vector<std::string> names;
    for (const auto& entry : fs::directory_iterator(folder_))
      names.push_back(entry.path().filename().string());
    return names;
  }
  [[nodiscard]] static std::string read(const fs::path& file) {
    std::ifstream stream(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
  }

  fs::path folder_ =
      fs::temp_directory_path() / ("coilwright_bad_luck_" + std::to_string(::getpid()));
  fs::path before_;
};

inline bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace cw::faults
