#pragma once

#include <string>
#include <vector>

namespace cw::cases {

/// An option or a positional argument of a command, from the command line itself.
struct OptionEntry {
  std::string name;   ///< "--out", or for a positional argument "case"
  std::string about;  ///< its description
  std::vector<std::string> choices;
  bool place = false;     ///< positional
  bool required = false;  ///< must be given
  bool repeats = false;   ///< may be given several times
  int values = 1;         ///< number of values; 0: a flag
};

/// A subcommand.
struct CommandEntry {
  std::string name, about;
  std::string group;                  ///< its task
  std::vector<std::string> examples;  ///< as they would be typed
  std::vector<OptionEntry> options;
};

/// The whole command line.
struct CommandTable {
  std::string program, version, about;
  std::vector<CommandEntry> commands;
};

// All of these are generated from the table alone.

/// The manual page: section 1, roff.
std::string manual_page(const CommandTable& table);
/// Shell completions: for bash a function, for zsh _arguments, for fish a list of conditions.
std::string bash_completion(const CommandTable& table);
std::string zsh_completion(const CommandTable& table);
std::string fish_completion(const CommandTable& table);
/// What the program is, three commands to begin with, and all commands by task: at most 80 columns.
std::string welcome(const CommandTable& table);
/// How a command is typed, what it does, and each argument and option: at most 80 columns.
std::string command_help(const std::string& program, const CommandEntry& command);

/// In capital letters (ASCII).
std::string upper(std::string text);

}  // namespace cw::cases
