#include <fmt/format.h>

#include <algorithm>

#include "cases/commands/option_table.hpp"
#include "postproc/text/wrap.hpp"

namespace cw::cases {

namespace {

constexpr std::size_t help_columns = 80;

/// A word and what it means beside it, indented by two; the meaning is wrapped at 80 columns. A
/// word wider than `width` has a line of its own.
std::string help_row(const std::string& word, std::size_t width, const std::string& meaning) {
  const std::string indent(width + 4, ' ');
  const std::string lines = wrapped(meaning, {help_columns, indent.size(), indent.size()});
  if (word.size() > width) return fmt::format("  {}\n{}", word, lines);
  return fmt::format("  {:<{}}  {}", word, width, lines.substr(indent.size()));
}

std::string first_steps(const std::string& program) {
  constexpr std::size_t width = 30;
  return help_row(program + " new > bar.toml", width, "a commented case to start from") +
         help_row(program + " check bar.toml", width,
                  "list every mistake in it, without solving it") +
         help_row(program + " run bar.toml", width,
                  "print the answer; drawings and tables: bar-results/report.html");
}

/// Groups in the order in which their first command was added.
std::vector<std::string> groups_of(const CommandTable& table) {
  std::vector<std::string> groups;
  for (const CommandEntry& command : table.commands)
    if (std::ranges::find(groups, command.group) == groups.end()) groups.push_back(command.group);
  return groups;
}

std::string commands_by_task(const CommandTable& table) {
  std::size_t width = 0;
  for (const CommandEntry& command : table.commands) width = std::max(width, command.name.size());
  std::string text;
  for (const std::string& group : groups_of(table)) {
    text += fmt::format("\n{}\n", group);
    for (const CommandEntry& command : table.commands)
      if (command.group == group) text += help_row(command.name, width, command.about);
  }
  return text;
}

/// The last example of each command; the first is too simple to need one.
std::string examples(const CommandTable& table) {
  std::string text = "\nExamples\n";
  for (const CommandEntry& command : table.commands)
    if (command.examples.size() > 1) text += fmt::format("  {}\n", command.examples.back());
  return text;
}

/// "CASE" or "--out VALUE".
std::string typed(const OptionEntry& option) {
  std::string text = option.name;
  if (option.place)
    text = upper(text);
  else
    for (int k = 0; k < option.values; ++k) text += " VALUE";
  return text;
}

/// Places in the order in which they are typed, then the options that must be given, then the
/// others.
std::string usage_line(const std::string& program, const CommandEntry& command) {
  std::string places, required;
  bool optional = false;
  for (const OptionEntry& option : command.options) {
    if (option.place)
      places += option.required ? " " + typed(option) : fmt::format(" [{}]", typed(option));
    else if (option.required)
      required += fmt::format(" {}", typed(option));
    else
      optional = true;
  }
  return wrapped(fmt::format("{} {}{}{}{}", program, command.name, places, required,
                             optional ? " [OPTIONS]" : ""),
                 {help_columns, 0, 4});
}

std::string rows_of(const CommandEntry& command, bool places) {
  constexpr std::size_t widest = 18;
  std::size_t width = 0;
  for (const OptionEntry& option : command.options)
    if (typed(option).size() <= widest) width = std::max(width, typed(option).size());
  std::string rows;
  for (const OptionEntry& option : command.options)
    if (option.place == places) rows += help_row(typed(option), width, option.about);
  return rows;
}

}  // namespace

std::string welcome(const CommandTable& table) {
  return wrapped(fmt::format("{} {}. {}.", table.program, table.version, table.about),
                 {help_columns, 0, 0}) +
         "\nFirst steps\n" + first_steps(table.program) + commands_by_task(table) +
         examples(table) + "\n" +
         wrapped(fmt::format(
                     "`{0} COMMAND --help` explains a command, `{0} --version` prints the version.",
                     table.program),
                 {help_columns, 0, 0});
}

std::string command_help(const std::string& program, const CommandEntry& command) {
  std::string text = usage_line(program, command);
  text += wrapped(fmt::format("{}.", capitalised(command.about)), {help_columns, 0, 0});
  if (const std::string places = rows_of(command, true); !places.empty()) text += "\n" + places;
  if (const std::string options = rows_of(command, false); !options.empty())
    text += "\nOptions\n" + options;
  if (!command.examples.empty()) text += "\nExamples\n";
  for (const std::string& line : command.examples) text += fmt::format("  {}\n", line);
  return text;
}

std::string upper(std::string text) {
  for (char& c : text)
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  return text;
}

}  // namespace cw::cases
