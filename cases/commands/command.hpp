#pragma once

#include <filesystem>
#include <functional>
#include <string>

#include "cases/case.hpp"
#include "solver/run/solve_states.hpp"

namespace CLI {
class App;
}

namespace cw::cases {

/// What the program tells its caller.
enum Exit { solved = 0, input_wrong = 2, not_solved = 3, out_of_means = 4, stopped_by_user = 130 };

/// What is to be done once the command line is read; returns the exit code.
using Work = std::function<int()>;

// One function for each subcommand, in a file of its own: it adds itself to the command line and,
// when it is the one called, sets `work`.

void add_run(CLI::App& app, Work& work);
void add_metals(CLI::App& app, Work& work);
void add_supply(CLI::App& app, Work& work);
void add_sweep(CLI::App& app, Work& work);
void add_compare(CLI::App& app, Work& work);
void add_tolerance(CLI::App& app, Work& work);
void add_round(CLI::App& app, Work& work);
void add_check(CLI::App& app, Work& work);
void add_report(CLI::App& app, Work& work);
void add_materials(CLI::App& app, Work& work);
void add_new(CLI::App& app, Work& work);
void add_manual(CLI::App& app, Work& work);

/// Reads and checks; warnings go to stderr. Throws CaseError with everything that is wrong.
Case read_and_check(const std::filesystem::path& file);
/// The same for a file that has been read.
Case check_text(const std::string& text, const std::filesystem::path& file);

/// What most commands are told.
struct CommonArguments {
  std::string file, directory, accuracy = "normal";

  /// `directory`, or the case's name with that ending in the present folder.
  std::string directory_or(const std::string& ending) const;
  Effort effort() const;
};

void add_case(CLI::App& command, std::string& file);
void add_accuracy(CLI::App& command, std::string& accuracy);

}  // namespace cw::cases
