#pragma once

#include <string>
#include <vector>

namespace cw::cases {

/// An option or a place of a command, as the command line itself knows it.
struct OptionEntry {
  std::string name;   ///< "--out", or of a place "case"
  std::string about;  ///< what it says of itself
  std::vector<std::string> choices;
  bool place = false;     ///< stands without a name
  bool required = false;  ///< must be given
  bool repeats = false;   ///< may be given several times
  int values = 1;         ///< how many follow; 0: a flag
};

/// A subcommand.
struct CommandEntry {
  std::string name, about;
  std::string group;                  ///< the task it serves
  std::vector<std::string> examples;  ///< as they would be typed
  std::vector<OptionEntry> options;
};

/// The whole command line.
struct CommandTable {
  std::string program, version, about;
  std::vector<CommandEntry> commands;
};

// All of these are made of the table alone.

/// The manual page: section 1, roff.
std::string manual_page(const CommandTable& table);
/// What a shell completes: bash by a function, zsh by _arguments, fish by its list of conditions.
std::string bash_completion(const CommandTable& table);
std::string zsh_completion(const CommandTable& table);
std::string fish_completion(const CommandTable& table);
/// What the program is, three commands to begin with, and all commands by their task: at most 80
/// columns.
std::string welcome(const CommandTable& table);

}  // namespace cw::cases
