#include <fmt/format.h>

#include <algorithm>

#include "cases/commands/option_table.hpp"
#include "postproc/text/wrap.hpp"

namespace cw::cases {

namespace {

constexpr std::size_t help_columns = 80;

std::string beside(const std::string& left, std::size_t width, const std::string& right) {
  const std::string indent(width + 4, ' ');
  const std::string lines = wrapped(right, {help_columns, indent.size(), indent.size()});
  return fmt::format("  {:<{}}  {}", left, width, lines.substr(indent.size()));
}

std::string first_steps(const std::string& program) {
  constexpr std::size_t width = 30;
  return beside(program + " new > bar.toml", width, "a commented case to start from") +
         beside(program + " check bar.toml", width,
                "list every mistake in it, without solving it") +
         beside(program + " run bar.toml", width,
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
      if (command.group == group) text += beside(command.name, width, command.about);
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

}  // namespace cw::cases
