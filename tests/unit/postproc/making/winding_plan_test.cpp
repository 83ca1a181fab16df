#include "postproc/making/winding_plan.hpp"

#include <gtest/gtest.h>

namespace {

/// Eight turns of 6 x 1 mm tube, 32 mm bore, 7.5 mm pitch, leads of 120 mm.
cw::Coil eight_turns() {
  cw::Coil coil;
  coil.shape = cw::CoilShape::helix;
  coil.turns = 8.0;
  coil.bore = 32e-3;
  coil.pitch = 7.5e-3;
  coil.conductor.section = cw::RoundTube{6e-3, 1e-3};
  coil.conductor.material.name = "copper-tube";
  coil.leads = cw::Leads{0.12, 0.02, {}};
  return coil;
}

// Property: a coil wound on the former and released has the required bore.
TEST(WindingPlan, FormerAndSpringBackGiveTheBore) {
  const cw::WindingPlan plan = cw::winding_plan(eight_turns());
  ASSERT_TRUE(plan.former_diameter && plan.spring_back);
  EXPECT_LT(*plan.former_diameter, 32e-3);
  const double middle_wound = *plan.former_diameter + 6e-3;
  EXPECT_NEAR(middle_wound * (1.0 + *plan.spring_back) - 6e-3, 32e-3, 1e-12);
}

// Property: for an impossible tube, which a damaged result file may contain, there is no
// spring-back.
TEST(WindingPlan, NoSpringBackOfAnImpossibleTube) {
  cw::Coil coil = eight_turns();
  for (const double wall : {0.0, -1e-3, 3.1e-3}) {
    coil.conductor.section = cw::RoundTube{6e-3, wall};
    EXPECT_FALSE(cw::winding_plan(coil).spring_back) << wall;
  }
  coil.conductor.section = cw::RoundTube{6e-3, 1e-3};
  coil.bore = -7e-3;
  EXPECT_FALSE(cw::winding_plan(coil).spring_back);
}

// Property: lengths and spacer follow from the sizes: winding 0.957 m and leads 0.24 m, a tenth and
// twice 150 mm more, rounded up to a tenth of a metre.
TEST(WindingPlan, AddsUpTheTube) {
  const cw::WindingPlan plan = cw::winding_plan(eight_turns());
  EXPECT_NEAR(plan.allowance, 0.1 * (0.9569 + 0.24) + 0.3, 2e-4);
  EXPECT_NEAR(plan.length_to_buy, 1.7, 1e-12);
  EXPECT_NEAR(*plan.spacer, 1.5e-3, 1e-12);
  EXPECT_NEAR(plan.bend_ratio, 19.0 / 6.0, 1e-12);
  EXPECT_EQ(plan.lead_angle, 0.0);
}

// Property: a part turn turns the second lead by its share of the circle; a flat coil has no former
// and its spacer is counted across; stranded wire has no spring-back.
TEST(WindingPlan, FollowsTheShape) {
  cw::Coil coil = eight_turns();
  coil.turns = 7.25;
  EXPECT_NEAR(cw::winding_plan(coil).lead_angle, 90.0, 1e-9);
  coil.shape = cw::CoilShape::flat;
  coil.conductor.section = cw::RoundTube{5e-3, 1e-3};
  EXPECT_FALSE(cw::winding_plan(coil).former_diameter);
  EXPECT_NEAR(*cw::winding_plan(coil).spacer, 2.5e-3, 1e-12);
  coil.conductor.section = cw::StrandBundle{400, 0.2e-3, 5e-3};
  EXPECT_FALSE(cw::winding_plan(coil).spring_back);
}

}  // namespace
