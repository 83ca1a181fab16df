#include <fmt/format.h>

#include <unistd.h>

#include <CLI/CLI.hpp>
#include <csignal>
#include <cstdio>
#include <memory>

#include "cases/check/check_case.hpp"
#include "cases/commands/command.hpp"
#include "cases/commands/output.hpp"
#include "cases/compare/first_power.hpp"
#include "cases/run/checkpoint.hpp"
#include "cases/run/run_case.hpp"
#include "postproc/result/result_directory.hpp"
#include "postproc/result/write_result.hpp"
#include "postproc/text/summary.hpp"

namespace cw::cases {

namespace {

struct RunArguments : CommonArguments {
  bool json = false, resume = false;
};

std::function<void(const HeatingMoment&)> heating_progress() {
  if (::isatty(STDERR_FILENO) == 0) return nullptr;
  return [](const HeatingMoment& m) {
    draw(fmt::format("\rheating: {:.1f} s, surface {:.0f} degC \033[K\r", m.time,
                     m.surface - zero_celsius));
  };
}

std::function<void(int, int)> remedy_progress() {
  if (::isatty(STDERR_FILENO) == 0) return nullptr;
  return [](int tried, int most) {
    draw(fmt::format("\rtrying what would help: {} of {} at most \033[K\r", tried + 1, most));
  };
}

int run(const RunArguments& arguments) {
  const Case subject = read_and_check(arguments.file);
  const std::string directory = arguments.directory_or("-results");
  require_result_directory(directory);
  RunOptions options;
  options.effort = arguments.effort();
  options.checkpoint = checkpoint_of(directory);
  options.resume = arguments.resume;
  options.further = options.advise = true;
  options.stoppable = true;
  options.progress = heating_progress();
  options.trying = remedy_progress();
  Run run = run_case(subject, options);
  if (!run.interrupted) run.result.commissioning = commissioning_of(subject);
  // What the check warns of bears on the figures: it stands beside them too.
  for (const std::string& line : check_case(subject).warnings) run.result.warnings.push_back(line);
  write_run(run, subject, directory);
  std::error_code ignored;
  if (run.heating && !run.interrupted) std::filesystem::remove(options.checkpoint, ignored);
  const int code = run.interrupted ? stopped_by_user : solved;
  if (arguments.json) {
    hand_over(result_json(run.result));
    return code;
  }
  say(fmt::format("{}\n", summary(run.result)));
  if (std::filesystem::exists(std::filesystem::path(directory) / remedy_file))
    say(fmt::format("Remedy    {}/{} (the best of what would help, ready to run)\n", directory,
                    remedy_file));
  say(
      fmt::format("Report    {0}/report.html\n"
                  "Pictures  {0}/pictures/\n"
                  "Numbers   {0}/result.json, {0}/tables/\n"
                  "Fields    {0}/fields/ (any VTK viewer)\n",
                  directory));
  return code;
}

}  // namespace

void add_run(CLI::App& app, Work& work) {
  auto* command = app.add_subcommand("run", "solve a case and write its results");
  const auto arguments = std::make_shared<RunArguments>();
  add_case(*command, arguments->file);
  command->add_option("--out", arguments->directory, "result directory (default: CASE-results)");
  add_accuracy(*command, arguments->accuracy);
  command->add_flag("--resume", arguments->resume, "go on with a heating run that was stopped");
  command->add_flag("--json", arguments->json, "print the result as JSON instead of the summary");
  command->callback([arguments, &work] { work = [arguments] { return run(*arguments); }; });
}

}  // namespace cw::cases
