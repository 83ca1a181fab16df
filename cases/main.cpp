#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cstdio>
#include <iostream>
#include <new>

#include "cases/check_case.hpp"
#include "cases/list_materials.hpp"
#include "cases/metals.hpp"
#include "cases/read_case.hpp"
#include "cases/run_case.hpp"
#include "cases/starter.hpp"
#include "cases/supply_choice.hpp"
#include "materials/library.hpp"
#include "mesh/generate.hpp"
#include "postproc/metals_table.hpp"
#include "postproc/summary.hpp"
#include "postproc/supply_table.hpp"
#include "postproc/write_error.hpp"
#include "postproc/write_result.hpp"

namespace {

enum Exit { solved = 0, input_wrong = 2, not_solved = 3, out_of_means = 4 };

struct RunArguments {
  std::string file, directory, accuracy = "normal";
  bool json = false;
};

/// Reads and checks; warnings go to stderr. Throws CaseError with everything that is wrong.
cw::Case read_and_check(const std::string& file) {
  cw::Case subject = cw::read_case(file);
  const cw::CheckResult found = cw::check_case(subject);
  for (const std::string& line : found.warnings) fmt::print(stderr, "warning: {}\n", line);
  if (!found.errors.empty()) throw cw::CaseError(found.errors);
  return subject;
}

int check(const std::string& file) {
  read_and_check(file);
  fmt::print("{}: nothing wrong found\n", file);
  return solved;
}

cw::cases::Effort effort_of(const std::string& word) {
  return word == "fast"   ? cw::cases::Effort::fast
         : word == "fine" ? cw::cases::Effort::fine
                          : cw::cases::Effort::normal;
}

int run(const RunArguments& arguments) {
  const cw::Case subject = read_and_check(arguments.file);
  const cw::cases::Run run = cw::cases::run_case(subject, effort_of(arguments.accuracy));
  const std::string directory =
      arguments.directory.empty()
          ? std::filesystem::path(arguments.file).stem().string() + "-results"
          : arguments.directory;
  cw::cases::write_run(run, subject, directory);
  if (arguments.json) {
    fmt::print("{}", cw::result_json(run.result));
    return solved;
  }
  fmt::print("{}\n", cw::summary(run.result));
  fmt::print(
      "Report    {0}/report.html\n"
      "Pictures  {0}/pictures/\n"
      "Numbers   {0}/result.json, {0}/tables/\n"
      "Fields    {0}/fields/ (any VTK viewer)\n",
      directory);
  return solved;
}

int metals(const RunArguments& arguments) {
  const cw::Case subject = read_and_check(arguments.file);
  cw::cases::MetalOptions options;
  options.effort = effort_of(arguments.accuracy);
  options.progress = cw::cases::progress_on_terminal();
  const cw::cases::MetalStudy study = cw::cases::compare_metals(subject, options);
  const std::string directory =
      arguments.directory.empty()
          ? std::filesystem::path(arguments.file).stem().string() + "-metals"
          : arguments.directory;
  cw::cases::write_metals(study, directory);
  fmt::print("{}\n", cw::metals_text(study.comparison, study.result));
  fmt::print(
      "Chart     {0}/pictures/metals.svg, .png\n"
      "Numbers   {0}/tables/metals.csv; a reason for each metal: {0}/tables/reasons.csv\n"
      "Fields    {0}/fields/ (any VTK viewer)\n",
      directory);
  return solved;
}

int supply(const RunArguments& arguments) {
  const cw::Case subject = read_and_check(arguments.file);
  constexpr auto effort = cw::cases::Effort::fast;
  const auto choices =
      cw::cases::compare_supplies(subject, effort, cw::cases::progress_on_terminal());
  if (!arguments.directory.empty())
    cw::cases::write_supplies(choices, cw::cases::run_case(subject, effort).result,
                              arguments.directory);
  fmt::print("{}", cw::supply_text(subject.title, choices));
  if (!arguments.directory.empty())
    fmt::print("\nNumbers   {0}/tables/supply.csv\n", arguments.directory);
  return solved;
}

int dispatch(int argc, char** argv) {
  CLI::App app{
      "What will heat, how fast, and which part gives out first: work coils computed before copper "
      "is bent"};
  app.name("coilwright");
  app.set_version_flag("--version", "coilwright " CW_VERSION);
  app.require_subcommand(1);

  RunArguments arguments;
  auto* run_command = app.add_subcommand("run", "solve a case and write its results");
  run_command->add_option("case", arguments.file, "case file (TOML)")->required();
  run_command->add_option("--out", arguments.directory, "result directory (default: CASE-results)");
  run_command->add_option("--accuracy", arguments.accuracy, "fast, normal or fine")
      ->check(CLI::IsMember({"fast", "normal", "fine"}));
  run_command->add_flag("--json", arguments.json,
                        "print the result as JSON instead of the summary");

  RunArguments metal_arguments;
  auto* metals_command = app.add_subcommand(
      "metals", "put every metal of the library in the coil, from 1 kHz to 1 MHz");
  metals_command->add_option("case", metal_arguments.file, "case file (TOML)")->required();
  metals_command->add_option("--out", metal_arguments.directory,
                             "result directory (default: CASE-metals)");
  metals_command->add_option("--accuracy", metal_arguments.accuracy, "fast, normal or fine")
      ->check(CLI::IsMember({"fast", "normal", "fine"}));

  RunArguments supply_arguments;
  auto* supply_command =
      app.add_subcommand("supply", "try 12, 24, 36, 48 and 60 V: demand, power, what gives out");
  supply_command->add_option("case", supply_arguments.file, "case file (TOML)")->required();
  supply_command->add_option("--out", supply_arguments.directory,
                             "directory for the table (default: only printed)");

  std::string file;
  auto* check_command =
      app.add_subcommand("check", "report every mistake in a case with its line; solves nothing");
  check_command->add_option("case", file, "case file (TOML)")->required();

  std::string material;
  auto* materials_command =
      app.add_subcommand("materials", "list the materials, or one with every value and source");
  materials_command->add_option("name", material, "material, or path of a material file");

  std::string kind = "bar";
  auto* new_command = app.add_subcommand("new", "print a commented starter case");
  new_command->add_option("kind", kind, "bar, cup, pancake or empty");

  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? solved : input_wrong;
  }
  if (*run_command) return run(arguments);
  if (*metals_command) return metals(metal_arguments);
  if (*supply_command) return supply(supply_arguments);
  if (*check_command) return check(file);
  if (*materials_command) {
    fmt::print(
        "{}", material.empty() ? cw::cases::material_table() : cw::cases::material_sheet(material));
    return solved;
  }
  fmt::print("{}", cw::cases::starter_case(kind));
  return solved;
}

int complain(int code, const char* what) {
  fmt::print(stderr, "{}\n", what);
  return code;
}

}  // namespace

int main(int argc, char** argv) {
  try {
    return dispatch(argc, argv);
  } catch (const cw::CaseError& error) {
    return complain(input_wrong, error.what());
  } catch (const cw::MaterialError& error) {
    return complain(input_wrong, error.what());
  } catch (const std::invalid_argument& error) {
    return complain(input_wrong, error.what());
  } catch (const cw::WriteError& error) {
    return complain(out_of_means, error.what());
  } catch (const std::bad_alloc&) {
    return complain(out_of_means,
                    "out of memory: try --accuracy fast, a lower frequency or a shorter workpiece");
  } catch (const std::exception& error) {
    return complain(not_solved, error.what());
  }
}
