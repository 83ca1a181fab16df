#include "cases/compare/read_readings.hpp"

#include <gtest/gtest.h>

#include "cases/read/read_case.hpp"

namespace cw::cases {
namespace {

std::string complaint(const char* text) {
  try {
    read_readings_text(text, "readings.toml");
  } catch (const CaseError& error) {
    return error.what();
  }
  return "";
}

// Property: readings are converted from their units and assigned to their kinds.
TEST(ReadReadings, ReadsWhatWasMeasured) {
  const Measured m = read_readings_text(
      "empty_frequency = \"113 kHz\"\nempty_current = \"4.3 A\"\nsupply = \"35.5 V\"\n"
      "accuracy = 0.01\n",
      "readings.toml");
  EXPECT_DOUBLE_EQ(m.value[static_cast<std::size_t>(ReadingKind::empty_frequency)].value(), 113e3);
  EXPECT_DOUBLE_EQ(m.value[static_cast<std::size_t>(ReadingKind::empty_current)].value(), 4.3);
  EXPECT_FALSE(m.value[static_cast<std::size_t>(ReadingKind::loaded_current)]);
  EXPECT_DOUBLE_EQ(m.supply.value(), 35.5);
  EXPECT_DOUBLE_EQ(m.accuracy, 0.01);
}

// Property: wrong files get messages with place, value, what is allowed and what to write.
TEST(ReadReadings, AnswersWrongFiles) {
  EXPECT_NE(complaint("empty_frequency = \"113 kHz\"\n").find("at least two"), std::string::npos);
  EXPECT_NE(complaint("empty_frequency = 113\nempty_current = \"4 A\"\n").find("readings.toml:1"),
            std::string::npos);
  EXPECT_NE(
      complaint("empty_frequenzy = \"113 kHz\"\nempty_current = \"4 A\"\n").find("empty_frequency"),
      std::string::npos);
  EXPECT_NE(complaint("empty_frequency = \"-1 kHz\"\nempty_current = \"4 A\"\n").find("above zero"),
            std::string::npos);
  EXPECT_NE(complaint("empty_frequency = \"1 kHz\"\nempty_current = \"4 A\"\naccuracy = 2\n")
                .find("0.001 to 0.3"),
            std::string::npos);
}

}  // namespace
}  // namespace cw::cases
