#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "cases/commands/command.hpp"
#include "cases/commands/output.hpp"
#include "cases/commands/progress.hpp"
#include "cases/compare/compare_text.hpp"
#include "cases/compare/read_readings.hpp"
#include "cases/read/read_case.hpp"
#include "cases/read/reading.hpp"

namespace cw::cases {

namespace {

struct CompareArguments : CaseArgument {
  std::string readings;
};

/// The case at the voltage at which the readings were taken.
Case as_measured(Case subject, const Measured& measured) {
  require_supply(subject, "readings can be compared only with a");
  if (measured.supply) supply_of(subject.drive)->supply = *measured.supply;
  return subject;
}

int compare(const CompareArguments& arguments) {
  const Measured measured = read_readings(arguments.readings);
  const Case subject = as_measured(read_and_check(arguments), measured);
  const FaultLibrary library(subject, progress_on_terminal());
  say(compare_text(subject, measured, library.expected(), library.compare(measured)) +
      care_lines());
  return solved;
}

}  // namespace

void add_compare(CLI::App& app, Work& work) {
  auto* command = app.add_subcommand(
      "compare", "compare meter readings with the calculation and name the likely fault");
  command->group("At the bench");
  add_examples(*command, {"coilwright compare heater.toml readings.toml"});
  const auto arguments = std::make_shared<CompareArguments>();
  add_case(*command, *arguments);
  command->add_option("readings", arguments->readings, "file of readings (TOML)")->required();
  command->callback([arguments, &work] { work = [arguments] { return compare(*arguments); }; });
}

}  // namespace cw::cases
