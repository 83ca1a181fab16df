#include <fmt/format.h>
#include <fmt/ranges.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <sstream>

#include "cases/commands/command.hpp"
#include "cases/commands/output.hpp"
#include "materials/nearest.hpp"

namespace cw::cases {

namespace {

/// "write X" if a known word is near, else the list of known words.
std::string instead(const std::string& found, const std::vector<std::string>& known,
                    const std::string& help) {
  const auto near = nearest(found, known);
  return near ? fmt::format("write {}", *near)
              : fmt::format("{} lists them with their purpose", help);
}

std::vector<std::string> option_names(const CLI::App& command) {
  std::vector<std::string> names;
  for (const CLI::Option* option : command.get_options())
    if (!option->get_positional()) names.push_back(option->get_name());
  return names;
}

std::string unknown_option(const CLI::App& command, const std::string& help, std::string found) {
  found = found.substr(0, found.find('='));
  const std::vector<std::string> known = option_names(command);
  return fmt::format("found the option \"{}\", not known here; allowed: {}; {}", found,
                     fmt::join(known, ", "), instead(found, known, help));
}

std::string unknown_command(const CLI::App& app, const std::string& help,
                            const std::string& found) {
  std::vector<std::string> known;
  for (const CommandEntry& command : command_table(app).commands) known.push_back(command.name);
  return fmt::format("found the command \"{}\", not known here; allowed: {}; {}", found,
                     fmt::join(known, ", "), instead(found, known, help));
}

std::string complaint_in_words(const CLI::App& app, const CLI::ParseError& error) {
  const auto chosen = app.get_subcommands();
  const CLI::App& command = chosen.empty() ? app : *chosen.front();
  const std::string called =
      chosen.empty() ? app.get_name() : fmt::format("{} {}", app.get_name(), command.get_name());
  const std::string help = fmt::format("`{} --help`", called);
  const std::vector<std::string> left = app.remaining(true);
  const auto option = std::ranges::find_if(
      left, [](const std::string& word) { return word.size() > 1 && word.starts_with('-'); });
  if (option != left.end()) return unknown_option(command, help, *option);
  if (chosen.empty() && !left.empty()) return unknown_command(app, help, left.front());
  if (!left.empty())
    return fmt::format("found \"{}\", one word too many; {} lists its arguments", left.front(),
                       help);
  return fmt::format("{}; {} lists its arguments", error.what(), help);
}

}  // namespace

int answer(CLI::App& app, const CLI::ParseError& error) {
  if (error.get_exit_code() != 0) {
    tell(fmt::format("{}\n", complaint_in_words(app, error)));
    return input_wrong;
  }
  std::ostringstream asked, nothing;
  app.exit(error, asked, nothing);
  say(asked.str());
  return solved;
}

}  // namespace cw::cases
