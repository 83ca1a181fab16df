#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "cases/commands/command.hpp"
#include "cases/run/run_case.hpp"
#include "postproc/result/write_result.hpp"
#include "postproc/text/summary.hpp"

namespace cw::cases {

namespace {

struct Arguments : CommonArguments {
  bool json = false;
};

int run(const Arguments& arguments) {
  const Case subject = read_and_check(arguments.file);
  const Run run = run_case(subject, arguments.effort());
  const std::string directory = arguments.directory_or("-results");
  write_run(run, subject, directory);
  if (arguments.json) {
    fmt::print("{}", result_json(run.result));
    return solved;
  }
  fmt::print("{}\n", summary(run.result));
  fmt::print(
      "Report    {0}/report.html\n"
      "Pictures  {0}/pictures/\n"
      "Numbers   {0}/result.json, {0}/tables/\n"
      "Fields    {0}/fields/ (any VTK viewer)\n",
      directory);
  return solved;
}

}  // namespace

void add_run(CLI::App& app, Work& work) {
  auto* command = app.add_subcommand("run", "solve a case and write its results");
  const auto arguments = std::make_shared<Arguments>();
  add_case(*command, arguments->file);
  command->add_option("--out", arguments->directory, "result directory (default: CASE-results)");
  add_accuracy(*command, arguments->accuracy);
  command->add_flag("--json", arguments->json, "print the result as JSON instead of the summary");
  command->callback([arguments, &work] { work = [arguments] { return run(*arguments); }; });
}

}  // namespace cw::cases
