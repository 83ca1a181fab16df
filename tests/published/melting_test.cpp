// A charge that melts in its cup, compared with an independent computation along the radius.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "solver/thermal/thermal_stepper.hpp"
#include "tests/published/check.hpp"
#include "tests/published/reference/melting_rod.hpp"
#include "tests/unit/thermal/rod_mesh.hpp"

namespace cw::published {
namespace {

constexpr double kHeight = 2e-3;
constexpr RegionId kCharge = 1, kCup = 2;

/// Properties similar to bronze and graphite, round figures.
reference::MeltingRod rod_in_cup() {
  reference::MeltingRod rod;
  rod.charge_radius = 10e-3;
  rod.cup_radius = 15e-3;
  rod.contact = 2000;
  rod.power = 1.6e8;
  rod.charge = {50, 8800.0 * 380};
  rod.cup = {90, 1750.0 * 1500};
  rod.solidus = 1103.15;
  rod.liquidus = 1273.15;
  rod.latent = 8800.0 * 190e3;
  return rod;
}

Material charge_of(const reference::MeltingRod& rod) {
  Material metal = plain_material(50, 8800, 380);
  metal.melting = Melting{{rod.solidus}, {rod.liquidus}, 190e3, {}};
  return metal;
}

using Along = std::vector<std::pair<double, double>>;  ///< radius [m], temperature [K]

/// Temperatures of the charge along its lower side, outwards.
Along along_radius(const ThermalModel& model, const Eigen::VectorXd& kelvin) {
  Along along;
  for (const auto& e : model.mesh().elements)
    if (e.body == 0)
      for (const int i : e.unknown)
        if (model.mesh().at[i].z == 0.0) along.emplace_back(model.mesh().at[i].r, kelvin[i]);
  std::sort(along.begin(), along.end());
  return along;
}

/// Radius inside which the charge is below its solidus, linear between unknowns [m].
double front(const Along& along, double solidus) {
  for (std::size_t i = 1; i < along.size(); ++i)
    if (along[i].second >= solidus && along[i - 1].second < solidus)
      return std::lerp(along[i - 1].first, along[i].first,
                       (solidus - along[i - 1].second) / (along[i].second - along[i - 1].second));
  return along.front().second >= solidus ? 0.0 : along.back().first;
}

// A charge is heated through its cup. Its melting front moves inwards as in an independent explicit
// finite-volume computation along the radius: within 1 % of the radius, temperatures of its surface
// and centre within 1 % of the rise, until the last of it is above its solidus. Second method:
// finite volumes along the radius (melting_rod.hpp); no published source. The reference changes by
// less than a quarter of that when its cells are halved.
TEST(Melting, FrontFollowsAnIndependentRun) {
  const reference::MeltingRod rod = rod_in_cup();
  const double between = 0.5, until = 36.0;
  const auto coarse = reference::melt_rod(rod, 40, between, until);
  const auto wanted = reference::melt_rod(rod, 80, between, until);
  const Mesh mesh = grid_mesh(steps(0, rod.cup_radius, 30), steps(0, kHeight, 1),
                              [&](Point p) { return p.r < rod.charge_radius ? kCharge : kCup; });
  ThermalMesh bodies =
      make_thermal_mesh(mesh, {{kCharge, charge_of(rod)}, {kCup, plain_material(90, 1750, 1500)}},
                        {{kCharge, kCup, rod.contact}});
  const ThermalModel model(std::move(bodies), {});
  const Eigen::VectorXd load = model.load(
      density_of(mesh, [&](Point p) { return p.r > rod.charge_radius ? rod.power : 0.0; }));
  ThermalStepper stepper(model, start_at(model, {rod.start}));
  int melting = 0;
  for (std::size_t k = 0; k < wanted.size(); ++k) {
    SCOPED_TRACE(wanted[k].time);
    stepper.advance(wanted[k].time, constant_source(load));
    const Along along = along_radius(model, stepper.warmths().kelvin);
    const double rise = wanted[k].surface - rod.start;
    EXPECT_NEAR(coarse[k].front, wanted[k].front, 0.0025 * rod.charge_radius);
    EXPECT_NEAR(front(along, rod.solidus), wanted[k].front, 0.01 * rod.charge_radius);
    EXPECT_NEAR(along.front().second, wanted[k].centre, 0.01 * rise);
    EXPECT_NEAR(along.back().second, wanted[k].surface, 0.01 * rise);
    if (wanted[k].front > 0 && wanted[k].front < rod.charge_radius) ++melting;
  }
  EXPECT_GE(melting, 3);
  EXPECT_EQ(wanted.back().front, 0.0);
}

}  // namespace
}  // namespace cw::published
