#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "cases/commands/option_table.hpp"

namespace cw::cases {

namespace {

std::string space_separated(const std::vector<std::string>& list) {
  return fmt::format("{}", fmt::join(list, " "));
}

/// Completions after `--option` and for positional arguments: one `case` branch of the shell each.
std::string values_of(const CommandEntry& command) {
  std::string text;
  for (const OptionEntry& option : command.options) {
    if (option.place || option.values == 0) continue;
    const std::string pattern = fmt::format("\"{} {}\"", command.name, option.name);
    if (!option.choices.empty())
      text += fmt::format("    {}) words='{}' ;;\n", pattern, space_separated(option.choices));
    else if (option.name == "--out")
      text += fmt::format("    {}) COMPREPLY=($(compgen -d -- \"$cur\")); return ;;\n", pattern);
    else
      text += fmt::format("    {}) return ;;\n", pattern);
  }
  return text;
}

std::string places_of(const CommandEntry& command) {
  std::vector<std::string> options, choices;
  for (const OptionEntry& option : command.options) {
    if (!option.place) options.push_back(option.name);
    if (option.place) choices.insert(choices.end(), option.choices.begin(), option.choices.end());
  }
  options.emplace_back("--help");
  return fmt::format("      {}) options='{}' words='{}' ;;\n", command.name,
                     space_separated(options), space_separated(choices));
}

}  // namespace

std::string bash_completion(const CommandTable& table) {
  std::vector<std::string> names;
  std::string values, places;
  for (const CommandEntry& command : table.commands) {
    names.push_back(command.name);
    values += values_of(command);
    places += places_of(command);
  }
  return fmt::format(
      R"bash(# Completion of {0} for bash; made from the option table of the program, not to be edited.
_{0}() {{
  local cur=${{COMP_WORDS[COMP_CWORD]}} prev=${{COMP_WORDS[COMP_CWORD-1]}} command=${{COMP_WORDS[1]}} words='' options=''
  COMPREPLY=()
  if [ "$COMP_CWORD" -eq 1 ]; then
    COMPREPLY=($(compgen -W '{1} --help --version' -- "$cur"))
    return
  fi
  case "$command $prev" in
{2}    *)
      case "$command" in
{3}      esac
      case "$cur" in
        -*) words=$options ;;
      esac ;;
  esac
  # Nothing to offer: file names.
  COMPREPLY=($(compgen -W "$words" -- "$cur"))
}}
complete -o bashdefault -o default -F _{0} {0}
)bash",
      table.program, space_separated(names), values, places);
}

}  // namespace cw::cases
