#include <fmt/format.h>

#include <unistd.h>

#include <CLI/CLI.hpp>
#include <filesystem>
#include <functional>
#include <future>
#include <memory>

#include "cases/commands/command.hpp"
#include "cases/commands/output.hpp"
#include "cases/compare/first_power.hpp"
#include "cases/run/checkpoint.hpp"
#include "cases/run/run_case.hpp"
#include "postproc/result/result_directory.hpp"
#include "postproc/result/write_result.hpp"
#include "postproc/text/brief.hpp"
#include "postproc/text/summary.hpp"

namespace cw::cases {

namespace {

struct RunArguments : CommonArguments {
  bool json = false, resume = false, full = false, quiet = false;
};

std::function<void(const HeatingMoment&)> heating_progress(bool quiet) {
  if (quiet || ::isatty(STDERR_FILENO) == 0) return nullptr;
  return [](const HeatingMoment& m) {
    draw(fmt::format("\rheating: {:.1f} s, surface {:.0f} degC \033[K\r", m.time,
                     m.surface - zero_celsius));
  };
}

std::function<void(int, int)> remedy_progress(bool quiet) {
  if (quiet || ::isatty(STDERR_FILENO) == 0) return nullptr;
  return [](int tried, int most) {
    draw(fmt::format("\rtrying remedies: {} of at most {} \033[K\r", tried + 1, most));
  };
}

RunOptions run_options_of(const RunArguments& arguments, const std::string& directory) {
  RunOptions options;
  options.effort = arguments.effort();
  options.checkpoint = checkpoint_of(directory);
  options.resume = arguments.resume;
  options.further = options.advise = true;
  options.stoppable = true;
  options.progress = heating_progress(arguments.quiet);
  options.trying = remedy_progress(arguments.quiet);
  return options;
}

/// Warnings of the check go into the result; without a result, to standard error.
Run solved_run(const CheckedCase& checked, const RunOptions& options) {
  try {
    // The expected readings depend only on the case: they are computed in parallel with the run, or
    // after it if no thread can be started.
    auto expected = std::async(std::launch::async | std::launch::deferred, commissioning_of,
                               std::cref(checked.subject));
    Run run = run_case(checked.subject, options);
    if (!run.interrupted) run.result.commissioning = expected.get();
    for (const std::string& line : checked.warnings) run.result.warnings.push_back(line);
    return run;
  } catch (const std::exception&) {
    for (const std::string& line : checked.warnings) tell(fmt::format("warning: {}\n", line));
    throw;
  }
}

bool holds_remedy(const std::string& directory) {
  return std::filesystem::exists(std::filesystem::path(directory) / remedy_file);
}

/// A short summary: at most thirty lines, including the files.
void print_brief(const Result& result, const std::string& directory) {
  constexpr std::size_t lines = 30, of_files = 3;
  const BriefSummary text =
      brief(result, holds_remedy(directory) ? remedy_file : "", lines - of_files);
  say(text.title);
  say(text.verdict, text.tone);
  say(text.rest);
  say(
      fmt::format("\nReport    {0}/report.html\n"
                  "Files     {0}/   (--full prints every figure)\n",
                  directory));
}

void print_full(const Result& result, const std::string& directory) {
  say(fmt::format("{}\n", summary(result)));
  if (holds_remedy(directory))
    say(fmt::format("Remedy    {}/{} (the case with the best remedy, ready to run)\n", directory,
                    remedy_file));
  say(
      fmt::format("Report    {0}/report.html\n"
                  "Pictures  {0}/pictures/\n"
                  "Numbers   {0}/result.json, {0}/tables/\n"
                  "Fields    {0}/fields/ (any VTK viewer)\n",
                  directory));
  if (std::filesystem::exists(std::filesystem::path(directory) / "making"))
    say(fmt::format(
        "Making    {}/making/ (former for winding the coil; netlist for a circuit simulator)\n",
        directory));
}

void print_result(const Result& result, const RunArguments& arguments,
                  const std::string& directory) {
  if (arguments.json)
    hand_over(result_json(result));
  else if (arguments.quiet)
    say(fmt::format("{}\n", brief_verdict(result)));
  else if (arguments.full)
    print_full(result, directory);
  else
    print_brief(result, directory);
}

int run(const RunArguments& arguments) {
  const CheckedCase checked = checked_case(arguments);
  const std::string directory = arguments.directory_or("-results");
  require_result_directory(directory);
  const RunOptions options = run_options_of(arguments, directory);
  const Run run = solved_run(checked, options);
  write_run(run, checked.subject, directory);
  std::error_code ignored;
  if (run.heating && !run.interrupted) std::filesystem::remove(options.checkpoint, ignored);
  print_result(run.result, arguments, directory);
  return run.interrupted ? stopped_by_user : solved;
}

}  // namespace

void add_run(CLI::App& app, Work& work) {
  auto* command = app.add_subcommand("run", "solve a case and write its results");
  command->group("Solve it");
  add_examples(*command, {"coilwright run bar.toml", "coilwright run bar.toml --set coil.turns=9",
                          "coilwright run bar.toml --accuracy fine --full"});
  const auto arguments = std::make_shared<RunArguments>();
  add_case(*command, *arguments);
  command->add_option("--out", arguments->directory, "result directory (default: CASE-results)");
  add_accuracy(*command, arguments->accuracy);
  command->add_flag("--resume", arguments->resume, "resume a heating run that was stopped");
  auto* json = command->add_flag("--json", arguments->json,
                                 "print the result as JSON instead of the summary");
  auto* full = command->add_flag("--full", arguments->full, "print every figure");
  auto* quiet = command->add_flag("--quiet", arguments->quiet, "print only the verdict");
  full->excludes(json, quiet);
  quiet->excludes(json);
  command->callback([arguments, &work] { work = [arguments] { return run(*arguments); }; });
}

}  // namespace cw::cases
