// Heat conduction and its losses against published closed forms.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <complex>
#include <numbers>

#include "solver/thermal/convection.hpp"
#include "solver/thermal/steady.hpp"
#include "solver/thermal/thermal_stepper.hpp"
#include "tests/published/check.hpp"
#include "tests/unit/thermal/rod_mesh.hpp"

namespace cw::published {
namespace {

using std::numbers::pi;

constexpr double kRodRadius = .01, kRodHeight = .002;

/// A slice of an endless rod with `cells` across, finer towards its wall.
Mesh slice(int cells) {
  return rod_mesh(steps(0, kRodRadius, cells, std::pow(.1, 1. / cells)), steps(0, kRodHeight, 1));
}

struct Rod {
  Mesh mesh;
  ThermalModel model;
};

/// The slice with a boundary on its wall.
Rod rod(const Material& material, int cells,
        const std::function<ThermalBoundary(const std::vector<int>& wall)>& boundary) {
  Mesh mesh = slice(cells);
  ThermalMesh bodies = make_thermal_mesh(mesh, {{1, material}}, {});
  const auto wall = surface_of(bodies, 1, Facing::outward);
  ThermalModel model(std::move(bodies), boundary(wall));
  return {std::move(mesh), std::move(model)};
}

ThermalBoundary insulated(const std::vector<int>& /*wall*/) {
  return {};
}

double centre(const ThermalModel& model, const Eigen::VectorXd& kelvin) {
  return kelvin_near(model, kelvin, {0, 0});
}
double surface(const ThermalModel& model, const Eigen::VectorXd& kelvin) {
  return kelvin_near(model, kelvin, {kRodRadius, 0});
}

/// Diffusivity and time of a Fourier number for the plain steel of most checks.
const Material kSteel = plain_material(30, 5e6 / 600, 600);
constexpr double kDiffusivity = 30 / 5e6;
constexpr double time_of(double fourier) {
  return fourier * kRodRadius * kRodRadius / kDiffusivity;
}

// Uniform source, wall at a fixed temperature: q a^2/4k in the end, and before that the series
// (centre, evaluated from the closed form). Source: H. S. Carslaw & J. C. Jaeger, Conduction of
// Heat in Solids, 2nd ed., Oxford 1959, 7.9 (from memory).
TEST(Heat, UniformSourceHeldWall) {
  const Rod r = rod(kSteel, 16, [](const auto& wall) {
    return ThermalBoundary{{}, {}, {{"wall", wall, {300}}}};
  });
  const auto load = r.model.load(density_of(r.mesh, [](Point) { return 1e8; }));
  const double rise = 1e8 * kRodRadius * kRodRadius / (4 * 30);
  const SteadyHeat steady = steady_heat(r.model, load, {300});
  expect_relative(centre(r.model, steady.kelvin) - 300, 83.333333, 1e-4);
  ThermalStepper stepper(r.model, start_at(r.model, {300}), {1e-3});
  for (const auto& [fourier, theta] : {std::pair{.05, .19961662},
                                       {.1, .38518950},
                                       {.2, .65179559},
                                       {.3, .80455099},
                                       {.5, .93851837},
                                       {1., .99658852}}) {
    stepper.advance(time_of(fourier), constant_source(load));
    expect_relative((centre(r.model, stepper.warmths().kelvin) - 300) / rise, theta, 2e-4);
  }
  EXPECT_LT(std::abs(stepper.ledger().error()), 1e-11);
}

// Constant flux into the wall: surface and centre (evaluated from the closed form); their
// difference settles at qa/2k. Source: H. S. Carslaw & J. C. Jaeger, Conduction of Heat in Solids,
// 2nd ed., Oxford 1959, 7.8 (from memory).
TEST(Heat, ConstantSurfaceFlux) {
  const double flux = 3e5, unit = flux * kRodRadius / 30;
  Mesh mesh = slice(16);
  ThermalMesh bodies = make_thermal_mesh(mesh, {{1, kSteel}}, {});
  const auto wall = surface_of(bodies, 1, Facing::outward);
  const ThermalModel model(std::move(bodies), {});
  const auto source = constant_source(model.surface_load(wall, flux));
  ThermalStepper stepper(model, start_at(model, {300}), {1e-3});
  for (const auto& [fourier, at_surface, at_centre] : {std::array{.05, .28104279, .00119834},
                                                       {.1, .41832601, .02692186},
                                                       {.2, .64277038, .16793768},
                                                       {.25, .74653108, .25861181},
                                                       {.5, 1.24991167, .75021931},
                                                       {1., 2.24999994, 1.75000014}}) {
    stepper.advance(time_of(fourier), source);
    const Eigen::VectorXd kelvin = stepper.warmths().kelvin;
    expect_within((surface(model, kelvin) - 300) / unit, at_surface, 1e-4);
    expect_within((centre(model, kelvin) - 300) / unit, at_centre, 1e-4);
  }
}

// The same at short times in a rod so thick that it is a half-space: 2 q sqrt(at/pi)/k, 921.31773 K
// for 1e7 W/m^2 after 1 s. Source: H. S. Carslaw & J. C. Jaeger, Conduction of Heat in Solids, 2nd
// ed., Oxford 1959, 2.9 (from memory). A radius of 10 m keeps curvature below 1e-3.
TEST(Heat, FluxIntoAHalfSpace) {
  const Mesh mesh = rod_mesh(steps(9.97, 10, 24, .8), steps(0, .002, 1));
  ThermalMesh bodies = make_thermal_mesh(mesh, {{1, kSteel}}, {});
  const auto wall = surface_of(bodies, 1, Facing::outward);
  const ThermalModel model(std::move(bodies), {});
  ThermalStepper stepper(model, start_at(model, {300}), {1e-3});
  stepper.advance(1, constant_source(model.surface_load(wall, 1e7)));
  const double rise = kelvin_near(model, stepper.warmths().kelvin, {10, 0}) - 300;
  expect_relative(rise, 921.31773, 5e-4);
}

/// |J|^2 of an endless rod in an axial field, to a factor: |I1(kr)|^2, k = (1+j)/depth, by its
/// series.
double eddy_shape(double radius_over_depth) {
  const std::complex<double> half = std::complex<double>(.5, .5) * radius_over_depth;
  std::complex<double> term = half, sum = half;
  for (int m = 1; m < 400; ++m) {
    term *= half * half / (static_cast<double>(m) * (m + 1));
    sum += term;
    if (std::abs(term) < 1e-17 * std::abs(sum)) break;
  }
  return std::norm(sum);
}

// Eddy-current source |I1(kr)|^2, settled difference between surface and centre S P0 a/2k, P0 the
// power per surface. Source: S evaluated from the closed form, steady conduction with that source
// (derivation, no published source), from 1/2 (thick skin) to 1 (thin).
TEST(Heat, EddyCurrentSource) {
  for (const auto& [ratio, expected] : {std::pair{1., .5025821},
                                        {2., .5366625},
                                        {3., .6254986},
                                        {4., .7161858},
                                        {5., .7776187},
                                        {7., .8459544},
                                        {10., .8946682},
                                        {20., .9487097},
                                        {50., .9797975}}) {
    const double inverse = ratio / kRodRadius, scale = 1e8 / eddy_shape(ratio);
    const Rod r = rod(kSteel, 24, insulated);
    const auto load = r.model.load(
        density_of(r.mesh, [=](Point p) { return scale * eddy_shape(p.r * inverse); }));
    ThermalStepper stepper(r.model, start_at(r.model, {300}), {1e-3});
    stepper.advance(time_of(2), constant_source(load));
    const Eigen::VectorXd kelvin = stepper.warmths().kelvin;
    const double flux = load.sum() / (2 * pi * kRodRadius * kRodHeight);
    SCOPED_TRACE(ratio);
    expect_relative(
        (surface(r.model, kelvin) - centre(r.model, kelvin)) * 2 * 30 / (flux * kRodRadius),
        expected, 5e-4);
  }
}

// Cooling by a film: theta at centre and surface (Bi = 0.1, 1, 10), evaluated from the closed form.
// Source: the series of F. P. Incropera & D. P. DeWitt, Fundamentals of Heat and Mass Transfer, 5.6
// (from memory).
TEST(Heat, FilmCooling) {
  for (const auto& [biot, fourier, at_centre, at_surface] :
       {std::array{.1, .5, .92934029, .88459186},
        {1., .5, .54858620, .35278584},
        {1., 1., .24937971, .16033841},
        {10., .2, .60023234, .07484386}}) {
    const Film film{biot * 30 / kRodRadius, {300}};
    const Rod r = rod(kSteel, 16, [film](const auto& wall) {
      return ThermalBoundary{{{"film", wall, film}}, {}, {}};
    });
    ThermalStepper stepper(r.model, start_at(r.model, {1300}), {1e-3});
    stepper.advance(time_of(fourier),
                    constant_source(Eigen::VectorXd::Zero(r.model.mesh().unknowns())));
    const Eigen::VectorXd kelvin = stepper.warmths().kelvin;
    SCOPED_TRACE(biot);
    expect_relative((centre(r.model, kelvin) - 300) / 1000, at_centre, 1e-4);
    expect_relative((surface(r.model, kelvin) - 300) / 1000, at_surface, 1e-4);
  }
}

// A lump cooling by radiation: logarithm and arc tangent, evaluated from the closed form; rod of 20
// mm, emissivity 0.8. Source: F. P. Incropera & D. P. DeWitt, Fundamentals of Heat and Mass
// Transfer, 5.3 (from memory).
TEST(Heat, LumpedRadiation) {
  const Rod r = rod(plain_material(1e6, 7850, 650), 3, [](const auto& wall) {
    return ThermalBoundary{{{"radiation", wall, Grey{.8, {293.15}}}}, {}, {}};
  });
  ThermalStepper stepper(r.model, start_at(r.model, {1473.15}), {1e-3});
  const std::array<std::pair<double, double>, 4> found{
      {{1273.15, 32.273804}, {1073.15, 93.371613}, {873.15, 224.487227}, {673.15, 565.620596}}};
  for (const auto& [level, time] : found)
    stepper.watch({"cooled", {ProbeKind::mean, 1}, {level}, false});
  const auto none = constant_source(Eigen::VectorXd::Zero(r.model.mesh().unknowns()));
  for (const auto& [level, time] : found) {
    const Advance reached = stepper.advance(1000, none);
    ASSERT_EQ(reached.events.size(), 1U);
    expect_relative(reached.time, time, 2e-5);
  }
  EXPECT_LT(std::abs(stepper.ledger().error()), 1e-12);
}

// The same with a film of 12 W/(m^2 K) beside the radiation, and the temperatures at which given
// surface powers balance. Second method: an independent integration of the lumped equation; no
// published source.
TEST(Heat, LumpedRadiationAndFilm) {
  const auto model_of = [](double film) {
    return rod(plain_material(1e6, 7850, 650), 3, [film](const auto& wall) {
      return ThermalBoundary{
          {{"radiation", wall, Grey{.8, {293.15}}}, {"film", wall, Film{film, {293.15}}}}, {}, {}};
    });
  };
  const Rod both = model_of(12);
  ThermalStepper stepper(both.model, start_at(both.model, {1473.15}), {1e-3});
  const auto none = constant_source(Eigen::VectorXd::Zero(both.model.mesh().unknowns()));
  for (const auto& [time, kelvin] :
       {std::pair{10., 1393.102699}, {60., 1146.511940}, {120., 989.097438}, {300., 763.214756}}) {
    stepper.advance(time, none);
    expect_relative(surface(both.model, stepper.warmths().kelvin), kelvin, 2e-5);
  }
  const auto wall = surface_of(both.model.mesh(), 1, Facing::outward);
  for (const auto& [flux, kelvin] :
       {std::pair{1e4, 614.69448}, {5e4, 981.37288}, {1e5, 1185.58533}, {2e5, 1424.44354}}) {
    const auto load = both.model.surface_load(wall, flux);
    const double stall = surface(both.model, steady_heat(both.model, load, {293.15}).kelvin);
    expect_relative(stall, kelvin, 1e-6);
  }
}

// Stefan-Boltzmann: 118850 and 213308 W/m^2 at 1000 and 1200 degC for emissivity 0.8 to 20 degC.
// Source: Stefan and Boltzmann's law with 5.670374419e-8 W/(m^2 K^4), CODATA 2018, evaluated.
TEST(Heat, GreyFlux) {
  expect_relative(.8 * flux_of(Grey{.8, Temperature::celsius(20)}, 1273.15).value, 118850, 1e-5);
  expect_relative(.8 * flux_of(Grey{.8, Temperature::celsius(20)}, 1473.15).value, 213308, 1e-5);
}

// Natural convection of a horizontal cylinder and a vertical plate, evaluated from the closed form.
// Source: S. W. Churchill & H. H. S. Chu, Correlating equations for laminar and turbulent free
// convection from a horizontal cylinder, Int. J. Heat Mass Transfer 18 (1975) 1049, and from a
// vertical plate, ibid. 1323; 23.3 in an example of F. P. Incropera & D. P. DeWitt, Fundamentals of
// Heat and Mass Transfer, chapter 9 (from memory).
TEST(Heat, ChurchillChu) {
  expect_relative(nusselt_horizontal_cylinder(586432, .7228), 12.555774, 1e-6);
  expect_relative(nusselt_horizontal_cylinder(5.07075e6, .697), 23.08806, 2e-6);
  expect_relative(nusselt_horizontal_cylinder(5.07075e6, .697), 23.3, .01);
  for (const auto& [rayleigh, nusselt] :
       {std::pair{1e2, 1.667731}, {1e4, 4.366387}, {1e6, 14.510191}})
    expect_relative(nusselt_horizontal_cylinder(rayleigh, .7), nusselt, 1e-6);
  expect_relative(nusselt_vertical_plate(586432 * std::pow(100. / 60, 3), .7228), 21.733302, 1e-6);
}

// A slender cylinder in air against a fit for air alone, 1 + 0.3 x^0.909, x = sqrt(32) Gr^(-1/4)
// H/D. Source: C. O. Popiel, Free convection heat transfer from vertical slender cylinders: a
// review, Heat Transfer Eng. 29 (2008) 521 (form from memory; the fit for any fluid, C. O. Popiel,
// J. Wojtkowiak & K. Bober, Exp. Therm. Fluid Sci. 32 (2007) 607, read in a copy, is 1 + 0.292
// x^0.909 at a Prandtl number of 0.71 and is stated for x below 5).
TEST(Heat, SlenderVerticalCylinder) {
  for (const double x : {.5, 1., 3., 8.})
    expect_relative(slender_cylinder(1e6, .71, x * std::pow(1e6, .25) / std::sqrt(32.)),
                    1 + .3 * std::pow(x, .909), .02);
}

// The coefficient with the film properties of the air table against the same problem with its own
// (60 mm, 70 in 30 degC: 5.7233 W/(m^2 K) from k = .02735, nu = 1.798e-5, Pr = .7228). Source:
// Churchill & Chu 1975 as above, with the air of a heat-transfer textbook's table A-15, air at 1
// atm, 50 degC (read in a secondary copy that does not name its edition).
TEST(Heat, FilmPropertiesOfAir) {
  const NaturalConvection air{Posture::horizontal_cylinder, .06, 0, Temperature::celsius(30)};
  expect_relative(film_coefficient(air, Temperature::celsius(70)), 5.723340, 1e-3);
}

/// Heat capacity of carbon steel, EN 1993-1-2:2005 3.4.1.2 (secondary copy).
Material peaked_steel() {
  Material m = plain_material(30, 7850, 0);
  const auto kelvin = [](double celsius) { return celsius + zero_celsius; };
  using Form = Piece::Form;
  m.heat_capacity.shape = std::vector<Piece>{
      {kelvin(20), kelvin(600), Form::polynomial, {425, .773, -1.69e-3, 2.22e-6}},
      {kelvin(600), kelvin(735), Form::pole, {666, 13002, 738}},
      {kelvin(735), kelvin(900), Form::pole, {545, -17820, 731}},
      {kelvin(900), kelvin(1200), Form::polynomial, {650}}};
  m.heat_capacity.lowest = kelvin(20);
  m.heat_capacity.highest = kelvin(1200);
  return m;
}

// A lossless rod of carbon steel, 20 x 50 mm, heated with 1 kW reaches 735 and 1200 degC at 58.6238
// and 101.9832 s: mass times the enthalpy over power. Source: EN 1993-1-2:2005, Eurocode 3,
// Structural fire design, 3.4.1.2 (read in a secondary copy), integrated. Steps of every size, some
// of which jump over the peak.
TEST(Heat, PeakOfHeatCapacityIsPaidFor) {
  for (const double tolerance : {1e-3, 1., 100.}) {
    const Mesh mesh = rod_mesh(steps(0, .01, 4), steps(0, .05, 6));
    const ThermalModel model(make_thermal_mesh(mesh, {{1, peaked_steel()}}, {}), {});
    auto load = model.load(density_of(mesh, [](Point p) { return std::exp(p.r / .003); }));
    load *= 1000 / load.sum();
    ThermalStepper stepper(model, start_at(model, Temperature::celsius(20)), {tolerance});
    const double volume = volume_of_cylinder(.01, .05);
    for (const auto& [time, kilojoule] : {std::pair{58.6238, 475.428}, {101.9832, 827.064}}) {
      stepper.advance(time, constant_source(load));
      expect_relative(model.stored(stepper.state().enthalpy) / (7850 * volume), kilojoule * 1000,
                      1e-5);
      EXPECT_LT(std::abs(stepper.ledger().error()), 1e-11);
    }
  }
}

// The same rod heated evenly reaches these temperatures at those times. Source: EN 1993-1-2:2005,
// Eurocode 3, Structural fire design, 3.4.1.2, as above.
TEST(Heat, AdiabaticTimes) {
  const Mesh mesh = rod_mesh(steps(0, .01, 3), steps(0, .05, 3));
  const ThermalModel model(make_thermal_mesh(mesh, {{1, peaked_steel()}}, {}), {});
  const auto load =
      model.load(density_of(mesh, [](Point) { return 1000 / volume_of_cylinder(.01, .05); }));
  ThermalStepper stepper(model, start_at(model, Temperature::celsius(20)));
  stepper.watch({"curie", {ProbeKind::hottest, 1}, Temperature::celsius(735)});
  stepper.watch({"target", {ProbeKind::coldest, 1}, Temperature::celsius(1200)});
  expect_relative(stepper.advance(200, constant_source(load)).time, 58.6238, 1e-5);
  expect_relative(stepper.advance(200, constant_source(load)).time, 101.9832, 1e-5);
}

// One-phase Stefan problem: a melt at its melting point, one wall suddenly hotter by Ste L/c. Front
// at 2 lambda sqrt(at) and heat taken up 2 k dT sqrt(t/(pi a))/erf lambda, with sqrt(pi) l exp(l^2)
// erf l = Ste, lambda evaluated from the closed form. Source: H. S. Carslaw & J. C. Jaeger,
// Conduction of Heat in Solids, 2nd ed., Oxford 1959, 11.2 (from memory). Isothermal; radius 10 m
// stands for a plane.
TEST(Heat, StefanProblem) {
  for (const auto& [stefan, lambda] :
       {std::pair{.1, .22001627}, {.5, .46478592}, {1., .62006263}, {2., .80060136}}) {
    const double latent = 2e5, capacity = 500, density = 8000, conductivity = 40, time = 20;
    Material metal = plain_material(conductivity, density, capacity);
    metal.melting = Melting{{1000}, {1000}, latent, {}};
    const double diffusivity = conductivity / (density * capacity);
    const double front = 2 * lambda * std::sqrt(diffusivity * time),
                 excess = stefan * latent / capacity;
    const Mesh mesh = rod_mesh(steps(10 - 2 * front, 10, 60), steps(0, .01, 1));
    ThermalMesh bodies = make_thermal_mesh(mesh, {{1, metal}}, {});
    const auto wall = surface_of(bodies, 1, Facing::outward);
    const ThermalModel model(std::move(bodies), {{}, {}, {{"wall", wall, {1000 + excess}}}});
    ThermalStepper stepper(model, start_at(model, {1000}));
    stepper.advance(time, constant_source(Eigen::VectorXd::Zero(model.mesh().unknowns())));
    const double area = 2 * pi * 10 * .01;
    const double heat =
        2 * conductivity * excess * std::sqrt(time / (pi * diffusivity)) / std::erf(lambda);
    // The heat of the wall's own nodes when they were set hot is no flow, and belongs to the start.
    const double set_hot =
        stepper.state().at_start - model.mesh().volume.sum() * EnthalpyLaw(metal).of(1000);
    const double taken = (set_hot - stepper.ledger().by_route.front()) / area;
    const EnthalpyLaw law(metal);
    double molten = 0;
    for (int i = 0; i < model.mesh().unknowns(); ++i)
      molten +=
          model.mesh().volume[i] *
          std::clamp((stepper.state().enthalpy[i] - law.of(1000)) / (density * latent), 0., 1.);
    SCOPED_TRACE(stefan);
    expect_relative(taken, heat, 1e-3);
    expect_relative(molten / area, front, 1e-3);
    EXPECT_LT(std::abs(stepper.ledger().error()), 1e-10);
  }
}

}  // namespace
}  // namespace cw::published
