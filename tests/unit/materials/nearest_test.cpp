#include "materials/nearest.hpp"

#include <gtest/gtest.h>

#include <vector>

namespace cw {
namespace {

const std::vector<std::string> keys = {"pitch", "turns", "bore", "kHz", "mm", "uF", "ohm"};

// A word one edit away is found: a letter too many, one missing, one wrong, two exchanged.
TEST(Nearest, finds_a_word_one_edit_away) {
  EXPECT_EQ(nearest("pitchh", keys), "pitch");
  EXPECT_EQ(nearest("trns", keys), "turns");
  EXPECT_EQ(nearest("bare", keys), "bore");
  EXPECT_EQ(nearest("ptich", keys), "pitch");
  EXPECT_EQ(nearest("mmm", keys), "mm");
}

// Capitals count half an edit, so a wrong Shift key is always recognised.
TEST(Nearest, recognises_wrong_capitals) {
  EXPECT_EQ(nearest("khz", keys), "kHz");
  EXPECT_EQ(nearest("UF", keys), "uF");
  EXPECT_EQ(nearest("Ohm", keys), "ohm");
}

// A word that resembles nothing gets no suggestion, nor does a page of text.
TEST(Nearest, suggests_nothing_for_a_stranger) {
  EXPECT_FALSE(nearest("capacitance", keys));
  EXPECT_FALSE(nearest("q", keys));
  EXPECT_FALSE(nearest("", keys));
  EXPECT_FALSE(nearest(std::string(5000, 'p'), keys));
  EXPECT_FALSE(nearest("pitch", {}));
}

// A truncated word means the only known word that begins with it; if there are two, there is no
// suggestion.
TEST(Nearest, completes_a_word_cut_short) {
  const std::vector<std::string> readings{"empty_frequency", "empty_current", "loaded_current"};
  EXPECT_EQ(nearest("empty_freq", readings), "empty_frequency");
  EXPECT_FALSE(nearest("empty_", readings));
  EXPECT_FALSE(nearest("loa", readings));
}

}  // namespace
}  // namespace cw
