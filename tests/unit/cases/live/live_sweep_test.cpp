#include "cases/live/live_sweep.hpp"

#include <gtest/gtest.h>

#include "cases/complaint.hpp"
#include "cases/read/read_case.hpp"

namespace cw::cases {
namespace {

const std::string swept_case =
    "[coil]\nturns = 6\nbore = \"30 mm\"\npitch = \"9 mm\"\n"
    "conductor = { tube = \"6 mm\", wall = \"1 mm\" }\n"
    "[drive]\nkind = \"current\"\nfrequency = \"20 kHz\"\nrms = \"100 A\"\n";
const std::string swept_work =
    "[workpiece]\nmaterial = \"copper-pure\"\ndiameter = \"20 mm\"\nlength = \"50 mm\"\n";

Sweep sweep_of(const std::string& text, const std::vector<SweptField>& fields) {
  return *read_case_text(swept_text(text, "case.toml", fields), "case.toml").sweep;
}

// Property: the reader of sweeps finds the values asked for, whole numbers for turns, and the power
// in the work to rank by; a sweep that stands in the text gives way.
TEST(LiveSweep, IsReadAsAsked) {
  const Sweep sweep =
      sweep_of(swept_case + swept_work +
                   "[sweep]\nvary = [{ key = \"coil.bore\", values = [\"40 mm\"] }]\n"
                   "rank = \"efficiency\"\n",
               {{"coil.turns", "5", "8", 3}, {"coil.pitch", "8 mm", "10 mm", 3}});
  ASSERT_EQ(sweep.vary.size(), 2U);
  EXPECT_EQ(sweep.vary[0].key, "coil.turns");
  EXPECT_EQ(sweep.vary[0].values, (std::vector<std::string>{"5", "7", "8"}));
  EXPECT_EQ(sweep.vary[1].key, "coil.pitch");
  EXPECT_EQ(sweep.rank, "-states.fixed_frequency.power.workpiece_W");
}

// Property: what cannot be swept is refused with a reason, before anything is written or solved.
TEST(LiveSweep, RefusesWhatCannotBeSwept) {
  const std::string text = swept_case + swept_work;
  for (const std::vector<SweptField>& wrong :
       {std::vector<SweptField>{},
        {{"coil.turns", "5", "8", 1}},
        {{"coil.wire", "5", "8", 3}},
        {{"coil.pitch", "8 mm\" }]\nx = [{ y = \"", "9 mm", 3}},
        {{"coil.pitch", "soft", "9 mm", 3}},
        {{"workpiece.material", "../secret.toml", "../other.toml", 2}},
        {{"coil.turns", "5", "8", 3},
         {"coil.pitch", "8 mm", "9 mm", 3},
         {"coil.bore", "30 mm", "32 mm", 3}}})
    EXPECT_THROW(static_cast<void>(swept_text(text, "case.toml", wrong)), CaseError);
  EXPECT_THROW(
      static_cast<void>(swept_text(swept_case, "case.toml", {{"coil.turns", "5", "8", 3}})),
      CaseError);  // no work, no power to rank by
}

}  // namespace
}  // namespace cw::cases
