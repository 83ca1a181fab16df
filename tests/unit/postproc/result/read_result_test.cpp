#include "postproc/result/read_result.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "postproc/result/write_result.hpp"
#include "tests/unit/postproc/sample_case.hpp"

namespace {

using nlohmann::json;

/// The reader's message about a file; empty if it accepts the file.
std::string complaint(const std::string& text) {
  try {
    cw::read_result(text, "there/result.json");
  } catch (const cw::ResultFileError& error) {
    return error.what();
  }
  return "";
}

json full() {
  return json::parse(cw::result_json(cw::sample::full_result()));
}

// Property: a result written, read and written again is the same file, byte for byte.
TEST(ReadResult, GivesBackWhatWasWritten) {
  for (const cw::Result& result : {cw::Result{}, cw::sample::result(), cw::sample::full_result()}) {
    const std::string text = cw::result_json(result);
    EXPECT_EQ(cw::result_json(cw::read_result(text)), text);
  }
}

// Property: members that may be missing stay empty, and no others.
TEST(ReadResult, LeavesEmptyWhatIsNotThere) {
  const cw::Result read = cw::read_result(cw::result_json(cw::sample::result()));
  EXPECT_FALSE(read.heat || read.exposure || read.heater || read.states[0].tank);
  ASSERT_TRUE(read.states[0].saturation);
  EXPECT_EQ(read.states[0].saturation->relative_permeability, 41.7);
  ASSERT_EQ(read.states[0].coil.turns.size(), 2U);
  EXPECT_EQ(read.states[0].coil.turns[1].z, 5e-3);
}

// Property: every value taken away, or turned into what it must not be, is answered by the name of
// the file and the key, never by another exception.
TEST(ReadResult, NamesTheDamage) {
  for (const char* key : {"states", "limits", "build", "timing", "warnings", "sources", "title"}) {
    json damaged = full();
    damaged.erase(key);
    EXPECT_NE(
        complaint(damaged.dump()).find("there/result.json: " + std::string(key) + " is missing"),
        std::string::npos)
        << complaint(damaged.dump());
  }
  json damaged = full();
  damaged["states"][1]["coil"]["inductance_H"] = "much";
  EXPECT_EQ(complaint(damaged.dump()),
            "there/result.json: states[1].coil.inductance_H is \"much\"; it must be a number.");
  damaged = full();
  damaged["limits"][0]["verdict"] = "maybe";
  EXPECT_NE(complaint(damaged.dump()).find("limits[0].verdict is \"maybe\""), std::string::npos);
  damaged = full();
  damaged["states"][0]["coil"]["turn_r_m"].push_back(1.0);
  EXPECT_NE(complaint(damaged.dump()).find("turn_r_m has 3 numbers where 2 are needed"),
            std::string::npos);
}

// Property: no truncated file is accepted, and each message says what to do.
TEST(ReadResult, RefusesAFileCutShort) {
  const std::string text = cw::result_json(cw::sample::full_result());
  for (std::size_t length = 0; length + 2 < text.size(); length += 211)
    EXPECT_NE(complaint(text.substr(0, length)).find("run the case again"), std::string::npos)
        << length;
  EXPECT_NE(complaint("{}").find("no result of this program"), std::string::npos);
  EXPECT_NE(complaint("[1, 2]").find("no result of this program"), std::string::npos);
}

// Property: a result of an earlier or a later format is refused as a whole: the message has what
// was found, what is allowed, the command that renews it, and its directory.
TEST(ReadResult, RefusesAnotherFormatWithWhatToDo) {
  for (const char* format : {"coilwright-result-1", "coilwright-result-3"}) {
    json other = full();
    other["format"] = format;
    EXPECT_EQ(complaint(other.dump()),
              fmt::format("there/result.json: found \"format\": \"{}\", of another version of the "
                          "program; allowed: \"{}\"; run the case again into the same directory, "
                          "`coilwright run CASE.toml --out there`",
                          format, cw::result_format));
  }
}

// Property: any single value replaced by one of every other kind is either taken or answered by
// ResultFileError.
TEST(ReadResult, NeverFailsInAnotherWay) {
  const json flat = full().flatten();
  ASSERT_GT(flat.size(), 100U);
  for (const auto& [pointer, value] : flat.items()) {
    for (const json& odd : {json(nullptr), json(-1e300), json(4000000000000LL), json("x"),
                            json::array(), json::object(), json(true)}) {
      json damaged = full();
      damaged[json::json_pointer(pointer)] = odd;
      EXPECT_NO_THROW(complaint(damaged.dump())) << pointer << " " << odd;
    }
  }
}

// Property: values that are readable one by one but do not go together are refused by their key; a
// page of such a result would read past the end of a list or draw a logarithm of nothing.
TEST(ReadResult, RefusesWhatDoesNotGoTogether) {
  const std::vector<std::pair<const char*, json>> spoilt = {
      {"/demand/currents_A", json::array({1.0})},
      {"/demand/frequencies_Hz", json::array()},
      {"/heat/history", "/etc/hostname"},
      {"/heat/history", "../other/history.csv"},
      {"/exposure/distances_m/0", -1.0},
      {"/exposure/field_T_rms", json::array()},
      {"/exposure/axis_T_rms", json::array({1e-6})},
      {"/states/0/energy_J", 1e31},
  };
  for (const auto& [key, value] : spoilt) {
    json damaged = full();
    ASSERT_TRUE(damaged.contains(json::json_pointer(key))) << key;
    damaged[json::json_pointer(key)] = value;
    const std::string first = std::string(key).substr(1, std::string(key).find('/', 1) - 1);
    EXPECT_NE(complaint(damaged.dump()).find("result.json: " + first), std::string::npos)
        << key << ": " << complaint(damaged.dump());
  }
}

// Property: nothing in a file reaches the terminal as more than text (ECMA-48, 5.3), nor is a
// letter cut in two.
TEST(ReadResult, MessagesAreTextOnOneLine) {
  json damaged = full();
  damaged["states"][0]["power"]["bodies_W"] = json{{"\x1b[2J\xc2\x9b\n", "much"}};
  EXPECT_EQ(complaint(damaged.dump()),
            "there/result.json: states[0].power.bodies_W.?[2J?? is \"much\"; it must be a number.");
  damaged = full();
  damaged["timing"]["total_s"] = std::string(35, 'x') + "\xc3\xa9\xc3\xa9\xc3\xa9";
  EXPECT_EQ(complaint(damaged.dump()), "there/result.json: timing.total_s is \"" +
                                           std::string(35, 'x') + "?...; it must be a number.");
}

// Property: for a directory without a result the message says which kind of directory is needed.
TEST(ReadResult, WantsAResultDirectory) {
  try {
    cw::read_result_directory("/nowhere/at-all");
    FAIL() << "no exception";
  } catch (const cw::ResultFileError& error) {
    EXPECT_NE(std::string(error.what()).find("give the directory"), std::string::npos);
  }
}

}  // namespace
