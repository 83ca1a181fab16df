// The heating run of whole cases, and its interruption.
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <numbers>
#include <random>
#include <sstream>

#include "cases/read/read_case.hpp"
#include "cases/run/checkpoint.hpp"
#include "cases/run/run_case.hpp"
#include "solver/run/heating.hpp"
#include "solver/run/solve_states.hpp"

namespace cw::cases {
namespace {

namespace fs = std::filesystem;

Case example(const std::string& name, const std::vector<Change>& changes = {}) {
  return read_case(fs::path(COILWRIGHT_EXAMPLES) / (name + ".toml"), changes);
}

cw::Run heated(const Case& subject) {
  RunOptions options;
  options.effort = Effort::fast;
  return run_case(subject, options);
}

/// Every joule of the supply and every joule induced is booked exactly once.
void expect_balanced(const HeatResult& heat) {
  EXPECT_LT(std::abs(heat.ledger_error), 0.005);
  EXPECT_LT(heat.interpolation_error, 0.01);
  double spent = 0, lost = 0;
  for (const auto& [name, joule] : heat.spent) spent += joule;
  for (const auto& [name, joule] : heat.lost) lost += joule;
  EXPECT_NEAR(spent, heat.energy, 1e-9 * heat.energy);
  EXPECT_NEAR(heat.stored + lost, heat.induced, 0.005 * heat.induced);
}

// The arrangement of triangles changes the time to target by less than half of the stated error. A
// blank that is a few tenths of a millimetre longer at its far end, where nothing is heated, has
// another mesh. Thirteen of them, 159.4 to 160.8 mm long, gave 126.6 to 128.0 s (`coilwright run
// --accuracy fast --set workpiece.length=159.6mm --set workpiece.centre=49.8mm` and the like), and
// 1.6 % is stated.
TEST(TimeToTarget, ScatterBetweenMeshesIsWithinTheStatedError) {
  std::vector<double> times;
  double stated = 0.0;
  for (const auto& [length, centre] :
       {std::pair{"159.4 mm", "49.7 mm"}, std::pair{"160 mm", "50 mm"},
        std::pair{"160.8 mm", "50.4 mm"}}) {
    const Case blank =
        example("chisel-blank", {{"workpiece.length", length}, {"workpiece.centre", centre}});
    const HeatResult heat = heated(blank).result.heat.value();
    times.push_back(heat.time_to_target.value());
    stated = std::max(stated, heat.time_error());
  }
  const double mean = (times[0] + times[1] + times[2]) / 3.0;
  for (const double time : times) EXPECT_NEAR(time, mean, 0.5 * stated * mean);
  EXPECT_LT(stated, 0.02);
}

// In every shipped case with a heating run every joule is accounted for.
TEST(Ledger, ClosesInEveryShippedCase) {
  int heats = 0;
  for (const auto& entry : fs::directory_iterator(COILWRIGHT_EXAMPLES)) {
    if (entry.path().extension() != ".toml") continue;
    const Case subject = read_case(entry.path());
    if (!subject.heat || !subject.workpiece) continue;
    SCOPED_TRACE(entry.path().filename().string());
    const auto run = heated(subject);
    ASSERT_TRUE(run.result.heat);
    expect_balanced(*run.result.heat);
    ++heats;
  }
  EXPECT_GE(heats, 15);
}

// The shipped pair: on 36 V the blank passes its target more than 100 K below its stall
// temperature; on 24 V it stalls below the target. The steel passes its Curie point in both.
TEST(ChiselPair, OneReachesItsTargetTheOtherStalls) {
  const Case good = example("chisel-blank");
  const HeatResult reached = *heated(good).result.heat;
  ASSERT_TRUE(reached.reached);
  EXPECT_GT(*reached.time_to_target, 60.0);
  EXPECT_GT(reached.stall->kelvin, reached.target->kelvin + 100);
  ASSERT_GE(reached.events.size(), 3U);
  EXPECT_EQ(reached.events.front().name, "workpiece: first past the Curie point");
  expect_balanced(reached);

  const Case weak = example("chisel-on-24-volts");
  const HeatResult stalls = *heated(weak).result.heat;
  EXPECT_FALSE(stalls.reached);
  ASSERT_TRUE(stalls.stall);
  EXPECT_LT(stalls.stall->kelvin, stalls.target->kelvin - 15);
  EXPECT_GT(stalls.stall->kelvin, stalls.lines.back().coldest);
  expect_balanced(stalls);
}

// With a fixed voltage the run begins at the current and power of the state, which the states find
// with their own field. Later the current rises as the steel loses its magnetism.
TEST(FixedVoltage, BeginsAtTheSolvedState) {
  const Case subject = example("aluminium-bar", {{"workpiece.material", "steel-low-carbon"},
                                                 {"drive.kind", "voltage"},
                                                 {"drive.rms", "90 V"},
                                                 {"heat.target", "850 degC"},
                                                 {"heat.target_at", "surface"}});
  const cw::Run run = heated(subject);
  const HeatResult& heat = *run.result.heat;
  const StateResult& state = run.result.states.at(0);
  const HeatLine& first = heat.lines.front();
  EXPECT_NEAR(first.tank_current, state.drive.current_rms, 1e-3 * state.drive.current_rms);
  EXPECT_NEAR(first.total_W, state.power.sum(), 2e-3 * state.power.sum());
  EXPECT_NEAR(state.drive.voltage_rms, 90.0, 0.02);
  ASSERT_TRUE(heat.reached);
  // Past the Curie point the coil is nearly empty: less reactance, more current.
  EXPECT_GT(heat.lines.back().tank_current, 1.05 * first.tank_current);
  expect_balanced(heat);
}

// A charge that melts in its cup stores the energy that follows from its heat capacity and latent
// heat at the final temperature (integrated here by the trapezoidal rule): within 1 %.
TEST(Melting, TakesTheEnthalpyOfTheCharge) {
  const Case subject = example("bronze-melt");
  const cw::Run run = heated(subject);
  const HeatResult& heat = *run.result.heat;
  ASSERT_TRUE(heat.reached);
  expect_balanced(heat);
  double begins = 0, molten = 0;
  for (const auto& event : heat.events) {
    if (event.name == "charge: begins to melt") begins = event.time;
    if (event.name == "charge: all molten") molten = event.time;
  }
  EXPECT_GT(begins, 0);
  EXPECT_GT(molten, begins + 10);
  const ThermalModel& model = run.heating->thermal();
  const Eigen::VectorXd& kelvin = run.snapshots.back().kelvin;
  const double stored = model.stored(model.enthalpy_of(kelvin), 1);
  const Material& bronze = subject.bodies.at(0).material;
  double mass = 0, mean = 0;
  for (const auto& e : model.mesh().elements)
    if (e.body == 1)
      for (int i = 0; i < 7; ++i) {
        mass += e.shape.volume[i] * bronze.density.value;
        mean += e.shape.volume[i] * bronze.density.value * kelvin[e.unknown[i]];
      }
  mean /= mass;
  // The target is that of the charge, and its figures are those of its nodes.
  EXPECT_EQ(heat.target_of, "charge");
  ASSERT_GE(heat.bodies.size(), 2U);
  EXPECT_EQ(heat.bodies[1].name, "charge");
  EXPECT_NEAR(heat.bodies[1].at_end.mean, mean, 0.01);
  EXPECT_NEAR(mean, heat.target->kelvin, 0.5);
  EXPECT_NEAR(heat.bodies[1].at_end.molten.value(), 1.0, 1e-9);
  ASSERT_LT(heat.lines.front().time, begins);
  ASSERT_GT(heat.lines.back().time, begins);
  for (const HeatLine& line : heat.lines)
    EXPECT_EQ(line.bodies.at(1).molten.value() > 0.0, line.time > begins) << line.time;
  double per_mass = bronze.melting->latent;
  for (int i = 0; 293.15 + 0.1 * i < mean; ++i)
    per_mass += 0.1 * bronze.heat_capacity(Temperature{293.15 + 0.1 * i});
  EXPECT_NEAR(stored, mass * per_mass, 0.01 * stored);
}

/// A body of uniform temperature: its metal, size and free surface.
struct Lump {
  const Material* metal;
  double volume, area;  ///< [m^3], [m^2]

  [[nodiscard]] double capacity(double kelvin) const {
    return metal->density.value * volume * metal->heat_capacity(Temperature{kelvin});
  }
  /// Grey radiation and a film of 10 W/(m^2 K), which is usual for still air; a few per cent of
  /// what goes in.
  [[nodiscard]] double loss(double kelvin, double room) const {
    const double radiation = 5.670374419e-8 * (std::pow(kelvin, 4) - std::pow(room, 4));
    return area * (metal->emissivity.value * radiation + 10.0 * (kelvin - room));
  }
};

// Nut and axle as two lumps with the contact between them. If conduction inside is much better than
// through the contact, temperatures follow the two ordinary differential equations within 3 %.
// Sizes, capacities and losses of the lumps come from the drawing; only the power into each is
// taken from the run.
TEST(Contact, NutAndAxleFollowTwoLumps) {
  constexpr double contact = 300, high = 10e-3, inner = 5e-3, outer = 9e-3;
  using std::numbers::pi;
  const Case subject = example("axle-nut", {{"body.0.contact", "300 W/(m2 K)"},
                                            {"body.0.length", "10 mm"},
                                            {"drive.supply", "12 V"},
                                            {"heat.until", "40 s"},
                                            {"heat.target", "700 degC"}});
  const cw::Run run = heated(subject);
  const HeatResult& heat = *run.result.heat;
  ASSERT_GT(heat.lines.size(), 5U);
  const double into_axle = heat.spent.at("axle"), into_nut = heat.spent.at("workpiece");
  const double axle_share = into_axle / (into_axle + into_nut);
  const double face = pi * (outer * outer - inner * inner);
  const Lump nut{&subject.workpiece->material, face * high, 2 * face + 2 * pi * outer * high};
  const Lump axle{&subject.bodies.at(0).material, pi * inner * inner * high,
                  2 * pi * inner * inner};
  const double room = subject.heat->surroundings.kelvin;
  const double start = subject.workpiece->temperature.kelvin;
  double hot = start, cool = start;
  constexpr double step = 0.002;  // [s], Euler's rule
  std::size_t k = 0;
  for (int i = 0; i * step < heat.lines.back().time; ++i) {
    const double time = i * step;
    while (k + 2 < heat.lines.size() && heat.lines[k + 1].time <= time) ++k;
    const HeatLine &a = heat.lines[k], &b = heat.lines[k + 1];
    const double power =
        std::lerp(a.work_W, b.work_W, (time - a.time) / std::max(b.time - a.time, 1e-9));
    const double across = contact * 2 * pi * inner * high * (hot - cool);
    const double hot_rate =
        ((1 - axle_share) * power - across - nut.loss(hot, room)) / nut.capacity(hot);
    const double cool_rate =
        (axle_share * power + across - axle.loss(cool, room)) / axle.capacity(cool);
    hot += step * hot_rate;
    cool += step * cool_rate;
  }
  const ThermalModel& model = run.heating->thermal();
  const auto mean = [&](std::size_t body) {
    double sum = 0, volume = 0;
    for (const auto& e : model.mesh().elements)
      if (e.body == body)
        for (int i = 0; i < 7; ++i) {
          sum += e.shape.volume[i] * run.snapshots.back().kelvin[e.unknown[i]];
          volume += e.shape.volume[i];
        }
    return sum / volume;
  };
  EXPECT_GT(hot - cool, 50);
  EXPECT_NEAR(mean(0) - start, hot - start, 0.03 * (hot - start));
  EXPECT_NEAR(mean(1) - start, cool - start, 0.03 * (cool - start));
}

// From every state that may be stored, the run continues to the same end, with a field for the
// pictures of its last moment; the end itself is not stored, since it has no field.
TEST(StoredStates, AllContinueToTheSameEnd) {
  const Case subject = example("chisel-blank");
  Spent spent;
  std::vector<std::string> warnings;
  const auto states = solve_states(subject, Effort::fast, spent, warnings);
  HeatingSetup setup(subject, Effort::fast, states.at(1));
  setup.plan().until = 6.0;
  std::vector<std::string> stored;
  setup.plan().stop = [&stored](const HeatingState& state) {
    std::ostringstream out;
    write_state(out, state);
    stored.push_back(out.str());
    return false;
  };
  const HeatingState whole = setup.run().state;
  setup.plan().stop = {};
  ASSERT_GE(stored.size(), 3U);
  for (const std::string& text : stored) {
    std::istringstream in(text);
    HeatingState from = read_state(in);
    EXPECT_LT(from.thermal.time, 6.0);
    const HeatingState end = setup.run(std::move(from)).state;
    ASSERT_EQ(end.moments.size(), whole.moments.size());
    EXPECT_EQ(end.thermal.enthalpy, whole.thermal.enthalpy);
    EXPECT_EQ(end.snapshots.back().time, whole.snapshots.back().time);
    ASSERT_GT(end.snapshots.back().field.potential.size(), 0);
    EXPECT_EQ(end.snapshots.back().field.potential, whole.snapshots.back().field.potential);
  }
}

/// A short heating run in a folder of its own, by the program.
class Stopped : public testing::Test {
 protected:
  void SetUp() override {
    fs::create_directories(folder_);
    std::ifstream from(fs::path(COILWRIGHT_EXAMPLES) / "chisel-blank-bench.toml");
    std::ofstream to(folder_ / "case.toml");
    to << from.rdbuf() << "\n[heat]\nuntil = \"20 s\"\n";
  }
  void TearDown() override { fs::remove_all(folder_); }

  /// Exit code; `before` precedes the command.
  [[nodiscard]] int run(const std::string& before, const std::string& out,
                        const std::string& options = "") const {
    const std::string command = before + " " + COILWRIGHT_PROGRAM + " run " +
                                (folder_ / "case.toml").string() + " --accuracy fast --out " +
                                (folder_ / out).string() + " " + options + " >/dev/null 2>&1";
    const int status = std::system(command.c_str());
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  }
  /// Leaves a run that was stopped on its way and can continue.
  void stop_early() const {
    int code = 0;
    for (const char* seconds : {"0.8", "0.5", "1.2", "0.3", "2", "0.2"}) {
      fs::remove_all(folder_ / "out");
      fs::remove(checkpoint_of(folder_ / "out"));
      code = run(std::string("timeout --preserve-status -s INT ") + seconds, "out");
      // Before there is anything to keep, Ctrl-C simply ends the program.
      if (code == 130 && fs::exists(folder_ / "out/result.json")) break;
    }
    ASSERT_EQ(code, 130);
  }
  [[nodiscard]] std::string history(const std::string& out) const {
    std::ifstream file(folder_ / out / "tables/history.csv");
    return {std::istreambuf_iterator<char>(file), {}};
  }

  fs::path folder_ =
      fs::temp_directory_path() / ("coilwright_heating_test_" + std::to_string(::getpid()));
};

// A run that is killed at ten moments and resumed each time leaves no incomplete file, and in the
// end its history equals that of an uninterrupted run, byte for byte.
TEST_F(Stopped, KilledTenTimesTheHistoryIsTheSame) {
  ASSERT_EQ(run("", "whole"), 0);
  ASSERT_GT(history("whole").size(), 500U);
  std::mt19937 random(20);
  std::uniform_real_distribution<double> seconds(0.1, 1.6);
  int killed = 0;
  for (int k = 0; k < 10; ++k) {
    const int code =
        run("timeout -s KILL " + std::to_string(seconds(random)), "killed", "--resume");
    ASSERT_NE(code, 2) << "a checkpoint was refused";
    if (fs::exists(folder_ / "killed")) {
      EXPECT_TRUE(nlohmann::json::accept(std::ifstream(folder_ / "killed/result.json")));
      break;
    }
    ++killed;
  }
  EXPECT_GE(killed, 1);
  ASSERT_EQ(run("", "killed", "--resume"), 0);
  EXPECT_EQ(history("killed"), history("whole"));
  EXPECT_FALSE(fs::exists(checkpoint_of(folder_ / "killed")));
}

// Ctrl-C leaves a valid result that is marked, exit code 130, and a run that can be resumed.
TEST_F(Stopped, ByCtrlCItLeavesAMarkedResult) {
  ASSERT_EQ(run("", "whole"), 0);
  stop_early();
  const auto result = nlohmann::json::parse(std::ifstream(folder_ / "out/result.json"));
  EXPECT_EQ(result.at("heat").at("ended"), "interrupted");
  EXPECT_FALSE(result.at("heat").at("reached"));
  ASSERT_EQ(run("", "out", "--resume"), 0);
  EXPECT_EQ(history("out"), history("whole"));
}

// A run is stopped and its material file edited: resuming is refused; with the old file it
// continues to the end.
TEST_F(Stopped, AnEditedMaterialFileIsRefused) {
  const fs::path steel = folder_ / "steel.toml";
  fs::copy_file(fs::path(COILWRIGHT_EXAMPLES) / "../../materials/data/steel-high-carbon.toml",
                steel);
  std::ifstream from(folder_ / "case.toml");
  std::string text{std::istreambuf_iterator<char>(from), {}};
  const std::string name = "\"steel-high-carbon\"";
  ASSERT_NE(text.find(name), std::string::npos);
  text.replace(text.find(name), name.size(), "\"steel.toml\"");
  std::ofstream(folder_ / "case.toml") << text;
  stop_early();
  const auto edit = [&](const std::string& what) { std::ofstream(steel, std::ios::app) << what; };
  const auto before = fs::file_size(steel);
  edit("# edited\n");
  EXPECT_EQ(run("", "out", "--resume"), 2);
  fs::resize_file(steel, before);
  EXPECT_EQ(run("", "out", "--resume"), 0);
}

// A checkpoint of another case is refused, and the message names it.
TEST_F(Stopped, ACheckpointOfAnotherCaseIsRefused) {
  std::ofstream(checkpoint_of(folder_ / "out")) << "something else\n";
  EXPECT_EQ(run("", "out", "--resume"), 2);
}

}  // namespace
}  // namespace cw::cases
