#include <gtest/gtest.h>

#include <fmt/format.h>

#include <algorithm>
#include <numbers>

#include "cases/check/check_case.hpp"
#include "cases/read/read_case.hpp"
#include "materials/usual_parts.hpp"
#include "solver/heater/rings.hpp"

namespace cw::cases {
namespace {

/// A push-pull's heater of these lines in [coil], [tank] and [drive].
Case heater_of(const std::string& coil, const std::string& tank, const std::string& drive) {
  return read_case_text(
      fmt::format("[coil]\nturns = 8\nbore = \"32 mm\"\n{}\n[tank]\ncapacitance = "
                  "\"2 uF\"\n{}\n[drive]\nsupply = \"36 V\"\n{}\n",
                  coil, tank, drive),
      "shop.toml");
}

const std::string whole_coil =
    "pitch = \"7.5 mm\"\nconductor = { tube = \"6 mm\", wall = \"0.8 mm\" }";
const std::string whole_tank = "dissipation_factor = 8e-4";
const std::string whole_drive =
    "kind = \"push-pull\"\nswitch = { resistance = \"10 mohm\" }\nchoke = { inductance = \"150 "
    "uH\", resistance = \"14 mohm\" }";

/// The keys that are reported as assumed.
std::vector<std::string> told(const Case& subject) {
  std::vector<std::string> keys;
  for (const std::string& line : check_case(subject).warnings) {
    const auto end = line.find(": assumed: ");
    if (end != std::string::npos)
      keys.push_back(line.substr(line.rfind(' ', end - 1) + 1, end - line.rfind(' ', end - 1) - 1));
  }
  return keys;
}

using Keys = std::vector<std::string>;

// Property: for a complete case nothing is assumed, and the given values are kept.
TEST(Assumed, NothingOfAWholeCase) {
  const Case c = heater_of(whole_coil, whole_tank, whole_drive);
  EXPECT_EQ(told(c), Keys{});
  EXPECT_DOUBLE_EQ(*c.coil.conductor.wall(), 0.8e-3);
  EXPECT_DOUBLE_EQ(*c.tank->dissipation_factor, 8e-4);
  EXPECT_DOUBLE_EQ(std::get<PushPullDrive>(c.drive).choke.inductance, 150e-6);
}

// Property: every part that is left out is assumed and reported once; no rating is assumed, so such
// parts are not judged.
TEST(Assumed, EveryPartLeftOut) {
  const Case c = heater_of("pitch = \"7.5 mm\"\nconductor = { tube = \"6 mm\" }", "", "");
  EXPECT_TRUE(check_case(c).errors.empty());
  EXPECT_EQ(told(c), (Keys{"coil.conductor.wall", "tank.dissipation_factor", "drive.kind",
                           "drive.choke", "drive.switch"}));
  EXPECT_DOUBLE_EQ(*c.coil.conductor.wall(), 1e-3);
  EXPECT_DOUBLE_EQ(*c.tank->dissipation_factor, 1e-3);
  const auto& pair = std::get<PushPullDrive>(c.drive);
  EXPECT_EQ(pair.choke.count, 2);
  EXPECT_DOUBLE_EQ(pair.choke.resistance, pair.choke.inductance / 8e-3);
  EXPECT_DOUBLE_EQ(pair.transistor.resistance, 20e-3);  // of 150 V, four times the supply
  EXPECT_FALSE(pair.choke.saturation);
  EXPECT_FALSE(pair.transistor.voltage_limit);
  EXPECT_FALSE(pair.supply_limit);
  EXPECT_FALSE(c.tank->can_limits);
}

// Property: the chokes assumed are sold ones of ten times the coil and more, whatever the coil, so
// that the drive's model holds: check never calls them too small.
TEST(Assumed, ChokesSuitTheCoil) {
  for (const int turns : {1, 8, 30, 120}) {
    const std::string text = fmt::format(
        "[coil]\nturns = {}\nbore = \"90 mm\"\npitch = \"7.5 mm\"\nconductor = {{ wire = \"3 mm\" "
        "}}\n[tank]\ncapacitance = \"2 uF\"\n[drive]\nsupply = \"36 V\"\n",
        turns);
    const Case c = read_case_text(text, "shop.toml");
    const double henry = std::get<PushPullDrive>(c.drive).choke.inductance;
    EXPECT_GE(henry, 47e-6) << turns;
    EXPECT_GE(henry, 10 * rough_inductance(c.coil)) << turns;
    EXPECT_LE(henry, std::max(47e-6, 40 * rough_inductance(c.coil))) << turns;
    for (const std::string& line : check_case(c).warnings)
      EXPECT_EQ(line.find("drive.choke.inductance"), std::string::npos) << line;
  }
}

// Property: losses of the capacitors are assumed only if none are given, and the limit of their
// heat says that it depends on this.
TEST(Assumed, FilmOnlyWithoutLosses) {
  const Case esr = heater_of(whole_coil, "esr = \"0.5 mohm\"", whole_drive);
  EXPECT_EQ(told(esr), Keys{});
  EXPECT_FALSE(esr.tank->dissipation_factor);
  const auto judged = check_case(
      heater_of(whole_coil, "cans = 20\ncan_limits = { loss = \"1.5 W\" }", whole_drive));
  ASSERT_EQ(judged.warnings.size(), 1U);
  EXPECT_NE(judged.warnings[0].find("temperature of the cans depends on it"), std::string::npos);
}

// Property: a heat sink and a can described only by their size get the values of usual_parts.hpp,
// each is reported once, and values given beside the size are kept.
TEST(Assumed, SizesStandForDataSheets) {
  const Case c = heater_of(
      whole_coil,
      whole_tank +
          "\ncans = 20\ncan_warming = { size = [\"32 mm\", \"20 mm\", \"37 mm\"], limit = "
          "\"100 degC\" }",
      "kind = \"push-pull\"\nchoke = { inductance = \"150 uH\", resistance = \"14 mohm\" }\n"
      "switch = { resistance = \"10 mohm\", heat_sink = { size = [\"100 mm\", \"60 mm\", "
      "\"40 mm\"], air = \"1 m/s\", case_to_sink = \"0.2 K/W\" } }");
  EXPECT_EQ(told(c), (Keys{"tank.can_warming.size", "drive.switch.heat_sink.size"}));
  const HeatSink& sink = *std::get<PushPullDrive>(c.drive).transistor.heat_sink;
  EXPECT_NEAR(*sink.sink_to_air, 250.0 / 240.0, 1e-12);
  EXPECT_DOUBLE_EQ(sink.junction_to_case, usual_junction_to_case);
  EXPECT_DOUBLE_EQ(sink.case_to_sink, 0.2);
  const BoxedCan box = boxed_can({32e-3, 20e-3, 37e-3});
  EXPECT_DOUBLE_EQ(c.tank->can_warming->to_air, box.to_air);
  EXPECT_DOUBLE_EQ(c.tank->can_warming->heat_capacity, box.heat_capacity);
  EXPECT_DOUBLE_EQ(c.tank->can_warming->limit.in_celsius(), 100.0);
}

// Property: a transistor's resistance follows the voltage it is rated for; one that is written, or
// a drop, is kept.
TEST(Assumed, TransistorsByTheirRating) {
  const auto resistance = [](const std::string& text) {
    const Case c = heater_of(whole_coil, whole_tank, "kind = \"push-pull\"\nswitch = " + text);
    return std::get<PushPullDrive>(c.drive).transistor.resistance;
  };
  EXPECT_DOUBLE_EQ(resistance("{ voltage_limit = \"200 V\" }"), 40e-3);
  EXPECT_DOUBLE_EQ(resistance("{ voltage_limit = \"1700 V\" }"), 0.0);
  EXPECT_DOUBLE_EQ(resistance("{ voltage_limit = \"200 V\", resistance = \"7 mohm\" }"), 7e-3);
  EXPECT_DOUBLE_EQ(resistance("{ voltage_limit = \"200 V\", drop = \"1 V\" }"), 0.0);
}

// Property: for a drive of fixed frequency beside a tank that it does not use, no losses are
// reported as assumed.
TEST(Assumed, NothingThatIsNotUsed) {
  const Case c = read_case_text(
      "[coil]\nturns = 8\nbore = \"32 mm\"\n" + whole_coil +
          "\n[drive]\nkind = \"current\"\nfrequency = \"100 kHz\"\nrms = \"100 A\"\n",
      "shop.toml");
  EXPECT_EQ(told(c), Keys{});
}

// Property: for a case with errors only the errors are reported; in a case made by code nothing is
// assumed.
TEST(Assumed, IsToldOfWhatIsRead) {
  Case c = heater_of("pitch = \"2 mm\"\nconductor = { tube = \"6 mm\" }", "", "");
  EXPECT_FALSE(check_case(c).errors.empty());
  EXPECT_EQ(told(c), Keys{});
  Case made = heater_of("pitch = \"7.5 mm\"\nconductor = { tube = \"6 mm\" }", "", "");
  made.where = {};
  EXPECT_EQ(told(made), Keys{});
}

// Property: every key that is a wire's size takes a gauge and means its diameter.
// Source: AWG 36 is 0.127 mm by definition (ASTM B258), SWG 14 0.080 inch (BS 3737:1964).
TEST(Assumed, GaugesStandForDiameters) {
  const auto conductor = [](const std::string& text) {
    return heater_of("pitch = \"20 mm\"\nconductor = " + text, whole_tank, whole_drive)
        .coil.conductor;
  };
  EXPECT_NEAR(conductor("{ wire = \"AWG 4/0\" }").radial_size(), 11.684e-3, 1e-9);
  EXPECT_NEAR(conductor("{ wire = \"SWG 14\" }").radial_size(), 2.032e-3, 1e-9);
  EXPECT_NEAR(
      conductor("{ strands = 99, strand = \"AWG 36\", bundle = \"3 mm\" }").strands()->strand,
      0.127e-3, 1e-12);
  const Case c = heater_of(
      whole_coil, whole_tank,
      "choke = { inductance = \"150 uH\", core = { outer = \"47 mm\", inner = \"24 mm\", height = "
      "\"18 mm\", permeability = 60, wire = \"SWG 14\" } }\ncable = { length = \"2 m\", section = "
      "\"AWG 36\" }\n[[nearby]]\nname = \"ring\"\nkind = \"ring\"\nmaterial = \"copper-pure\"\nat "
      "= "
      "[\"80 mm\", \"0 mm\"]\ndiameter = \"20 mm\"\nthickness = \"SWG 14\"");
  const auto& pair = std::get<PushPullDrive>(c.drive);
  EXPECT_NEAR(pair.choke.core->wire, 2.032e-3, 1e-9);
  EXPECT_NEAR(*pair.cable->section, std::numbers::pi / 4 * 0.127e-3 * 0.127e-3, 1e-15);
  EXPECT_NEAR(*c.nearby.at(0).thickness, 2.032e-3, 1e-9);
}

}  // namespace
}  // namespace cw::cases
