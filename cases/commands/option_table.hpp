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
  int values = 1;         ///< how many follow; 0: a flag
};

/// A subcommand.
struct CommandEntry {
  std::string name, about;
  std::vector<OptionEntry> options;
};

/// The whole command line.
struct CommandTable {
  std::string program, version, about;
  std::vector<CommandEntry> commands;
};

/// The manual page (section 1, roff) and the completion for bash, both made of the table alone.
std::string manual_page(const CommandTable& table);
std::string bash_completion(const CommandTable& table);

}  // namespace cw::cases
