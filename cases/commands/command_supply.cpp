#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "cases/commands/command.hpp"
#include "cases/commands/output.hpp"
#include "cases/commands/progress.hpp"
#include "cases/compare/supply_choice.hpp"
#include "postproc/result/result_directory.hpp"
#include "postproc/text/supply_table.hpp"

namespace cw::cases {

namespace {

int supply(const CommonArguments& arguments) {
  const Case subject = read_and_check(arguments);
  if (!arguments.directory.empty()) require_result_directory(arguments.directory);
  constexpr auto effort = Effort::fast;
  const auto choices = compare_supplies(subject, effort, progress_on_terminal());
  if (!arguments.directory.empty())
    write_supplies(choices, run_case(subject, effort).result, arguments.directory);
  say(supply_text(subject.title, choices) + care_lines());
  if (!arguments.directory.empty())
    say(fmt::format("\nNumbers   {0}/tables/supply.csv\n", arguments.directory));
  return solved;
}

}  // namespace

void add_supply(CLI::App& app, Work& work) {
  auto* command = app.add_subcommand(
      "supply", "try 12, 24, 36, 48 and 60 V: current, power, first limit reached");
  command->group("Choose a design");
  add_examples(*command,
               {"coilwright supply heater.toml", "coilwright supply heater.toml --out supply"});
  const auto arguments = std::make_shared<CommonArguments>();
  add_case(*command, *arguments);
  command->add_option("--out", arguments->directory,
                      "directory for the table (default: only printed)");
  command->callback([arguments, &work] { work = [arguments] { return supply(*arguments); }; });
}

}  // namespace cw::cases
