#include "postproc/making/heater_netlist.hpp"

#include <fmt/core.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <numbers>
#include <sstream>

#include "cases/read/read_case.hpp"
#include "solver/run/run_heater.hpp"
#include "tests/shell.hpp"
#include "tests/unit/postproc/sample_case.hpp"

namespace {

/// What a circuit simulator, in a process of its own, measures in a netlist.
struct Measured {
  double frequency = 0.0, tank_rms = 0.0, supply_mean = 0.0;
  std::string text;
};

class HeaterNetlist : public testing::Test {
 protected:
  void SetUp() override {
    if (cw::shell("command -v ngspice").code != 0) GTEST_SKIP() << "ngspice is not installed";
  }
  void TearDown() override { std::filesystem::remove(file_); }

  [[nodiscard]] std::string simulated(const std::string& netlist) const {
    std::ofstream(file_) << netlist;
    return cw::shell("ngspice -b " + file_.string()).text;
  }
  /// The number behind "name =" in what it prints; NaN: none.
  [[nodiscard]] static double printed(const std::string& text, const std::string& name) {
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
      std::istringstream words(line);
      std::string first, equals;
      double value = NAN;
      if (words >> first >> equals >> value && first == name && equals == "=") return value;
    }
    return NAN;
  }
  [[nodiscard]] Measured measured(const std::string& netlist) const {
    Measured m;
    m.text = simulated(netlist);
    m.frequency = printed(m.text, "frequency");
    m.tank_rms = printed(m.text, "tank_rms");
    m.supply_mean = printed(m.text, "supply_mean");
    return m;
  }
  /// The states of an example, without its heating.
  [[nodiscard]] static cw::Result states_of(const std::string& example,
                                            const std::vector<cw::Change>& changes = {}) {
    cw::Case subject =
        cw::read_case(std::filesystem::path(COILWRIGHT_EXAMPLES) / (example + ".toml"), changes);
    subject.heat.reset();
    cw::Result result = cw::run_states(subject, cw::Effort::fast).result;
    result.heater = subject;
    return result;
  }
  /// That the circuit, stepped in time, settles at the point the state has.
  void expect_same(const cw::Result& result, std::size_t index) const {
    const cw::StateResult& state = result.states[index];
    const double current =
        state.supply->current > 0.0 ? state.supply->current : state.supply->demand;
    const Measured found = measured(cw::heater_netlist(result, index));
    const std::string what =
        fmt::format("{}: {:.6g} Hz for {:.6g}, {:.4g} V for {:.4g}, {:.4g} A for {:.4g}",
                    state.name, found.frequency, state.frequency.hertz, found.tank_rms,
                    state.tank->voltage_rms, found.supply_mean, current);
    RecordProperty(state.name, what);
    EXPECT_NEAR(found.frequency / state.frequency.hertz, 1.0, 0.015) << what << found.text;
    EXPECT_NEAR(found.tank_rms / state.tank->voltage_rms, 1.0, 0.03) << what;
    EXPECT_NEAR(found.supply_mean / current, 1.0, 0.03) << what;
  }

  std::filesystem::path file_ = std::filesystem::temp_directory_path() /
                                ("heater_netlist_test_" + std::to_string(::getpid()) + ".cir");
};

// Property: the circuit of the first state with the work in place, stepped in time by a general
// circuit simulator, rings at our frequency within 1.5 %, with our tank voltage and supply current
// within 3 %: what the harmonic model leaves out at a loaded Q of 4.5 and more (solver/circuit).
TEST_F(HeaterNetlist, SettlesAtTheOperatingPoint) {
  for (const char* example : {"chisel-blank", "axle-nut", "steel-rod-on-12-volts"}) {
    const cw::Result result = states_of(example);
    const auto state = cw::netlist_state(result);
    ASSERT_TRUE(state) << example;
    EXPECT_EQ(result.states[*state].name, "cold");
    expect_same(result, *state);
  }
}

// Property: the same of every other state of a heater: empty at a Q of 57, a supply that folds
// back, work past its Curie point; each from its own commented line.
TEST_F(HeaterNetlist, SettlesInEveryState) {
  const cw::Result result = states_of("chisel-blank");
  for (std::size_t i = 0; i < result.states.size(); ++i) expect_same(result, i);
}

// Property: the same of a bank with inductance, of switches with a drop, and of one choke into the
// middle of the coil.
TEST_F(HeaterNetlist, SettlesWithEveryPart) {
  const std::vector<cw::Change> parts = {{"tank.esl", "20 nH"}, {"drive.switch.drop", "1.2 V"}};
  for (const char* chokes : {"2", "1"}) {
    std::vector<cw::Change> changes = parts;
    changes.push_back({"drive.choke.count", chokes});
    const cw::Result result = states_of("chisel-blank", changes);
    expect_same(result, *cw::netlist_state(result));
  }
}

// Property: at the state's frequency the coupled inductances of coil and work have the state's
// inductance and resistance, leads aside, to the digits written, in the simulator's own analysis.
TEST_F(HeaterNetlist, CoilAndWorkAreThoseOfTheState) {
  const cw::Result result = states_of("axle-nut");
  const std::size_t index = *cw::netlist_state(result);
  const cw::StateResult& state = result.states[index];
  std::istringstream lines(cw::heater_netlist(result, index));
  std::string alone = "coil and work alone\nIunit 0 in ac 1\nRwinding in coil {rwinding}\n";
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with(".param") || line.starts_with("Lsecondary") ||
        line.starts_with("Rsecondary") || line.starts_with("Kwork"))
      alone += line + "\n";
  }
  alone += fmt::format(
      "Lprimary coil 0 {{lprimary}}\n.control\nac lin 1 {0:.10g} {0:.10g}\n"
      "let re = real(v(in))\nlet im = imag(v(in))\nprint re im\n.endc\n.end\n",
      state.frequency.hertz);
  const std::string text = simulated(alone);
  const double reactance = 2.0 * std::numbers::pi * state.frequency.hertz *
                           (state.coil.inductance - state.coil.lead_inductance);
  EXPECT_NEAR(printed(text, "re"), state.coil.resistance - state.coil.lead_resistance,
              1e-5 * state.coil.resistance)
      << text;
  EXPECT_NEAR(printed(text, "im"), reactance, 1e-5 * reactance) << text;
}

// Property: with the kick described in its text the pair starts from rest and reaches the same
// operating point; without it the pair latches, and no frequency is found.
TEST_F(HeaterNetlist, StartsWithAKick) {
  const cw::Result result = states_of("chisel-blank");
  const std::size_t index = *cw::netlist_state(result);
  const auto with_start = [&](const std::string& start) {
    std::string netlist = cw::heater_netlist(result, index);
    const auto at = netlist.find(".param start=1 ");
    EXPECT_NE(at, std::string::npos);
    return netlist.replace(at, 15, ".param start=" + start + " ");
  };
  EXPECT_NE(cw::heater_netlist(result, index).find("start=0.02 is the kick"), std::string::npos);
  const cw::StateResult& state = result.states[index];
  std::string kicked = with_start("0.02");
  kicked.insert(kicked.find(".end\n"), ".param settle=300\n");
  const Measured found = measured(kicked);
  EXPECT_NEAR(found.frequency / state.frequency.hertz, 1.0, 0.015) << found.text;
  EXPECT_NEAR(found.tank_rms / state.tank->voltage_rms, 1.0, 0.03);
  EXPECT_TRUE(std::isnan(measured(with_start("0")).frequency));
}

// Property: only a push-pull with a tank has a netlist, of its first state with the work in it; a
// title of many lines stays in one.
TEST(HeaterNetlistFile, IsOfAPushPullAlone) {
  cw::Result result = cw::sample::full_result();
  result.title = "two\n.lines";
  ASSERT_TRUE(cw::netlist_state(result));
  const std::string netlist = cw::heater_netlist(result, 0);
  EXPECT_TRUE(netlist.starts_with("* two?.lines\n"));
  EXPECT_EQ(netlist.find("inf"), std::string::npos);
  EXPECT_NE(netlist.find("\n*.param f0="), std::string::npos);  // the other state
  result.states[0].name = "empty";
  EXPECT_EQ(cw::netlist_state(result), 1U);
  result.heater->tank.reset();
  EXPECT_FALSE(cw::netlist_state(result));
  EXPECT_FALSE(cw::netlist_state(cw::sample::result()));
  result = cw::sample::full_result();
  result.heater->drive = cw::CurrentDrive{cw::Frequency{1e5}, 100.0};
  EXPECT_FALSE(cw::netlist_state(result));
}

// Property: chokes without an inductance given are taken as large ones, a number and not infinity.
TEST(HeaterNetlistFile, IdealChokesAreLarge) {
  cw::Result result = cw::sample::full_result();
  std::get<cw::PushPullDrive>(result.heater->drive).choke = {};
  const std::string netlist = cw::heater_netlist(result, 0);
  EXPECT_EQ(netlist.find("=inf"), std::string::npos);
  EXPECT_NE(netlist.find("lchoke=3.331e-05"), std::string::npos);  // 100 x 0.3331 uH
}

}  // namespace
