#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>
#include <stdexcept>

#include "cases/commands/command.hpp"
#include "cases/commands/output.hpp"
#include "materials/units.hpp"
#include "solver/circuit/round_stand_in.hpp"

namespace cw::cases {

namespace {

struct RoundArguments {
  std::string section, across, thickness, skin_depth;
};

double length(const char* what, const std::string& text) {
  const Parsed parsed = parse_quantity(text, Dimension::length);
  if (!parsed.value) throw std::invalid_argument(fmt::format("{}: {}", what, parsed.complaint));
  if (*parsed.value <= 0)
    throw std::invalid_argument(fmt::format("{}: found {}; allowed: above zero", what, text));
  return *parsed.value;
}

int stand_in(const RoundArguments& a) {
  const BarSection section = a.section == "square" ? BarSection::square
                             : a.section == "flat" ? BarSection::flat
                                                   : BarSection::hexagon;
  if (section == BarSection::flat && a.thickness.empty())
    throw std::invalid_argument("--thickness: found none; a flat bar needs one: \"5 mm\"");
  const double across = length("across", a.across);
  const double thickness = a.thickness.empty() ? across : length("--thickness", a.thickness);
  const RoundStandIn r =
      round_stand_in(section, across, thickness, length("--skin-depth", a.skin_depth));
  say(fmt::format(
      "Equivalent round bar\n  diameter   {:.2f} mm   same perimeter, so the same heated surface\n"
      "  density    {:.3f} of the metal's, in a material file of your own: same mass\n"
      "  power      {:+.1f} % off in a long coil, constant permeability\n"
      "An estimate, not a solution: corners heat first, and the gap to the coil varies\n"
      "round the bar. Leave a margin, and find the hottest place in a trial.\n",
      1e3 * r.diameter, r.mass_ratio, 100 * r.power_error));
  return solved;
}

}  // namespace

void add_round(CLI::App& app, Work& work) {
  auto* command = app.add_subcommand(
      "round", "find the round bar equivalent to a square, flat or hexagonal one");
  command->group("Write a case");
  add_examples(*command,
               {"coilwright round square \"20 mm\" --skin-depth \"0.3 mm\"",
                "coilwright round flat \"40 mm\" --thickness \"5 mm\" --skin-depth \"0.3 mm\""});
  const auto arguments = std::make_shared<RoundArguments>();
  allow(*command->add_option("section", arguments->section, "square, flat or hexagon")->required(),
        {"square", "flat", "hexagon"});
  command
      ->add_option("across", arguments->across, "side, width, or size across the flats: \"12 mm\"")
      ->required();
  command->add_option("--thickness", arguments->thickness,
                      "thickness of a flat bar; of a blade, the mean: \"5 mm\"");
  command
      ->add_option("--skin-depth", arguments->skin_depth,
                   "skin depth in the metal, from a run of the round bar: \"0.2 mm\"")
      ->required();
  command->callback([arguments, &work] { work = [arguments] { return stand_in(*arguments); }; });
}

}  // namespace cw::cases
