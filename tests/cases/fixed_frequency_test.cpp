// Drives that set the frequency themselves: a current, a voltage, a bridge on coil and bank in
// series.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <string>

#include "cases/check/check_case.hpp"
#include "cases/read/read_case.hpp"
#include "cases/run/run_case.hpp"

namespace cw::cases {
namespace {

/// A steel bar in six turns with this drive; 1.2 uF in twelve cans where it needs them.
Case bar(const std::string& drive, bool tank) {
  const std::string text =
      "[workpiece]\nmaterial = \"steel-medium-carbon\"\ndiameter = \"16 mm\"\n"
      "length = \"60 mm\"\n[coil]\nturns = 6\nbore = \"28 mm\"\npitch = \"8 mm\"\n"
      "conductor = { tube = \"6 mm\", wall = \"1 mm\" }\n"
      "leads = { length = \"100 mm\", spacing = \"15 mm\" }\n[drive]\n" +
      drive +
      (tank ? "[tank]\ncapacitance = \"1.2 uF\"\ncans = 12\n"
              "dissipation_factor = 1e-3\nesl = \"10 nH\"\n"
              "joints = { resistance = \"0.5 mohm\", inductance = \"30 nH\" }\n"
            : "");
  Case subject = read_case_text(text, "bar.toml");
  EXPECT_TRUE(check_case(subject).errors.empty());
  return subject;
}

StateResult solved(const std::string& drive, bool tank) {
  return run_case(bar(drive, tank), Effort::fast).result.states.at(0);
}

/// Of coil and leads [ohm].
std::complex<double> coil_impedance(const StateResult& s) {
  return {s.coil.resistance, s.frequency.omega() * s.coil.inductance};
}

// A bridge at 110 kHz drives a current equal to its voltage over the sum of the impedances: coil,
// joints and bank computed by hand from their values, the coil as in the field at that current. The
// heat of all parts equals the power of the bridge, V I times the share in phase.
TEST(SeriesTank, ObeysTheCircuitsLaw) {
  const StateResult s =
      solved("kind = \"series\"\nfrequency = \"110 kHz\"\nrms = \"20 V\"\n", true);
  const double w = 2.0 * std::numbers::pi * 110e3, bank = 1.0 / (w * 1.2e-6);
  const std::complex<double> whole =
      coil_impedance(s) + std::complex<double>(0.5e-3 + 1e-3 * bank, w * 40e-9 - bank);
  EXPECT_EQ(s.drive.kind, "series");
  EXPECT_NEAR(s.drive.current_rms * std::abs(whole), 20.0, 1e-4);
  EXPECT_NEAR(s.power.total, 20.0 * s.drive.current_rms * std::cos(std::arg(whole)),
              1e-3 * s.power.total);
  EXPECT_NEAR(*s.power.capacitors, std::pow(s.drive.current_rms, 2) * 1e-3 * bank, 1e-9);
  EXPECT_NEAR(s.tank->voltage_rms,
              s.drive.current_rms * std::abs(std::complex<double>(1e-3 * bank, w * 10e-9 - bank)),
              1e-9);
  // The same current from another drive gives the same coil.
  const StateResult held = solved("kind = \"current\"\nfrequency = \"110 kHz\"\nrms = \"" +
                                      std::to_string(s.drive.current_rms) + " A\"\n",
                                  false);
  EXPECT_NEAR(held.coil.resistance, s.coil.resistance, 1e-3 * s.coil.resistance);
}

// A heating run includes the losses of joints and bank: at first their share in the cold state; all
// power of the bridge is accounted for.
TEST(SeriesTank, HeatsAndCountsItsBank) {
  Case subject = bar("kind = \"series\"\nfrequency = \"110 kHz\"\nrms = \"20 V\"\n", true);
  subject.heat.emplace().until = 0.5;
  RunOptions options;
  options.effort = Effort::fast;
  const Result r = run_case(subject, options).result;
  const PowerBalance& cold = r.states.at(0).power;
  const double share = (*cold.joints + *cold.capacitors) / cold.total;
  EXPECT_GT(share, 1e-3);
  // Voltage and current of bank and bridge are reported, since there are no ratings to judge them.
  EXPECT_TRUE(std::ranges::any_of(r.warnings, [](const std::string& warning) {
    return warning.starts_with("bridge and bank are not checked");
  }));
  EXPECT_NEAR(r.heat->spent.at("joints and capacitors") / r.heat->energy, share, 0.05 * share);
  EXPECT_NEAR(r.heat->energy, 0.5 * cold.total, 0.05 * 0.5 * cold.total);
}

// With a voltage across coil and leads, the current is that voltage over their impedance at this
// current.
TEST(FixedVoltageDrive, ObeysTheCircuitsLaw) {
  const StateResult s =
      solved("kind = \"voltage\"\nfrequency = \"30 kHz\"\nrms = \"12 V\"\n", false);
  EXPECT_NEAR(s.drive.current_rms * std::abs(coil_impedance(s)), 12.0, 1e-5);
}

}  // namespace
}  // namespace cw::cases
