// Is the error estimate reliable? Over random coils it is compared with the distance to a much
// finer mesh, and with closed forms where they exist. The estimate must enclose the error, must not
// be far too large, and must rank meshes by their error.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <limits>
#include <map>
#include <numeric>
#include <string>
#include <variant>
#include <vector>

#include "mesh/generate.hpp"
#include "solver/field/error_estimate.hpp"
#include "tests/accuracy/draw.hpp"
#include "tests/published/reference/skin.hpp"

namespace cw {
namespace {

using accuracy::Draw;

constexpr double kPi = reference::kPi;

struct Metal {
  const char* name;
  double conductivity;  ///< [S/m]
  double relative_permeability;
};
/// Round values similar to those of the metals; only their spread matters.
constexpr std::array<Metal, 7> kMetals{{{"hard steel", 4e6, 300},
                                        {"cast steel", 2e6, 50},
                                        {"copper", 58e6, 1},
                                        {"aluminium", 30e6, 1},
                                        {"brass", 15e6, 1},
                                        {"hot steel", 0.9e6, 1},
                                        {"graphite", 0.1e6, 1}}};

/// A random coil round random work.
struct RandomCoil {
  explicit RandomCoil(unsigned seed);

  Section section;
  Media media{1};
  TurnSet turns;
  Frequency frequency;
  double fineness;  ///< Sizing{}.scaled by this
  std::string about;

 private:
  struct Dimensions {
    double radius, length, shift;                      ///< of the work [m]
    double gap, half_width, half_height, wall, pitch;  ///< of the coil [m]
    int turns;
  };

  void add(const std::string& name, const std::variant<Disc, Polygon>& shape, double conductivity,
           double mu);
  void add_work(Draw& draw, const Dimensions& d);
  void add_cup(Draw& draw, const Dimensions& d, const Metal& metal, bool charged);
  void add_turns(Draw& draw, const Dimensions& d, int conductor);
};

RandomCoil::RandomCoil(unsigned seed) {
  Draw draw(seed);
  frequency = {draw.over_decades(1e3, 500e3)};
  fineness = draw.between(0.7, 1.6);
  Dimensions d{};
  d.radius = draw.over_decades(4e-3, 30e-3);
  d.gap = draw.over_decades(1e-3, 15e-3);
  d.turns = 1 + draw.below(10);
  const int conductor = draw.below(3);
  d.half_width = draw.between(1.5e-3, 4e-3);
  d.half_height = conductor == 2 ? draw.between(1.5e-3, 5e-3) : d.half_width;
  d.wall = std::min(d.half_width, d.half_height) * draw.between(0.2, 0.5);
  d.pitch = 2 * d.half_height + draw.between(0.6e-3, 4e-3);
  d.length = std::max(d.turns * d.pitch, d.radius) * draw.between(0.8, 2.2);
  d.shift = draw.between(-0.2, 0.2) * d.turns * d.pitch;
  add_work(draw, d);
  add_turns(draw, d, conductor);
  about += fmt::format(", radius {:.1f} mm, gap {:.1f} mm, {} turns, {:.1f} kHz, scaled({:.2f})",
                       1e3 * d.radius, 1e3 * d.gap, d.turns, 1e-3 * frequency.hertz, fineness);
}

void RandomCoil::add(const std::string& name, const std::variant<Disc, Polygon>& shape,
                     double conductivity, double mu) {
  const double depth = conductivity > 0
                           ? std::sqrt(2 / (frequency.omega() * mu0 * mu * conductivity))
                           : std::numeric_limits<double>::infinity();
  section.regions.push_back({name, shape, depth});
  media.push_back({conductivity, 1 / (mu0 * mu)});
}

void RandomCoil::add_work(Draw& draw, const Dimensions& d) {
  const int kind = draw.below(6);
  const Metal& metal = kMetals[static_cast<std::size_t>(draw.below(7))];
  about = fmt::format("{} of {}",
                      std::array{"rod", "tube", "slug", "stepped rod", "cup", "charged cup"}[kind],
                      metal.name);
  const double low = d.shift - d.length / 2, high = d.shift + d.length / 2;
  const auto body = [&](const Polygon& p) {
    add("workpiece", p, metal.conductivity, metal.relative_permeability);
  };
  if (kind == 0) body(rectangle({0, low}, {d.radius, high}));
  if (kind == 1) body(rectangle({d.radius * draw.between(0.4, 0.9), low}, {d.radius, high}));
  if (kind == 2) {
    const double half = 0.5 * d.radius * draw.between(0.3, 1.5);
    body(rectangle({0, d.shift - half}, {d.radius, d.shift + half}));
  }
  if (kind == 3) {
    const double neck = d.radius * draw.between(0.4, 0.85),
                 step = d.shift + d.length * draw.between(-0.2, 0.2);
    body(
        {{{0, low}, {d.radius, low}, {d.radius, step}, {neck, step}, {neck, high}, {0, high}}, {}});
  }
  if (kind >= 4) add_cup(draw, d, metal, kind == 5);
}

void RandomCoil::add_cup(Draw& draw, const Dimensions& d, const Metal& metal, bool charged) {
  const double wall = d.radius * draw.between(0.08, 0.3), inside = d.radius - wall;
  const double low = d.shift - d.length / 2, high = d.shift + d.length / 2, floor = low + wall;
  const Metal& of_cup = charged && draw.below(2) == 0 ? kMetals[6] : metal;
  add(charged ? "cup" : "workpiece",
      Polygon{{{0, low},
               {d.radius, low},
               {d.radius, high},
               {inside, high},
               {inside, floor},
               {0, floor}},
              {}},
      of_cup.conductivity, of_cup.relative_permeability);
  if (!charged) return;
  const Metal& charge = kMetals[2 + static_cast<std::size_t>(draw.below(4))];
  const double slack = draw.between(0.3e-3, 1e-3), bottom = floor + slack;
  add("workpiece",
      rectangle({0, bottom}, {inside - slack, bottom + (d.length - wall) * draw.between(0.3, 0.8)}),
      charge.conductivity, charge.relative_permeability);
}

void RandomCoil::add_turns(Draw& draw, const Dimensions& d, int conductor) {
  const bool uniform = draw.below(7) == 0;
  const bool part_turns = draw.below(3) == 0;
  turns.kind = uniform ? TurnKind::uniform : TurnKind::massive;
  about += fmt::format(" in {}{}", uniform ? "strands as " : "",
                       std::array{"tube", "solid round", "hollow bar"}[conductor]);
  const double centre = d.radius + d.gap + d.half_width, a = d.half_width, b = d.half_height;
  for (int k = 0; k < d.turns; ++k) {
    const double z = (k - 0.5 * (d.turns - 1)) * d.pitch;
    std::variant<Disc, Polygon> shape =
        Disc{{centre, z}, a, conductor == 0 && !uniform ? a - d.wall : 0.0};
    if (conductor == 2) {
      Polygon bar = rectangle({centre - a, z - b}, {centre + a, z + b});
      const double in = a - d.wall, up = b - d.wall;
      if (!uniform)
        bar.holes.push_back({{centre - in, z - up},
                             {centre - in, z + up},
                             {centre + in, z + up},
                             {centre + in, z - up}});
      shape = bar;
    }
    turns.region.push_back(static_cast<RegionId>(section.regions.size()) + 1);
    turns.weight.push_back(part_turns ? (d.turns - 0.5) / d.turns : 1.0);
    turns.resistance.push_back(1e-3);
    add(fmt::format("turn.{}", k + 1), shape, uniform ? 0.0 : 45e6, 1);
  }
}

struct Solved {
  Mesh mesh;
  EddySystem system;
  TurnResponse response;
  SeriesCoil coil;
  std::vector<double> loss;

  Solved(const RandomCoil& c, double scale)
      : mesh(generate_mesh(c.section, Sizing{}.scaled(scale))),
        system(mesh, c.media),
        response(solve_turns(system, c.turns, c.frequency)),
        coil(connect_in_series(system, c.turns, response)),
        loss(region_losses(mesh, coil.field)) {}

  [[nodiscard]] double coil_loss(const TurnSet& turns) const {
    return std::accumulate(turns.region.begin(), turns.region.end(), 0.0,
                           [&](double sum, RegionId region) { return sum + loss[region]; });
  }
};

/// Estimated and true relative error of one quantity in one case.
struct Pair {
  double estimate, error;
};
using Study = std::map<std::string, std::vector<Pair>>;

/// Adds a case to the study: `inductance`, `coil loss`, `body power`. Prints errors that are not
/// enclosed, and errors above 0.5 %.
void compare(unsigned seed, double reference_scale, Study& study) {
  const RandomCoil c(seed);
  SCOPED_TRACE(fmt::format("seed {}: {}", seed, c.about));
  const Solved here(c, c.fineness), fine(c, reference_scale);
  const ErrorEstimate estimate = estimate_error(here.system, c.turns, here.response, here.coil);
  const auto note = [&](const std::string& quantity, double estimated, double value,
                        double reference) {
    if (value == 0.0) return;
    const Pair p{estimated, std::abs(value - reference) / std::abs(value)};
    study[quantity].push_back(p);
    if (p.error > p.estimate || p.error > 5e-3)
      fmt::print("seed {} {}: {} off by {:.1e}, estimated {:.1e}\n", seed, c.about, quantity,
                 p.error, p.estimate);
  };
  note("inductance", estimate.inductance, here.coil.impedance.imag(), fine.coil.impedance.imag());
  note("coil loss", estimate.coil_loss, here.coil_loss(c.turns), fine.coil_loss(c.turns));
  for (int body = 1; body < c.turns.region.front(); ++body)
    note("body power", estimate.power[body], here.loss[body], fine.loss[body]);
}

std::vector<double> ranks(const std::vector<double>& values) {
  std::vector<std::size_t> order(values.size());
  std::iota(order.begin(), order.end(), 0);
  std::sort(order.begin(), order.end(),
            [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
  std::vector<double> rank(values.size());
  for (std::size_t i = 0; i < order.size(); ++i) rank[order[i]] = static_cast<double>(i);
  return rank;
}

/// Spearman's coefficient: correlation of the ranks (C. Spearman, Am. J. Psychol. 15 (1904) 72).
double rank_correlation(const std::vector<Pair>& pairs) {
  std::vector<double> a, b;
  for (const Pair& p : pairs) {
    a.push_back(p.estimate);
    b.push_back(p.error);
  }
  const auto x = ranks(a), y = ranks(b);
  const double mean = 0.5 * (static_cast<double>(x.size()) - 1);
  double xy = 0, xx = 0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    xy += (x[i] - mean) * (y[i] - mean);
    xx += (x[i] - mean) * (x[i] - mean);
  }
  return xy / xx;
}

/// Enclosed in 95 of 100, at most 5 times too large in the median, ranks agree.
void expect_honest(const Study& study) {
  ASSERT_EQ(study.size(), 3U);
  for (const auto& [quantity, pairs] : study) {
    std::vector<double> ratio;
    for (const Pair& p : pairs) ratio.push_back(p.estimate / p.error);
    std::sort(ratio.begin(), ratio.end());
    const auto n = static_cast<double>(ratio.size());
    const double enclosed =
        static_cast<double>(ratio.end() - std::lower_bound(ratio.begin(), ratio.end(), 1.0)) / n;
    const double median = ratio[ratio.size() / 2], rank = rank_correlation(pairs);
    fmt::print(
        "{}: {} values, {:.1f} % enclosed, median of estimate/error {:.2f}, 95th percentile "
        "{:.1f}, rank correlation {:.2f}\n",
        quantity, ratio.size(), 100 * enclosed, median, ratio[static_cast<std::size_t>(0.95 * n)],
        rank);
    EXPECT_GE(enclosed, 0.95) << quantity;
    EXPECT_LE(median, 5.0) << quantity;
    EXPECT_GE(rank, 0.6) << quantity;
  }
}

// Property: the estimate is reliable over a fixed set of random coils.
TEST(ErrorEstimateCases, EncloseTheDistanceToAMuchFinerMesh) {
  Study study;
  for (unsigned seed = 1; seed <= 24; ++seed) compare(seed, 0.35, study);
  expect_honest(study);
}

// Property: the same for all coils behind the statement in error_estimate.hpp; some minutes. To
// repeat it, run this test program with --gtest_also_run_disabled_tests
// --gtest_filter=*HundredsOfRandomCoils.
TEST(ErrorEstimateCases, DISABLED_HundredsOfRandomCoils) {
  Study study;
  for (unsigned seed = 1000; seed < 1240; ++seed) compare(seed, 0.3, study);
  expect_honest(study);
}

/// A slice of an endless rod in an endless coil of uniform current: 1 A rms in the slice's height.
struct EndlessRod {
  double ratio;  ///< radius / skin depth
  reference::Metal metal;
  static constexpr double radius = 0.01, inner = 0.013, outer = 0.016, height = 0.004;  // [m]

  [[nodiscard]] double hertz() const {
    return metal.rho * ratio * ratio / (kPi * mu0 * metal.mu_r * radius * radius);
  }
  [[nodiscard]] double power() const {
    return height * reference::cylinder_power(radius, metal, hertz(), std::sqrt(2.0) / height);
  }
  /// From the flux in rod, gap and winding. In the rod it is 2 pi a A(a), A(a) = mu H I1(ka)/(k
  /// I0(ka)) with k = (1 + j)/depth (classical; Davies & Simpson 1979); in the winding H falls
  /// linearly to zero.
  [[nodiscard]] double inductance() const {
    const double depth = radius / ratio, build = outer - inner;
    const double in_rod =
        kPi * radius * mu0 * metal.mu_r * depth * reference::cylinder_loss_functions(ratio).imag();
    const double in_gap = kPi * mu0 * (inner * inner - radius * radius);
    const double in_winding = 2 * kPi * mu0 * build * (outer / 3 - build / 4);
    return (in_rod + in_gap + in_winding) / height;
  }
};

/// Estimate and error of power and inductance of the rod on one mesh.
std::array<Pair, 2> compare_rod(const EndlessRod& rod, double fineness) {
  const double half = rod.height / 2;
  const Section section{
      {{"workpiece", rectangle({0, -half}, {rod.radius, half}), rod.radius / rod.ratio},
       {"turn.1", rectangle({rod.inner, -half}, {rod.outer, half})}},
      Box{0.018, -half, half}};
  const Mesh mesh = generate_mesh(section, Sizing{}.scaled(fineness));
  EddySystem system(mesh, {{}, {1 / rod.metal.rho, 1 / (mu0 * rod.metal.mu_r)}, {}},
                    {false, false, false});
  const TurnSet turns{TurnKind::uniform, {2}, {1.0}, {0.0}};
  const TurnResponse response = solve_turns(system, turns, {rod.hertz()});
  const SeriesCoil coil = connect_in_series(system, turns, response);
  const ErrorEstimate estimate = estimate_error(system, turns, response, coil);
  const double power = region_losses(mesh, coil.field)[1];
  const double inductance = coil.impedance.imag() / response.frequency.omega();
  return {Pair{estimate.power[1], std::abs(rod.power() / power - 1)},
          Pair{estimate.inductance, std::abs(rod.inductance() / inductance - 1)}};
}

// Property: the error against the closed form of a long rod in a long coil (Davies & Simpson 1979)
// is enclosed, from weak to strong skin effect, and the estimate is not over five times too large
// in the median.
TEST(ErrorEstimateCases, EncloseTheErrorOfALongRodInALongCoil) {
  std::vector<double> ratio;
  for (const reference::Metal& metal : {reference::Metal{2.8e-8}, reference::Metal{2.5e-7, 100}})
    for (const double radius_over_depth : {1.0, 3.0, 10.0, 40.0})
      for (const double fineness : {0.7, 1.0, 1.3})
        for (const Pair& p : compare_rod({radius_over_depth, metal}, fineness)) {
          EXPECT_LE(p.error, p.estimate)
              << fmt::format("radius/depth {}, permeability {}, scaled({})", radius_over_depth,
                             metal.mu_r, fineness);
          ratio.push_back(p.estimate / p.error);
        }
  std::nth_element(ratio.begin(), ratio.begin() + ratio.size() / 2, ratio.end());
  EXPECT_LE(ratio[ratio.size() / 2], 5.0);
}

}  // namespace
}  // namespace cw
