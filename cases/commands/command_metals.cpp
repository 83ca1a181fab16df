#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "cases/commands/command.hpp"
#include "cases/commands/output.hpp"
#include "cases/commands/progress.hpp"
#include "cases/compare/metals.hpp"
#include "postproc/result/result_directory.hpp"
#include "postproc/text/metals_table.hpp"

namespace cw::cases {

namespace {

int metals(const CommonArguments& arguments) {
  const Case subject = read_and_check(arguments);
  const std::string directory = arguments.directory_or("-metals");
  require_result_directory(directory);
  MetalOptions options;
  options.effort = arguments.effort();
  options.progress = progress_on_terminal();
  const MetalStudy study = compare_metals(subject, options);
  write_metals(study, directory);
  say(fmt::format("{}\n", metals_text(study.comparison, study.result)));
  say(
      fmt::format("Report    {0}/report.html\n"
                  "Chart     {0}/pictures/metals.svg, .png\n"
                  "Numbers   {0}/tables/metals.csv\n"
                  "Reasons   {0}/tables/reasons.csv, one for each metal\n"
                  "Fields    {0}/fields/ (any VTK viewer)\n",
                  directory));
  return solved;
}

}  // namespace

void add_metals(CLI::App& app, Work& work) {
  auto* command = app.add_subcommand(
      "metals", "put every metal of the library in the coil, from 1 kHz to 1 MHz");
  command->group("Solve it");
  add_examples(*command, {"coilwright metals bar.toml"});
  const auto arguments = std::make_shared<CommonArguments>();
  add_case(*command, *arguments);
  command->add_option("--out", arguments->directory, "result directory (default: CASE-metals)");
  add_accuracy(*command, arguments->accuracy);
  command->callback([arguments, &work] { work = [arguments] { return metals(*arguments); }; });
}

}  // namespace cw::cases
