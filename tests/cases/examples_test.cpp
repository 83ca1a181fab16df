// Every example case is solved and balanced, and meets the values beside it.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <complex>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <numbers>
#include <stdexcept>

#include "cases/check/check_case.hpp"
#include "cases/compare/first_power.hpp"
#include "cases/read/read_case.hpp"
#include "cases/run/run_case.hpp"
#include "postproc/result/write_result.hpp"
#include "solver/run/solve_states.hpp"

namespace cw::cases {
namespace {

namespace fs = std::filesystem;

std::vector<fs::path> examples() {
  std::vector<fs::path> all;
  for (const auto& entry : fs::directory_iterator(COILWRIGHT_EXAMPLES))
    if (entry.path().extension() == ".toml") all.push_back(entry.path());
  std::sort(all.begin(), all.end());
  return all;
}

// Every example passes its checks, including those with a drive that cannot be solved.
TEST(Examples, PassEveryCheck) {
  ASSERT_GE(examples().size(), 8U);
  for (const fs::path& file : examples())
    EXPECT_TRUE(check_case(read_case(file)).errors.empty()) << file;
}

// Each value in `<name>.expected.json` beside an example is met within its tolerance.
TEST(Examples, MeetTheValuesBesideThem) {
  int compared = 0;
  for (const fs::path& file : examples()) {
    const fs::path beside = fs::path(file).replace_extension(".expected.json");
    if (!fs::exists(beside)) continue;
    const nlohmann::json expected = nlohmann::json::parse(std::ifstream(beside));
    const Case subject = read_case(file);
    Result whole = run_case(subject, Effort::normal).result;
    whole.commissioning = commissioning_of(subject);
    const nlohmann::json result = nlohmann::json::parse(result_json(whole));
    for (const auto& row : expected.at("values")) {
      const double value =
          result.at(nlohmann::json::json_pointer(row.at("key").get<std::string>())).get<double>();
      const double wanted = row.at("value").get<double>();
      EXPECT_NEAR(value, wanted, std::abs(wanted) * row.at("tolerance").get<double>())
          << file << " " << row;
      ++compared;
    }
  }
  EXPECT_GE(compared, 15);
}

// The balance adds up, everything has its physical sign, and the errors are stated and within what
// `normal` promises.
TEST(Examples, ResultsAreBalancedAndPhysical) {
  int solved = 0;
  for (const fs::path& file : examples()) {
    const Case subject = read_case(file);
    if (std::holds_alternative<PushPullDrive>(subject.drive)) continue;
    const cw::Run run = run_case(subject, Effort::normal);
    const StateResult& s = run.result.states.at(0);
    EXPECT_NEAR(s.power.sum(), s.power.total, 1e-12 * s.power.total) << file;
    EXPECT_NEAR(s.power.total, s.drive.current_rms * s.drive.current_rms * s.coil.resistance,
                1e-9 * s.power.total);
    EXPECT_GT(s.coil.inductance, 0);
    EXPECT_GE(s.power.workpiece.value_or(0), 0);
    // Energy of the rings' field is half of I^2 L.
    EXPECT_NEAR(2 * s.energy, s.drive.current_rms * s.drive.current_rms * s.coil.winding_inductance,
                1e-6 * s.energy);
    EXPECT_LE(s.accuracy.inductance.value(), 2e-3) << file;
    EXPECT_LE(s.accuracy.coil_power.value(), 2e-3) << file;
    EXPECT_LE(s.accuracy.workpiece_power.value_or(0), 2e-3) << file;
    for (const auto& [name, relative] : s.accuracy.bodies_power) EXPECT_LE(relative, 2e-3) << name;
    EXPECT_LT(s.accuracy.unknowns, 40000) << file;
    ++solved;
  }
  EXPECT_GE(solved, 5);
}

const StateResult& state_named(const Result& result, const std::string& name) {
  for (const StateResult& s : result.states)
    if (s.name == name) return s;
  throw std::runtime_error("no state " + name);
}

// A whole heater: all states in order; each balance equals the supply's voltage times current; the
// tank voltage is pi times the supply less the drops. Steel behaves as known in the trade: it
// demands most while hot and still magnetic, and least above the Curie point, where the frequency
// is highest.
TEST(PushPull, StatesOfASteelBlankAreBalancedAndInOrder) {
  const cw::Run run =
      run_case(read_case(fs::path(COILWRIGHT_EXAMPLES) / "chisel-blank.toml"), Effort::fast);
  const Result& r = run.result;
  std::vector<std::string> names;
  for (const StateResult& s : r.states) names.push_back(s.name);
  EXPECT_EQ(names,
            (std::vector<std::string>{"empty", "cold", "peak_demand", "past_curie", "at_target"}));
  for (const StateResult& s : r.states) {
    ASSERT_TRUE(s.tank && s.supply) << s.name;
    EXPECT_NEAR(s.power.total, s.supply->voltage * s.supply->current, 1e-6 * s.power.total)
        << s.name;
    EXPECT_NEAR(s.tank->voltage_peak, std::sqrt(2.0) * s.tank->voltage_rms,
                1e-9 * s.tank->voltage_peak);
    EXPECT_LE(s.tank->voltage_peak, std::numbers::pi * s.supply->voltage);
    EXPECT_GT(s.tank->voltage_peak, 0.9 * std::numbers::pi * s.supply->voltage);
    EXPECT_LE(s.supply->current, 32.0 * (1 + 1e-9));
    EXPECT_GE(s.supply->demand, s.supply->current * (1 - 1e-9));
  }
  const auto& cold = state_named(r, "cold");
  const auto& peak = state_named(r, "peak_demand");
  const auto& past = state_named(r, "past_curie");
  EXPECT_GT(peak.supply->demand, cold.supply->demand);
  EXPECT_LT(past.supply->demand, 0.5 * peak.supply->demand);
  EXPECT_GT(past.frequency.hertz, cold.frequency.hertz);
  EXPECT_LT(state_named(r, "empty").supply->demand, 0.2 * cold.supply->demand);
  EXPECT_TRUE(peak.supply->limited);
  // The curve agrees with the states, though its meshes are coarser.
  const auto& target = state_named(r, "at_target");
  ASSERT_TRUE(r.demand);
  EXPECT_NEAR(r.demand->currents.front(), cold.supply->demand, 0.005 * cold.supply->demand);
  EXPECT_NEAR(r.demand->currents.back(), target.supply->demand, 0.01 * target.supply->demand);
  EXPECT_NEAR(r.demand->frequencies.back(), target.frequency.hertz, 0.002 * target.frequency.hertz);
}

// In every state of every heater the tank's voltage drives a current through coil and joints that
// matches their impedance, and the power is the square of this current times the resistance: tank
// and field describe the same coil.
TEST(PushPull, EveryStateObeysOhmsLaw) {
  int states = 0, past_curie = 0;
  for (const fs::path& file : examples()) {
    const Case subject = read_case(file);
    if (!std::holds_alternative<PushPullDrive>(subject.drive)) continue;
    const Joints joints = subject.tank->joints;
    for (const StateResult& s : run_case(subject, Effort::fast).result.states) {
      const std::complex<double> branch{
          s.coil.resistance + joints.resistance,
          s.frequency.omega() * (s.coil.inductance + joints.inductance)};
      const double volts = s.tank->voltage_rms, amperes = s.tank->current_rms;
      EXPECT_NEAR(volts, amperes * std::abs(branch), 1e-3 * volts) << file << " " << s.name;
      double heated = s.power.workpiece.value_or(0) + s.power.coil + s.power.leads;
      for (const auto& [name, watts] : s.power.bodies) heated += watts;
      EXPECT_NEAR(heated, amperes * amperes * s.coil.resistance, 2e-3 * s.power.total)
          << file << " " << s.name;
      ++states;
      past_curie += s.name == "past_curie" ? 1 : 0;
    }
  }
  EXPECT_GE(states, 40);
  EXPECT_GE(past_curie, 5);
}

// Without any limit and with a lossless drive the supply current equals the demand. Doubling the
// supply voltage of a linear load doubles the currents and leaves the frequency unchanged. The
// copper is kept at one temperature: warmer water would make the load nonlinear.
TEST(PushPull, LinearLoadScalesWithTheSupply) {
  const fs::path file = fs::path(COILWRIGHT_EXAMPLES) / "chisel-blank.toml";
  const auto at = [&](const char* volts) {
    const std::vector<Change> change{{"drive.supply", volts},
                                     {"drive.supply_limit", "1000 A"},
                                     {"workpiece.material", "stainless-304"},
                                     {"coil.temperature", "25 degC"},
                                     {"heat.target", "300 degC"}};
    return run_case(read_case(file, change), Effort::fast).result;
  };
  const Result low = at("12 V"), high = at("24 V");
  const auto& a = state_named(low, "cold");
  const auto& b = state_named(high, "cold");
  EXPECT_NEAR(b.frequency.hertz, a.frequency.hertz, 1e-6 * a.frequency.hertz);
  EXPECT_NEAR(b.supply->current, 2 * a.supply->current, 1e-5 * b.supply->current);
  EXPECT_NEAR(*b.power.workpiece, 4 * *a.power.workpiece, 1e-5 * *b.power.workpiece);
}

/// The bench chisel with another number of turns.
StateResult with_turns(const char* turns) {
  const std::vector<Change> change{{"coil.turns", turns}};
  const Case subject = read_case(fs::path(COILWRIGHT_EXAMPLES) / "chisel-blank-bench.toml", change);
  EXPECT_TRUE(check_case(subject).errors.empty()) << turns;
  return run_case(subject, Effort::normal).result.states.at(0);
}

// Part turns lie between the whole turns on either side, in copper loss and in inductance.
TEST(PartTurns, LieBetweenTheirWholeNeighbours) {
  for (const auto& [less, part, more] :
       {std::array{"4", "4.5", "5"}, std::array{"7", "7.25", "8"}, std::array{"7", "7.5", "8"},
        std::array{"1", "1.5", "2"}}) {
    const StateResult a = with_turns(less), b = with_turns(part), c = with_turns(more);
    EXPECT_LT(a.power.coil, b.power.coil) << part;
    EXPECT_LT(b.power.coil, c.power.coil) << part;
    EXPECT_LT(a.coil.inductance, b.coil.inductance) << part;
    EXPECT_LT(b.coil.inductance, c.coil.inductance) << part;
  }
}

// The results approach those of the whole turn continuously as a part turn approaches it.
TEST(PartTurns, ApproachTheWholeTurn) {
  const StateResult a = with_turns("4.99"), b = with_turns("5");
  EXPECT_NEAR(a.power.coil, b.power.coil, 0.01 * b.power.coil);
  EXPECT_NEAR(a.coil.inductance, b.coil.inductance, 0.01 * b.coil.inductance);
}

// A voltage drive finds the current that a current drive needs for that voltage, with the copper at
// one temperature, within the stated errors of both meshes: each is refined for its own drive.
TEST(Drives, VoltageAndCurrentAgree) {
  const fs::path file = fs::path(COILWRIGHT_EXAMPLES) / "aluminium-bar.toml";
  const Change held{"coil.temperature", "25 degC"};
  const StateResult by_current =
      run_case(read_case(file, std::vector{held}), Effort::fast).result.states.at(0);
  const std::vector<Change> change{
      held,
      {"drive.kind", "voltage"},
      {"drive.rms", std::to_string(by_current.drive.voltage_rms) + " V"}};
  const StateResult by_voltage =
      run_case(read_case(file, change), Effort::fast).result.states.at(0);
  const auto off = [](const StateResult& s) {
    return s.accuracy.inductance.value() + s.accuracy.coil_power.value();
  };
  const double stated = off(by_current) + off(by_voltage);
  ASSERT_LT(stated, 0.04);
  EXPECT_NEAR(by_voltage.drive.current_rms, by_current.drive.current_rms,
              stated * by_current.drive.current_rms);
  EXPECT_NEAR(by_voltage.power.total, by_current.power.total, stated * by_current.power.total);
}

}  // namespace
}  // namespace cw::cases
