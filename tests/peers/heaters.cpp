#include "tests/peers/heaters.hpp"

#include <cmath>
#include <utility>

namespace cw::peers {
namespace {

constexpr double mm = 1e-3;

struct Metal {
  double conductivity;        ///< [S/m]
  double permeability = 1.0;  ///< relative
};

// Round values similar to those of handbooks; both libraries get the same.
constexpr Metal copper{57e6}, aluminium{35e6}, liquid_aluminium{4e6}, graphite{0.1e6};
constexpr Metal hot_steel{0.9e6}, stainless{1.35e6};
constexpr Metal strands{0.0};  // current distributed evenly: no eddy current of their own

/// Rectangle, corners in mm.
Polygon bar(Point low, Point high) {
  return rectangle({low.r * mm, low.z * mm}, {high.r * mm, high.z * mm});
}

/// Any outline, counter-clockwise, in mm.
Polygon turned(std::vector<Point> outline) {
  for (Point& p : outline) p = {p.r * mm, p.z * mm};
  return {std::move(outline), {}};
}

/// Rectangular tube, corners and wall in mm.
Polygon square_tube(Point low, Point high, double wall) {
  Polygon tube = bar(low, high);
  const Polygon bore = bar({low.r + wall, low.z + wall}, {high.r - wall, high.z - wall});
  tube.holes.emplace_back(bore.outline.rbegin(), bore.outline.rend());
  return tube;
}

/// Round tube about a centre, outer diameter and wall in mm; a wire if the wall equals the radius.
Disc round_tube(Point centre, double diameter, double wall) {
  return {{centre.r * mm, centre.z * mm}, diameter / 2 * mm, (diameter / 2 - wall) * mm};
}

/// A heater assembled part by part.
class Bench {
 public:
  Bench(std::string name, Frequency frequency) {
    heater_.name = std::move(name);
    heater_.frequency = frequency;
    heater_.media.emplace_back();
  }

  void body(const std::string& name, std::variant<Disc, Polygon> shape, Metal metal) {
    SectionRegion region{name, std::move(shape)};
    const double reluctivity = 1 / (metal.permeability * mu0);
    if (metal.conductivity > 0)
      region.skin_depth =
          std::sqrt(2 * reluctivity / (heater_.frequency.omega() * metal.conductivity));
    heater_.section.regions.push_back(std::move(region));
    heater_.media.push_back({metal.conductivity, reluctivity});
  }

  void turn(std::variant<Disc, Polygon> shape, Metal metal = copper) {
    TurnSet& turns = heater_.turns;
    body("turn." + std::to_string(turns.region.size() + 1), std::move(shape), metal);
    heater_.section.regions.back().bends_field = true;
    turns.region.push_back(static_cast<RegionId>(heater_.section.regions.size()));
    turns.weight.push_back(1.0);
    turns.resistance.push_back(0.0);
    if (metal.conductivity == 0) turns.kind = TurnKind::uniform;
  }

  /// `count` turns of round tube one above the other, their middle at z = 0; sizes in mm.
  struct Winding {
    int count;
    double bore, pitch, diameter, wall;
  };
  void wind(const Winding& w, Metal metal = copper) {
    for (int k = 0; k < w.count; ++k)
      turn(round_tube({(w.bore + w.diameter) / 2, (k - (w.count - 1) / 2.0) * w.pitch}, w.diameter,
                      w.wall),
           metal);
  }

  [[nodiscard]] Heater finished() const { return heater_; }

 private:
  Heater heater_;
};

Heater thin_magnetic_rod() {
  Bench bench("thin magnetic rod", {20e3});
  bench.body("rod", bar({0, -50}, {3, 50}), {5e6, 700});
  bench.wind({6, 50, 11, 8, 1});
  return bench.finished();
}

Heater pipe() {
  Bench bench("pipe", {10e3});
  bench.body("pipe", bar({27.25, -90}, {30.15, 90}), stainless);
  bench.wind({8, 80, 13, 10, 1});
  return bench.finished();
}

Heater cup_with_charge() {
  Bench bench("cup with a charge", {10e3});
  bench.body("cup", turned({{0, -40}, {30, -40}, {30, 40}, {24, 40}, {24, -30}, {0, -30}}),
             graphite);
  bench.body("charge", bar({0, -30}, {24, 18}), liquid_aluminium);
  bench.wind({7, 84, 12, 8, 1});
  return bench.finished();
}

Heater pancake_over_disc() {
  Bench bench("pancake over a disc", {30e3});
  bench.body("disc", bar({0, 0}, {60, 4}), {5e6, 100});
  for (int k = 0; k < 6; ++k) bench.turn(round_tube({14.0 + 8 * k, -8}, 6, 1));
  return bench.finished();
}

Heater cone_coil() {
  Bench bench("cone coil", {100e3});
  bench.body("cone", turned({{0, -20}, {8, -20}, {28, 20}, {0, 20}}), hot_steel);
  for (int k = 0; k < 7; ++k) bench.turn(round_tube({15 + 3.2 * k, -20 + 6.5 * k}, 4, 2));
  return bench.finished();
}

Heater stepped_shaft() {
  Bench bench("stepped shaft", {8e3});
  bench.body(
      "shaft",
      turned({{0, -60}, {10, -60}, {10, -20}, {18, -20}, {18, 15}, {12, 15}, {12, 60}, {0, 60}}),
      {4e6, 50});
  bench.wind({9, 46, 10, 8, 1});
  return bench.finished();
}

Heater half_inserted_rod() {
  Bench bench("half-inserted rod", {30e3});
  bench.body("rod", bar({0, 0}, {12.5, 100}), hot_steel);
  for (int k = 0; k < 5; ++k)
    bench.turn(square_tube({20, -29.0 + 12 * k}, {28, -19.0 + 12 * k}, 1.5));
  return bench.finished();
}

Heater strands_round_pipe() {
  Bench bench("stranded turns round a pipe", {10e3});
  bench.body("pipe", bar({22, -60}, {25, 60}), {5e6, 100});
  bench.wind({12, 54, 6, 5, 2.5}, strands);
  return bench.finished();
}

Heater sleeve_round_work() {
  Bench bench("sleeve round the work", {50e3});
  bench.body("rod", bar({0, -40}, {14, 40}), aluminium);
  bench.body("sleeve", bar({19, -35}, {20, 35}), stainless);
  bench.wind({6, 50, 10, 8, 1});
  return bench.finished();
}

}  // namespace

std::vector<Heater> heaters() {
  return {thin_magnetic_rod(), pipe(),          cup_with_charge(),   pancake_over_disc(),
          cone_coil(),         stepped_shaft(), half_inserted_rod(), strands_round_pipe(),
          sleeve_round_work()};
}

}  // namespace cw::peers
