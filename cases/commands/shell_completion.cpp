#include <fmt/format.h>
#include <fmt/ranges.h>

#include <string_view>

#include "cases/commands/option_table.hpp"

namespace cw::cases {

namespace {

/// Text in single quotes for a shell: a quote inside closes them, is escaped, and opens them again.
std::string quoted(const std::string& text) {
  std::string out = "'";
  for (const char c : text) out += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return out + "'";
}

/// The same for fish, where a backslash escapes a quote inside quotes (fish manual, "Quotes").
std::string fish_quoted(const std::string& text) {
  std::string out = "'";
  for (const char c : text)
    out += (c == '\'' || c == '\\') ? fmt::format("\\{}", c) : std::string(1, c);
  return out + "'";
}

/// Text with a backslash before each of these characters.
std::string with_escaped(const std::string& text, std::string_view signs) {
  std::string out;
  for (const char c : text) {
    if (c == '\\' || signs.find(c) != std::string_view::npos) out += '\\';
    out += c;
  }
  return out;
}

bool names_folder(const OptionEntry& option) {
  return option.name == "--out" || option.name == "dir";
}

/// What may follow: words, folders, files.
std::string zsh_values(const OptionEntry& option) {
  if (!option.choices.empty()) return fmt::format("({})", fmt::join(option.choices, " "));
  return names_folder(option) ? "_files -/" : option.place ? "_files" : " ";
}

/// "--out[directory]:value:_files -/" and "1:case:_files".
std::string zsh_entry(const OptionEntry& option) {
  if (option.place) return fmt::format(":{}:{}", option.name, zsh_values(option));
  std::string text = fmt::format("{}[{}]", option.name, with_escaped(option.about, "[]:"));
  for (int k = 0; k < option.values; ++k) text += fmt::format(":value:{}", zsh_values(option));
  return option.repeats ? "*" + text : text;
}

std::string fish_entry(const std::string& program, const CommandEntry& command,
                       const OptionEntry& option) {
  const std::string here =
      fmt::format("complete -c {} -n '__fish_seen_subcommand_from {}'", program, command.name);
  if (option.place) {
    if (!option.choices.empty())
      return fmt::format("{} -f -a {}\n", here,
                         fish_quoted(fmt::format("{}", fmt::join(option.choices, " "))));
    return fmt::format("{} -F\n", here);
  }
  std::string text =
      fmt::format("{} -l {} -d {}", here, option.name.substr(2), fish_quoted(option.about));
  if (option.values == 0) return text + "\n";
  if (!option.choices.empty())
    return fmt::format("{} -x -a {}\n", text,
                       fish_quoted(fmt::format("{}", fmt::join(option.choices, " "))));
  return text + (names_folder(option) ? " -x -a '(__fish_complete_directories)'\n" : " -x\n");
}

}  // namespace

std::string zsh_completion(const CommandTable& table) {
  std::string commands, cases;
  for (const CommandEntry& command : table.commands) {
    commands += fmt::format(
        "    {}\n", quoted(fmt::format("{}:{}", command.name, with_escaped(command.about, ":"))));
    cases += fmt::format("    {}) _arguments", command.name);
    for (const OptionEntry& option : command.options)
      cases += fmt::format(" \\\n      {}", quoted(zsh_entry(option)));
    cases += " \\\n      '--help[its arguments and options]' ;;\n";
  }
  return fmt::format(R"zsh(#compdef {0}
# Completion of {0} for zsh; made from the option table of the program, not to be edited.
_{0}() {{
  local -a commands
  commands=(
{1}  )
  if (( CURRENT == 2 )); then
    _describe -t commands command commands
    return
  fi
  shift words
  (( CURRENT-- ))
  case $words[1] in
{2}  esac
}}
_{0} "$@"
)zsh",
                     table.program, commands, cases);
}

std::string fish_completion(const CommandTable& table) {
  std::string text = fmt::format(
      "# Completion of {0} for fish; made from the option table of the program, not to be edited.\n"
      "complete -c {0} -n __fish_use_subcommand -f -l help -d 'all commands by task'\n"
      "complete -c {0} -n __fish_use_subcommand -f -l version -d 'its version'\n",
      table.program);
  for (const CommandEntry& command : table.commands) {
    text += fmt::format("complete -c {} -n __fish_use_subcommand -f -a {} -d {}\n", table.program,
                        command.name, fish_quoted(command.about));
    for (const OptionEntry& option : command.options)
      text += fish_entry(table.program, command, option);
    text += fmt::format(
        "complete -c {} -n '__fish_seen_subcommand_from {}' -l help -d 'its arguments and "
        "options'\n",
        table.program, command.name);
  }
  return text;
}

}  // namespace cw::cases
