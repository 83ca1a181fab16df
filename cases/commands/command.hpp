#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "cases/case.hpp"
#include "cases/commands/option_table.hpp"
#include "cases/read/read_case.hpp"
#include "cases/sweep/design.hpp"
#include "solver/run/solve_states.hpp"

namespace CLI {
class App;
class Option;
class ParseError;
}  // namespace CLI

namespace cw::cases {

/// Exit codes of the program.
enum Exit { solved = 0, input_wrong = 2, not_solved = 3, out_of_means = 4, stopped_by_user = 130 };

/// The work to do once the command line is read; returns the exit code.
using Work = std::function<int()>;

// One function for each subcommand, in a file of its own. It adds the subcommand to the command
// line and, when it is the one called, sets `work`.

void add_run(CLI::App& app, Work& work);
void add_live(CLI::App& app, Work& work);
void add_metals(CLI::App& app, Work& work);
void add_design(CLI::App& app, Work& work);
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

/// A case named on the command line.
struct CaseArgument {
  std::string file;              ///< "-": standard input
  std::vector<std::string> set;  ///< KEY=VALUE, replaces the file's value

  /// The values of `set`. Throws CaseError that lists every one without a key or a value.
  [[nodiscard]] std::vector<Change> changes() const;
};

/// Arguments of most commands.
struct CommonArguments : CaseArgument {
  std::string directory, accuracy = "normal";

  /// `directory`, or by default the case's name with this ending in the current folder.
  [[nodiscard]] std::string directory_or(const std::string& ending) const;
  [[nodiscard]] Effort effort() const;
};

/// A case that may be solved, and the doubts about it.
struct CheckedCase {
  Case subject;
  std::vector<std::string> warnings;
};

/// Reads and checks. Throws CaseError with all mistakes.
CheckedCase checked_case(const CaseArgument& argument);
/// The same, with warnings on standard error.
Case read_and_check(const CaseArgument& argument);
/// The same for a file that has been read.
Case check_text(const CaseText& text);

void add_case(CLI::App& command, CaseArgument& argument);
/// The option --set alone, explained in these words.
void add_set(CLI::App& command, CaseArgument& argument, const std::string& about);
void add_accuracy(CLI::App& command, std::string& accuracy);
/// Lets an option accept only these words; for another word the message names the nearest.
void allow(CLI::Option& option, const std::vector<std::string>& words);
/// Adds examples of use: one command line each.
void add_examples(CLI::App& command, const std::vector<std::string>& lines);
/// The lines given to add_examples().
std::vector<std::string> examples_of(const CLI::App& command);

/// The whole command line as a table; commands without a group are left out.
CommandTable command_table(const CLI::App& app);
/// A subcommand as a row of that table.
CommandEntry command_entry(const CLI::App& command);
/// Answers a command line that cannot be run: says what is wrong, with the nearest name of an
/// unknown command or option, or prints what was requested (help, version). Returns the exit code.
int answer(CLI::App& app, const CLI::ParseError& error);

/// Printed below every answer that is not the result of a run: the rule on voltage and the line on
/// local rules, at most 80 columns.
std::string care_lines();

}  // namespace cw::cases
